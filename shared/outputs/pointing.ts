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
});

/** Where the first frame of a target looks that begins at an instant: of a panorama, its first panel. */
export const firstDirection = ({ panorama, directionAt }: EvaluatedTarget, at: EpochMs): Direction =>
	panorama?.panels[0]?.direction ?? directionAt(at);

/** `205.3°T`, `201°M`, `20.0°`; the compass reading is empty where the declination is not known. */
export interface Pointing {
	readonly bearing: string;
	readonly compass: string;
	readonly altitude: string;
}

/** A direction as it is set, with the compass reading where the magnetic field is known. */
export const pointingOf = ({ azimuth, altitude }: Direction, { field }: Pick<Evaluation, "field">): Pointing => ({
	bearing: trueBearingText(azimuth),
	compass: field ? compassText(azimuth - field.declination) : "",
	altitude: degrees(altitude, 1),
});

/** The same in one line: the compass reading first, as hands turn to it. */
export const pointingText = (pointing: Pointing): string =>
	told(pointing.compass === "" ? words.pointedTrue({ ...pointing }) : words.pointed({ ...pointing }));
