/**
 * Rows of a PNG that is not interlaced, one after the other as they are unpacked: of a large one all its pixels at once are
 * three times its light. Filters as PNG has them (W3C, Portable Network Graphics, third edition, 9).
 */
import { Unzlib } from "fflate";

/** Bytes that are unpacked at once. */
const AT_ONCE = 32_768;

/** Calls `take` with each row's bytes, which are written over for the next. Whether there were as many as there should be. */
export function pngRows(
	packed: readonly Uint8Array[],
	{ length, height, pixel }: { readonly length: number; readonly height: number; readonly pixel: number },
	take: (row: Uint8Array, index: number) => void,
): boolean {
	let [row, before] = [new Uint8Array(length), new Uint8Array(length)];
	let [index, at, filter] = [0, -1, 0];
	const unpacker = new Unzlib((chunk) => {
		for (let from = 0; from < chunk.length && index < height; ) {
			if (at < 0) {
				filter = chunk[from++] as number;
				if (filter > 4) throw new Error("its rows are filtered in a way that PNG does not have");
				at = 0;
				continue;
			}
			const count = Math.min(length - at, chunk.length - from);
			row.set(chunk.subarray(from, from + count), at);
			at += count;
			from += count;
			if (at < length) continue;
			unfilter(filter, row, before, pixel);
			take(row, index++);
			[row, before] = [before, row];
			at = -1;
		}
	});
	for (const part of packed)
		for (let from = 0; from < part.length && index < height; from += AT_ONCE)
			unpacker.push(part.subarray(from, Math.min(part.length, from + AT_ONCE)));
	return index === height;
}

/** In place; `pixel`: bytes of one. */
function unfilter(filter: number, row: Uint8Array, before: Uint8Array, pixel: number): void {
	const { length } = row;
	if (filter === 1) for (let i = pixel; i < length; i++) row[i] = (row[i] as number) + (row[i - pixel] as number);
	else if (filter === 2) for (let i = 0; i < length; i++) row[i] = (row[i] as number) + (before[i] as number);
	else if (filter === 3)
		for (let i = 0; i < length; i++) {
			const left = i < pixel ? 0 : (row[i - pixel] as number);
			row[i] = (row[i] as number) + ((left + (before[i] as number)) >> 1);
		}
	else if (filter === 4)
		for (let i = 0; i < length; i++) {
			const left = i < pixel ? 0 : (row[i - pixel] as number);
			const corner = i < pixel ? 0 : (before[i - pixel] as number);
			row[i] = (row[i] as number) + likeliest(left, before[i] as number, corner);
		}
}

/** Paeth's predictor: whichever of left, above and the corner between is nearest to left + above − corner. */
function likeliest(left: number, above: number, corner: number): number {
	const a = Math.abs(above - corner);
	const b = Math.abs(left - corner);
	const c = Math.abs(left + above - 2 * corner);
	return a <= b && a <= c ? left : b <= c ? above : corner;
}
