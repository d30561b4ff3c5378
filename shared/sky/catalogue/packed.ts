/**
 * Whole numbers from the texts that generate-stars.mjs writes: of each what is above its low bits as so many ones and a
 * zero, then the low bits (Golomb's code with a power of two); six bits a digit.
 */

/** Numbers as they are written: the text, and with how many low bits. */
export interface Packed {
	readonly low: number;
	readonly text: string;
}

const DIGITS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";

/** The first so many numbers. */
export function unpacked({ low, text }: Packed, count: number): Float64Array {
	const digits = new Uint8Array(128);
	for (let i = 0; i < 64; i++) digits[DIGITS.charCodeAt(i)] = i;
	const values = new Float64Array(count);
	/** Bits that are read and not used yet, and how many. */
	let held = 0;
	let bits = 0;
	let at = 0;
	for (let i = 0; i < count; i++) {
		let above = 0;
		for (;;) {
			if (bits === 0) {
				held = digits[text.charCodeAt(at++)] as number;
				bits = 6;
			}
			bits--;
			if (((held >> bits) & 1) === 0) break;
			above++;
		}
		held &= (1 << bits) - 1;
		while (bits < low) {
			held = (held << 6) | (digits[text.charCodeAt(at++)] as number);
			bits += 6;
		}
		bits -= low;
		values[i] = above * 2 ** low + (held >> bits);
		held &= (1 << bits) - 1;
	}
	return values;
}

/** Each number is told as a step from the one before. */
export function summed(steps: Float64Array): Float64Array {
	for (let i = 1; i < steps.length; i++) steps[i] = (steps[i] as number) + (steps[i - 1] as number);
	return steps;
}

/** Numbers of either sign that are written as such of one. */
export const signed = (values: Float64Array): Float64Array =>
	values.map((value) => (value % 2 === 1 ? -(value + 1) / 2 : value / 2));
