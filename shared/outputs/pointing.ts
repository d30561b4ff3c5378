/** Where the middle of a frame looks, as it is set: true, by the compass, and above the horizon. */
import type { EvaluatedTarget } from "../cells/targets/target.ts";
import type { EpochMs } from "../earth/zone.ts";
import type { Evaluation } from "../evaluate/evaluate.ts";
import { degrees } from "../notation/angle.ts";
import { compassText, trueBearingText } from "../notation/bearing.ts";
import type { Direction } from "../sky/horizontal.ts";
import { sentences, told } from "../text/sentence.ts";

const words = sentences("output.pointing", {
	pointed: "{compass} ({bearing}), altitude {altitude}",
	pointedTrue: "{bearing}, altitude {altitude}",
	overhead: "{pointed} (near the zenith: aim by stars)",
});

/** Where the first frame of a target looks that begins at an instant: of a panorama, its first panel. */
export const firstDirection = ({ panorama, directionAt }: EvaluatedTarget, at: EpochMs): Direction =>
	panorama?.panels[0]?.direction ?? directionAt(at);

/** `205.3°T`, `201°M`, `20.0°`; the compass reading is empty where the declination is not known. */
export interface Pointing {
	readonly bearing: string;
	readonly compass: string;
	readonly altitude: string;
	/** Whether it is so near the zenith that a bearing hardly says where it is. */
	readonly overhead: boolean;
}

/** Degrees. At 80° a bearing that is 6° off is 1° on the sky; that stars serve better from there on is common practice, no source. */
const OVERHEAD = 80;

/** A direction as it is set, with the compass reading where the magnetic field is known. */
export const pointingOf = ({ azimuth, altitude }: Direction, { field }: Pick<Evaluation, "field">): Pointing => ({
	bearing: trueBearingText(azimuth),
	compass: field ? compassText(azimuth - field.declination) : "",
	altitude: degrees(altitude, 1),
	overhead: altitude > OVERHEAD,
});

/** The same in one line: the compass reading first, as hands turn to it. */
export function pointingText({ bearing, compass, altitude, overhead }: Pointing): string {
	const pointed =
		compass === "" ? words.pointedTrue({ bearing, altitude }) : words.pointed({ bearing, compass, altitude });
	return told(overhead ? words.overhead({ pointed }) : pointed);
}
