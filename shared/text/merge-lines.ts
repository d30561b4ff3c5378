/** Two texts that came from one, line by line: what only one of them changed is taken, what both did is a conflict. */

/** What stands where both changed the same lines. */
export type Conflict = (ours: string, theirs: string) => string;

/** Lines with their line breaks. */
export const linesOf = (text: string): readonly string[] => text.match(/[^\n]*\n|[^\n]+$/g) ?? [];

/** More comparisons of lines than these are not made: the whole is then a conflict. */
const MOST = 4_000_000;

/** The merged text, with what `conflict` makes of the places that both changed in different ways. */
export function mergeLines(base: string, ours: string, theirs: string, conflict: Conflict): string {
	const [b, o, t] = [linesOf(base), linesOf(ours), linesOf(theirs)];
	const [inOurs, inTheirs] = [commonLines(b, o), commonLines(b, t)];
	if (!inOurs || !inTheirs) return conflict(ours, theirs);
	let out = "";
	let [fromB, fromO, fromT] = [0, 0, 0];
	const take = (untilB: number, untilO: number, untilT: number): void => {
		const [was, one, other] = [
			b.slice(fromB, untilB).join(""),
			o.slice(fromO, untilO).join(""),
			t.slice(fromT, untilT).join(""),
		];
		out += one === other || other === was ? one : one === was ? other : conflict(one, other);
	};
	for (let at = 0; at < b.length; at++) {
		const [one, other] = [inOurs[at], inTheirs[at]];
		// A line that all three have: what is before it is settled.
		if (one === undefined || other === undefined || one < fromO || other < fromT) continue;
		take(at, one, other);
		out += b[at];
		[fromB, fromO, fromT] = [at + 1, one + 1, other + 1];
	}
	take(b.length, o.length, t.length);
	return out;
}

/** For each line of one text its line in the other, by the longest common sequence; undefined when there are too many. */
function commonLines(one: readonly string[], other: readonly string[]): readonly (number | undefined)[] | undefined {
	if (one.length * other.length > MOST) return undefined;
	const width = other.length + 1;
	const longest = new Uint32Array((one.length + 1) * width);
	const at = (i: number, j: number): number => longest[i * width + j] as number;
	for (let i = one.length - 1; i >= 0; i--)
		for (let j = other.length - 1; j >= 0; j--)
			longest[i * width + j] = one[i] === other[j] ? at(i + 1, j + 1) + 1 : Math.max(at(i + 1, j), at(i, j + 1));
	const found: (number | undefined)[] = new Array(one.length).fill(undefined);
	for (let [i, j] = [0, 0]; i < one.length && j < other.length; ) {
		if (one[i] === other[j]) {
			found[i] = j;
			i++;
			j++;
		} else if (at(i + 1, j) >= at(i, j + 1)) i++;
		else j++;
	}
	return found;
}
