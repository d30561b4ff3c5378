/** What is the same thing in two lists: found by what it is, and not by its place. */

/** A thing of both lists, or of one of them. */
export type Pair<T> =
	| { readonly before: T; readonly after: T }
	| { readonly before: T; readonly after: undefined }
	| { readonly before: undefined; readonly after: T };

/**
 * Pairs by the first of the signs that both have in common, the surest sign first; of several with the same sign the
 * first goes with the first. In the order of the new list, and behind it what is gone.
 */
export function pairUp<T>(
	before: readonly T[],
	after: readonly T[],
	signs: readonly ((one: T) => string | undefined)[],
): readonly Pair<T>[] {
	const partners = new Map<number, number>();
	const taken = new Set<number>();
	for (const sign of signs) {
		const waiting = new Map<string, number[]>();
		for (const [place, one] of before.entries()) {
			const key = taken.has(place) ? undefined : sign(one);
			if (key === undefined) continue;
			const same = waiting.get(key);
			if (same) same.push(place);
			else waiting.set(key, [place]);
		}
		for (const [place, one] of after.entries()) {
			const key = partners.has(place) ? undefined : sign(one);
			const partner = key === undefined ? undefined : waiting.get(key)?.shift();
			if (partner === undefined) continue;
			partners.set(place, partner);
			taken.add(partner);
		}
	}
	return [
		...after.map((one, place): Pair<T> => {
			const partner = partners.get(place);
			return partner === undefined ? { before: undefined, after: one } : { before: before[partner] as T, after: one };
		}),
		...before.flatMap((one, place): Pair<T>[] => (taken.has(place) ? [] : [{ before: one, after: undefined }])),
	];
}

/** The names of what both lists have, in the order of each, where that is another one. */
export function reordered<T>(
	before: readonly T[],
	pairs: readonly Pair<T>[],
	nameOf: (one: T) => string,
): { readonly before: string; readonly after: string } | undefined {
	const kept = pairs.flatMap(({ before: was, after: is }) =>
		was !== undefined && is !== undefined ? [{ was, name: nameOf(is) }] : [],
	);
	const old = [...kept].sort((a, b) => before.indexOf(a.was) - before.indexOf(b.was));
	if (old.every((one, place) => one === kept[place])) return undefined;
	const listed = (all: typeof kept): string => all.map(({ name }) => name).join(", ");
	return { before: listed(old), after: listed(kept) };
}
