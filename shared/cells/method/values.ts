/** The values that every method has: what to set, its hours, its error budget; its own come in between. */
import type { MethodContent } from "../../methods/methods.ts";
import type { Tonight } from "../../methods/tonight.ts";
import { errorDegrees } from "../../notation/angle.ts";
import { nightInterval } from "../../notation/night-clock.ts";
import { spreadText } from "../../notation/spread.ts";
import { type PathOf, type Value, valuesFor } from "../../notation/value.ts";
import { totalMinutes } from "../../sky/intervals.ts";
import { sentences, told } from "../../text/sentence.ts";
import type { EvaluatedMethod } from "./method.ts";

const words = sentences("value.method", {
	lessModel: "True bearing minus the model's magnetic declination.",
	lessTyped: "True bearing minus the plan's own declination.",
	time: "Time",
	bestTime: "Best time",
	asWritten: "As the plan says.",
	usual: "Usual for this method (common practice).",
	halfAfter: "The method's time plus half of how long it takes.",
	done: "Alignment done",
	doneOnArrival: "Alignment done, if begun on arrival",
	asPlaced: "As planned in the order of the evening.",
	afterArriving: "If you begin on arrival.",
	bestMoment: "The best moment of its window tonight.",
	anyTime: "any time it works",
	never: "never tonight",
	source: "From {name} ± {spread} ({origin})",
});

export const METHOD_VALUES = valuesFor<PathOf<MethodContent>>()("method", {
	tilt: {
		is: "angle",
		places: 2,
		label: "Tilt of the axis",
		how: "The latitude: the celestial pole, where the axis points, is at an altitude equal to it.",
		at: ["kind", ""],
	},
	bearing: {
		is: "bearing",
		label: "Bearing of the axis",
		how: "True north in the northern hemisphere, true south in the southern.",
		at: ["kind", ""],
	},
	"compass-bearing": {
		is: "magnetic",
		label: "Compass reading of the axis",
		how: "{how}",
		at: ["kind", "declination", "reads"],
	},
	time: { is: "time", exact: true, label: "{label}", how: "{how}", at: ["at"] },
	takes: {
		is: "duration",
		label: "Alignment takes",
		how: "{how}",
		at: ["takes", "at"],
	},
	done: {
		is: "time",
		label: "{label}",
		how: "{how}",
		at: ["takes", "at"],
	},
	window: {
		is: "text",
		label: "Works",
		how: "When it works while you are on site: what it points at is in view, bright enough and near enough.",
		at: ["kind", "at", ""],
	},
	"window-minutes": {
		is: "number",
		unit: "min",
		places: 0,
		label: "Works for",
		how: "Sum of its windows.",
		at: ["kind"],
	},
	"axis-bias-along": {
		is: "side",
		places: 2,
		plus: "too high",
		minus: "too low",
		label: "Axis if every step is exact, up or down",
		how: `What refraction and the rounding of numbers leave, along the meridian (the line from the pole through the
			zenith).`,
		at: ["kind", "uncertainty", ""],
	},
	"axis-bias-across": {
		is: "side",
		places: 2,
		plus: "to the right",
		minus: "to the left",
		label: "Axis if every step is exact, to the side",
		how: "What refraction and the rounding of numbers leave, to the side as you face the pole, measured on the sky.",
		at: ["kind", "uncertainty", ""],
	},
	"axis-error-along": {
		is: "spread",
		label: "Axis error along the meridian",
		how: "One standard deviation (two times in three it is less), from the sources below.",
		at: ["kind", "uncertainty", ""],
	},
	"axis-error-across": {
		is: "spread",
		label: "Axis error across the meridian",
		how: "One standard deviation, on the sky.",
		at: ["kind", "uncertainty", ""],
	},
	"axis-error-95": {
		is: "error",
		label: "Axis within (19 times in 20)",
		how: `Radius around the pole within which the axis lies 19 times in 20, if your ± are right (a two-dimensional
			normal distribution about the expected axis). Wind, focus and sag are not included.`,
		at: ["kind", "uncertainty", ""],
	},
	"axis-error-ellipse-major": {
		is: "error",
		label: "Error ellipse, semi-major axis",
		how: "One standard deviation.",
		at: ["uncertainty"],
	},
	"axis-error-ellipse-minor": {
		is: "error",
		label: "Error ellipse, semi-minor axis",
		how: "One standard deviation.",
		at: ["uncertainty"],
	},
	source: {
		is: "error",
		places: 1,
		label: "{label}",
		how: "{part} % of the variance: {along} along, {across} across the meridian.",
		at: ["uncertainty"],
	},
});

