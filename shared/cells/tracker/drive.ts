/** What of a tracker moves the camera: a frame depends on this and on none of the tracker's scales. */
import type { PeriodicError } from "../../alignment/periodic-error.ts";
import type { TrackerContent } from "./keys.ts";

export interface Drive {
	/** Turns for one of the sky: 1 with the stars. */
	readonly rate: number;
	/** Degrees and seconds; undefined where none is known. */
	readonly periodicError: PeriodicError | undefined;
}

/** How fast a running tracker turns: 1 with the stars. */
export const rateOf = (tracker: TrackerContent | undefined): number => (tracker?.rate === "half" ? 0.5 : 1);

/** A drive from its parts; its periodic error is known when both its amplitude, degrees, and period, seconds, are. */
export const driveOf = (rate: number, amplitude: number | undefined, period: number | undefined): Drive => ({
	rate,
	periodicError: amplitude !== undefined && period !== undefined ? { amplitude, period } : undefined,
});
