/** What follows from an aim at the Milky Way's arch: its feet and top over the night, and the panorama it needs. */
import type { EpochMs } from "../../earth/zone.ts";
import { lazily } from "../../memory/memory.ts";
import { type PanoramaGrid, panoramaFor } from "../../optics/panorama.ts";
import { type Arch, archAt, archTurn } from "../../sky/arch.ts";
import { both, type Interval } from "../../sky/intervals.ts";
import { whereTrue } from "../../sky/roots.ts";
import type { EvaluatedLens } from "../lens/lens.ts";
import type { EvaluatedSite } from "../site/site.ts";

/** Overlap of neighbours, share of a frame: common practice, no source. */
export const ARCH_OVERLAP = 0.3;
const STEP_MS = 600_000;
const HOUR_MS = 3_600_000;

/** Each computed when it is first asked for. */
export interface TargetArch {
	/** At the first frame. */
	readonly start: () => Arch;
	/** Degrees, from the first frame to the end of the last. */
	readonly turn: () => number;
	/** When it is whole and dark, while one is on site. */
	readonly whole: () => readonly Interval[];
	/** Every hour of the longest such stretch. */
	readonly hours: () => readonly { readonly at: EpochMs; readonly arch: Arch }[];
	/** The panorama it needs at the first frame; undefined without a lens, or where it takes too many frames. */
	readonly grid: (() => PanoramaGrid | undefined) | undefined;
}

/** `usable`: when its top is in view and the sky dark enough. */
export function archOf(
	{ spot, cover }: EvaluatedSite,
	lens: EvaluatedLens | undefined,
	portrait: boolean,
	series: Interval,
	usable: readonly Interval[],
	onSite: Interval,
): TargetArch {
	const start = lazily(() => archAt(spot, cover, series.from));
	const whole = lazily(() =>
		both(
			usable,
			whereTrue((at) => archAt(spot, cover, at).whole, onSite, STEP_MS),
		),
	);
	return {
		start,
		turn: lazily(() => archTurn(spot, series.from, series.until)),
		whole,
		hours: lazily(() =>
			whole().flatMap(({ from, until }) => {
				const first = Math.ceil(from / HOUR_MS) * HOUR_MS;
				return Array.from({ length: Math.max(0, Math.floor((until - first) / HOUR_MS) + 1) }, (_, i) => {
					const at = first + i * HOUR_MS;
					return { at, arch: archAt(spot, cover, at) };
				});
			}),
		),
		grid: lens && lazily(() => panoramaFor(start().band, lens.camera, portrait, ARCH_OVERLAP)),
	};
}
