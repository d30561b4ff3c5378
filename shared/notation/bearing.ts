/** Bearings: `134`, `134°`, `134°T` are true, `134°M` is magnetic (navigators' notation), `SSE` is a compass point. */
import { readNumber } from "./quantity.ts";

export interface Bearing {
	/** Degrees from north through east, 0 ≤ degrees < 360. */
	readonly degrees: number;
	/** What north is meant. A compass point is true. */
	readonly north: "true" | "magnetic";
}

/** The 32 points, north through east, 11.25° apart. */
const POINTS =
	"N NbE NNE NEbN NE NEbE ENE EbN E EbS ESE SEbE SE SEbS SSE SbE S SbW SSW SWbS SW SWbW WSW WbS W WbN WNW NWbW NW NWbN NNW NbW".split(
		" ",
	);

const pointDegrees = new Map(POINTS.map((point, i) => [point.toUpperCase(), i * 11.25]));

/** Reads a bearing, or undefined when it is none. Numbers outside 0 … 360 are none. */
export function readBearing(text: string): Bearing | undefined {
	const trimmed = text.trim();
	const point = pointDegrees.get(trimmed.toUpperCase());
	if (point !== undefined) return { degrees: point, north: "true" };
	const number = readNumber(trimmed);
	if (!number || number.value < 0 || number.value > 360) return undefined;
	const suffix = /^\s?(?:°|deg)?\s?([TM]?)$/.exec(number.rest);
	if (!suffix) return undefined;
	return { degrees: number.value % 360, north: suffix[1] === "M" ? "magnetic" : "true" };
}

/** The nearest of the 16 main compass points, for example `SSE` for 158°. */
export function compassPoint(degrees: number): string {
	return POINTS[(Math.round((((degrees % 360) + 360) % 360) / 22.5) % 16) * 2] as string;
}
