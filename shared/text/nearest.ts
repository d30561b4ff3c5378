/**
 * The known word nearest to a mistyped one, or undefined when none is near enough to be meant.
 *
 * Optimal-string-alignment distance (insertions, deletions, substitutions, swaps of neighbours), at most a third of
 * the word's length and at least one. Words over 64 characters are not compared.
 */
export function nearestWord(word: string, known: Iterable<string>): string | undefined {
	if (word.length > 64) return undefined;
	const wanted = word.toLowerCase();
	let best: string | undefined;
	let bestDistance = Math.max(1, Math.floor(Math.max(wanted.length, 3) / 3)) + 1;
	for (const candidate of known) {
		const lower = candidate.toLowerCase();
		if (Math.abs(lower.length - wanted.length) >= bestDistance && !isAbbreviation(wanted, lower)) continue;
		const distance = isAbbreviation(wanted, lower) ? 1 : editDistance(wanted, lower);
		if (distance < bestDistance) {
			bestDistance = distance;
			best = candidate;
		}
	}
	return best;
}

/** `focal` is meant for `focal-length`, `lat` for `latitude`. */
function isAbbreviation(word: string, known: string): boolean {
	return word.length >= 3 && known.startsWith(word);
}

function editDistance(a: string, b: string): number {
	let beforeLast: number[] = [];
	let last = Array.from({ length: b.length + 1 }, (_, j) => j);
	for (let i = 1; i <= a.length; i++) {
		const row = [i];
		for (let j = 1; j <= b.length; j++) {
			const substitution = (last[j - 1] as number) + (a[i - 1] === b[j - 1] ? 0 : 1);
			let cost = Math.min(substitution, (last[j] as number) + 1, (row[j - 1] as number) + 1);
			if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) {
				cost = Math.min(cost, (beforeLast[j - 2] as number) + 1);
			}
			row.push(cost);
		}
		beforeLast = last;
		last = row;
	}
	return last[b.length] as number;
}
