/**
 * What was read before in place of what was read now, as far as both say the same: whoever remembers by identity then
 * sees at once what has changed. Plain values only: texts, numbers, lists, and objects without a class.
 */
export function sharedWith<T>(before: unknown, now: T): T {
	if (Object.is(before, now)) return now;
	if (Array.isArray(now)) return Array.isArray(before) ? sharedList(before, now) : now;
	return isPlain(now) && isPlain(before) ? sharedObject(before, now) : now;
}

function sharedList<T extends readonly unknown[]>(before: readonly unknown[], now: T): T {
	const shared = now.map((one, i) => sharedWith(before[i], one));
	const same = before.length === now.length && shared.every((one, i) => Object.is(one, before[i]));
	return (same ? before : shared) as unknown as T;
}

function sharedObject<T extends Plain>(before: Plain, now: T): T {
	const keys = Object.keys(now);
	const shared = Object.fromEntries(keys.map((key) => [key, sharedWith(own(before, key), now[key])]));
	// Nothing may tell the one from the other: the order of the keys counts too.
	const old = Object.keys(before);
	const same =
		old.length === keys.length && keys.every((key, i) => key === old[i] && Object.is(shared[key], before[key]));
	return (same ? before : shared) as T;
}

type Plain = Readonly<Record<string, unknown>>;
const own = (object: Plain, key: string): unknown => (Object.hasOwn(object, key) ? object[key] : undefined);
const isPlain = (value: unknown): value is Plain =>
	typeof value === "object" && value !== null && Object.getPrototypeOf(value) === Object.prototype;
