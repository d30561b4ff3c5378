/**
 * LZW as TIFF packs it (TIFF 6.0, section 13): codes of 9 to 12 bits, the high bit first, widened one code early. Ours,
 * because it stops at the block's size: the one of `geotiff` lets damaged bytes grow until the process ends.
 */

const CLEAR = 256;
const END = 257;
const FIRST = 258;
const WIDEST = 12;

/** The bytes of a packed block, `most` of them; throws where a code means nothing. */
export function unpackLzw(packed: Uint8Array, most: number): Uint8Array {
	const bytes = new Uint8Array(most);
	const before = new Uint16Array(1 << WIDEST);
	const last = new Uint8Array(1 << WIDEST);
	const lengths = new Uint16Array(1 << WIDEST).fill(1);
	for (let i = 0; i < CLEAR; i++) last[i] = i;
	let [at, width, next, previous] = [0, 9, FIRST, -1];
	for (let bit = 0; bit + width <= 8 * packed.length && at < most; ) {
		const code = codeAt(packed, bit, width);
		bit += width;
		if (code === END) break;
		if (code === CLEAR) {
			[width, next, previous] = [9, FIRST, -1];
			continue;
		}
		if (code > next || (code === next && previous < 0) || (previous < 0 && code >= CLEAR))
			throw new Error("a block of it is damaged");
		if (previous >= 0 && next < 1 << WIDEST) {
			before[next] = previous;
			lengths[next] = (lengths[previous] as number) + 1;
			last[next] = firstOf(code === next ? previous : code);
			next++;
			if (next === (1 << width) - 1 && width < WIDEST) width++;
		}
		at = write(code, at);
		previous = code;
	}
	return bytes;

	/** The first byte that a code stands for. */
	function firstOf(code: number): number {
		let one = code;
		while (one >= FIRST) one = before[one] as number;
		return one;
	}

	/** Writes what a code stands for, from its last byte on; gives where the next one goes. */
	function write(code: number, from: number): number {
		const until = from + (lengths[code] as number);
		for (let [one, i] = [code, until - 1]; i >= from; i--) {
			if (i < most) bytes[i] = last[one] as number;
			one = before[one] as number;
		}
		return until;
	}
}

function codeAt(packed: Uint8Array, bit: number, width: number): number {
	const at = bit >> 3;
	const three = ((packed[at] as number) << 16) | ((packed[at + 1] ?? 0) << 8) | (packed[at + 2] ?? 0);
	return (three >> (24 - (bit & 7) - width)) & ((1 << width) - 1);
}