/** Values of a method: what to set, its marks, its hours, its error budget. */
export function methodValues(
	{ content, setUp, budget, method, takes, begins, done }: EvaluatedMethod,
	tonight: Tonight,
): readonly Value[] {
	const { at, windows } = setUp;
	const of = method.kind;
	const isTimed = content.at !== undefined;
	const isAnytime = at === undefined && windows.length > 0;
	const values = METHOD_VALUES;
	const window =
		windows.length === 0 ? told(words.never()) : windows.map((one) => nightInterval(tonight, one)).join(", ");
	return [
		values.tilt(setUp.tilt, { of }),
		values.bearing(setUp.bearing, { of }),
		values["compass-bearing"](setUp.compassBearing, {
			of,
			plusMinus: tonight.magnetic?.declinationSpread,
			fill: { how: content.declination === undefined ? words.lessModel() : words.lessTyped() },
		}),
		values.time(
			// A time of its own that a method takes only to say why it never works is not its best.
			{ night: tonight, at: isTimed || windows.length > 0 ? at : undefined },
			{
				of,
				otherwise: told(windows.length > 0 ? words.anyTime() : words.never()),
				fill: {
					label: isTimed ? words.time() : words.bestTime(),
					how: isTimed ? words.asWritten() : words.bestMoment(),
				},
			},
		),
		values.takes(takes, { of, fill: { how: content.takes === undefined ? words.usual() : words.asWritten() } }),
		values.done(
			{ night: tonight, at: isAnytime || windows.length > 0 || isTimed ? done : undefined },
			{
				of,
				fill: {
					label: isAnytime && begins === undefined ? words.doneOnArrival() : words.done(),
					how: !isAnytime ? words.halfAfter() : begins === undefined ? words.afterArriving() : words.asPlaced(),
				},
			},
		),
		values.window(window, { of, at: ["kind", "at", ...method.markKeys, ""] }),
		values["window-minutes"](totalMinutes(windows), { of }),
		...method.values(setUp, tonight),
		...(setUp.bias
			? [values["axis-bias-along"](budget.bias.along, { of }), values["axis-bias-across"](budget.bias.across, { of })]
			: []),
		values["axis-error-along"](budget.along, { of }),
		values["axis-error-across"](budget.across, { of }),
		values["axis-error-95"](budget.radius95, { of }),
		values["axis-error-ellipse-major"](budget.ellipse.major, { of }),
		values["axis-error-ellipse-minor"](budget.ellipse.minor, { of }),
		...budget.shares.filter(({ spread }) => spread !== 0).map(sourceValue),
	];
}

function sourceValue({
	name,
	spread,
	unit,
	origin,
	part,
	along,
	across,
	total,
}: EvaluatedMethod["budget"]["shares"][number]): Value {
	const at: readonly PathOf<MethodContent>[] = ["uncertainty", `uncertainty.${name}`];
	return METHOD_VALUES.source(total, {
		of: name,
		at,
		fill: {
			label: words.source({ name, spread: spreadText(spread, unit), origin }),
			part: Math.round(part * 100),
			along: errorDegrees(along, 3),
			across: errorDegrees(across, 3),
		},
	});
}
