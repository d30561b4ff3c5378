/** A frame as small as a screen shows it, kept when the frame itself is let go of. */
import type { Picture } from "../frames/find-stars.ts";

export interface Thinned {
	/** Of the whole frame, pixels. */
	readonly width: number;
	readonly height: number;
	/** Of `levels`: from black to white, rows from the top. */
	readonly columns: number;
	readonly rows: number;
	readonly levels: Uint8Array;
}

const COLUMNS = 1000;

/** The brightest of each square of pixels, so that stars stay; stretched from black to a little over the sky. */
export function thinned({ width, height, light }: Picture): Thinned {
	const [columns, rows] = [COLUMNS, Math.round((height * COLUMNS) / width)];
	const most = new Uint16Array(columns * rows);
	for (let y = 0; y < height; y++) {
		const row = Math.min(rows - 1, Math.floor((y * rows) / height)) * columns;
		for (let x = 0; x < width; x++) {
			const at = row + Math.min(columns - 1, Math.floor((x * columns) / width));
			const value = light[y * width + x] as number;
			if (value > (most[at] as number)) most[at] = value;
		}
	}
	const sorted = most.slice().sort();
	const [low, high] = [sorted[Math.floor(sorted.length * 0.02)] ?? 0, sorted[Math.floor(sorted.length * 0.995)] ?? 1];
	const levels = Uint8Array.from(most, (one) =>
		Math.max(0, Math.min(255, (200 * (one - low)) / Math.max(1, high - low))),
	);
	return { width, height, columns, rows, levels };
}
