/** Values of the marks that methods point at, and of a turn of the pan from one: the same for every method that has them. */
import { type Value, valuesFor } from "../notation/value.ts";
import type { Mark } from "./method.ts";

/** Values of marks, shown at the paths of a method that name them: of several marks, and each by its name. */
export function markValues<P extends string>(at: readonly P[]) {
	const values = valuesFor<P>()("method", {
		"star-altitude": {
			is: "angle",
			places: 2,
			label: "{mark}: altitude as seen",
			how: "Apparent place of date, refraction included.",
			at,
		},
		"star-bearing": {
			is: "bearing",
			label: "{mark}: bearing",
			how: "Apparent place of date, true north.",
			at,
		},
		"star-magnitude": {
			is: "number",
			unit: "",
			label: "{mark}: magnitude",
			how: "V, from the catalogue.",
			at,
		},
	});
	const of = (marks: readonly Mark[]): readonly Value[] =>
		marks.flatMap(({ name, direction, magnitude }) => {
			const more = { of: name, fill: { mark: name } };
			return [
				values["star-altitude"](direction.altitude, more),
				values["star-bearing"](direction.azimuth, more),
				...(magnitude === undefined ? [] : [values["star-magnitude"](magnitude, more)]),
			];
		});
	return { ...values, of };
}
