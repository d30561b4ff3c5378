/**
 * Whether a path (`/` between its parts) is one that a pattern names, or lies in a folder that it names: `*` is any part
 * of a name, `**` any folders. In time that grows with the product of both lengths, whatever the pattern is.
 */
export function matchesPath(pattern: string, path: string): boolean {
	if (pattern.length > LONGEST) return false;
	const wanted = pattern
		.split("/")
		.filter((part, i, all) => part !== "" && part !== "." && !(part === "**" && all[i - 1] === "**"));
	const parts = path.split("/");
	if (wanted.length === 0) return false;
	/** How many of the wanted parts are met by the parts so far, in every way they can be. */
	let met = new Set(afterFolders(wanted, 0));
	for (const part of parts) {
		const next = new Set<number>();
		for (const count of met) {
			const one = wanted[count];
			if (one === "**" && count === wanted.length - 1) return true;
			if (one === "**") for (const at of afterFolders(wanted, count)) next.add(at);
			else if (one !== undefined && matchesName(one, part))
				for (const at of afterFolders(wanted, count + 1)) next.add(at);
		}
		// All of it is met: what is below is in a folder that it names.
		if (next.has(wanted.length)) return true;
		met = next;
	}
	return false;
}

/** Longer ones name nothing. */
const LONGEST = 1000;

/** A place among the wanted parts, and those that `**` may be passed over to. */
function afterFolders(wanted: readonly string[], from: number): readonly number[] {
	const places = [from];
	for (let at = from; wanted[at] === "**" && at < wanted.length - 1; at++) places.push(at + 1);
	return places;
}

/** Whether a name is like another with `*` for any of its parts: the pieces between are looked for one after the other. */
function matchesName(wanted: string, name: string): boolean {
	const pieces = wanted.split("*");
	const [first = "", ...others] = pieces;
	const last = others.pop();
	if (last === undefined) return wanted === name;
	if (!name.startsWith(first) || !name.endsWith(last) || name.length < first.length + last.length) return false;
	let at = first.length;
	const end = name.length - last.length;
	for (const piece of others) {
		const found = name.indexOf(piece, at);
		if (found < 0 || found + piece.length > end) return false;
		at = found + piece.length;
	}
	return true;
}
