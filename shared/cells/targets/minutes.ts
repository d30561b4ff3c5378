/** Where a target is seen, by the minute around its first frame: for framing it when one is late. */
import type { MagneticField } from "../../earth/magnetism.ts";
import { type PathOf, valuesFor } from "../../notation/value.ts";
import { turn } from "../../sky/vector.ts";
import { type MinuteRow, minuteTable } from "../minute-table.ts";
import type { TargetEntry } from "./keys.ts";
import type { EvaluatedTarget } from "./target.ts";

export const TARGET_MINUTES = valuesFor<PathOf<readonly TargetEntry[]>>()("target", {
	azimuth: { is: "bearing", label: "Bearing", how: "True, at that minute.", at: [] },
	"compass-bearing": {
		is: "magnetic",
		label: "Compass reading",
		how: "True bearing minus the magnetic declination.",
		at: [],
	},
	altitude: { is: "angle", label: "Altitude as seen", how: "At that minute, with refraction.", at: [] },
});

/** None for a fixed direction, which does not change, nor for the arch, whose hours are a value of its own. */
export function targetMinutes(
	{ body, directionAt, series, usable, inView, name: of }: EvaluatedTarget,
	field: MagneticField | undefined,
	zone: string,
): readonly MinuteRow[] {
	if (!body || body.type === "arch") return [];
	const values = TARGET_MINUTES;
	const windows = usable.length > 0 ? usable : inView;
	return minuteTable(windows, series.from, zone, (at) => {
		const { azimuth, altitude } = directionAt(at);
		return [
			values.azimuth(azimuth, { of }),
			...(field ? [values["compass-bearing"](turn(azimuth - field.declination), { of })] : []),
			values.altitude(altitude, { of }),
		];
	});
}
