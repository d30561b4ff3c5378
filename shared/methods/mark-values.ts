/** Values of the marks that methods point at, and of a turn of the pan from one: the same for every method that has them. */
import { type Value, valuesFor } from "../notation/value.ts";
import { sentences, told } from "../text/sentence.ts";
import type { Mark } from "./method.ts";

const words = sentences("value.mark", {
	seen: "Apparent place of date, refraction included.",
	line: "From its height and distance, Earth's curvature and terrestrial refraction (k = 0.13) included.",
	geodesic: "Geodesic on WGS 84 from the site's coordinates to the landmark's.",
	measured: "As measured from the site.",
	sun: "the Sun",
	moon: "the Moon",
});

/** A mark's name in a sentence. */
export const spoken = (mark: string): string =>
	mark === "Sun" ? told(words.sun()) : mark === "Moon" ? told(words.moon()) : mark;

/** Values of marks, shown at the paths of a method that name them: of several marks, and each by its name. */
export function markValues<P extends string>(at: readonly P[]) {
	const values = valuesFor<P>()("method", {
		"star-altitude": {
			is: "angle",
			places: 2,
			label: "{mark}: altitude as seen",
			how: "{how}",
			at,
		},
		"star-bearing": {
			is: "bearing",
			label: "{mark}: bearing",
			how: "{how}",
			at,
		},
		"star-magnitude": {
			is: "number",
			unit: "",
			label: "{mark}: magnitude",
			how: "V, from the catalogue.",
			at,
		},
		"star-magnitude-seen": {
			is: "number",
			unit: "",
			label: "{mark}: magnitude as seen",
			how: `V and the site's extinction times the air mass at its altitude (Kasten & Young 1989); overhead it is one air
				mass.`,
			at,
		},
	});
	const of = (marks: readonly Mark[]): readonly Value[] =>
		marks.flatMap(({ name, direction, magnitude, seenMagnitude, landmark }) => {
			const more = { of: name, fill: { mark: name } };
			const [height, bearing] = !landmark
				? [words.seen(), words.seen()]
				: landmark.located
					? [words.line(), words.geodesic()]
					: [words.measured(), words.measured()];
			return [
				values["star-altitude"](direction.altitude, { of: name, fill: { mark: name, how: height } }),
				values["star-bearing"](direction.azimuth, { of: name, fill: { mark: name, how: bearing } }),
				...(magnitude === undefined ? [] : [values["star-magnitude"](magnitude, more)]),
				...(seenMagnitude === undefined ? [] : [values["star-magnitude-seen"](seenMagnitude, more)]),
			];
		});
	return { ...values, of };
}
