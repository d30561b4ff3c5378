/** What follows from a method: its plan tonight, its budget, its figures. */
import { type Budget, budgetOf } from "../../alignment/budget.ts";
import type { MagneticField } from "../../earth/magnetism.ts";
import type { Method, MethodPlan, SightedLandmark, Tonight } from "../../methods/method.ts";
import { METHODS } from "../../methods/methods.ts";
import { clockFace } from "../../methods/pole-sighting/pole-sighting.ts";
import { turnText } from "../../notation/angle.ts";
import { totalMinutes } from "../../sky/intervals.ts";
import { turn } from "../../sky/vector.ts";
import type { MethodContent, TrackerContent } from "../kinds.ts";
import type { EvaluatedLens } from "../lens/lens.ts";
import { type EvaluatedNight, intervalText } from "../night/night.ts";
import type { EvaluatedSite } from "../site/site.ts";
import { angleValue, bearingValue, numberValue, textValue, timeValue, type Value } from "../value.ts";

export interface EvaluatedMethod {
	readonly content: MethodContent;
	readonly method: Method;
	readonly plan: MethodPlan;
	readonly budget: Budget;
	/** Whether it can work tonight as it is planned. */
	readonly works: boolean;
}

export const NO_TRACKER: TrackerContent = {};

/** What every method is reckoned from: the stand, its cover, the night, the tools. */
export function tonightOf(
	site: EvaluatedSite,
	night: EvaluatedNight,
	field: MagneticField | undefined,
	landmarks: readonly SightedLandmark[],
	tracker: TrackerContent,
	lens: EvaluatedLens | undefined,
): Tonight {
	return {
		spot: site.spot,
		cover: site.cover,
		night: night.sky,
		onSite: night.onSite,
		magnetic: field,
		landmarks,
		tracker,
		camera: lens?.camera,
		instant: night.instant,
	};
}

/** Undefined while the kind cannot be read. */
export function evaluateMethod(
	cell: MethodContent | undefined,
	tonight: Tonight | undefined,
): EvaluatedMethod | undefined {
	if (!cell?.kind || !tonight) return undefined;
	const method = METHODS[cell.kind];
	const plan = method.plan(cell, tonight);
	return {
		content: cell,
		method,
		plan,
		budget: budgetOf(plan.sources),
		works: plan.obstacles.length === 0 && plan.windows.length > 0,
	};
}

/** Figures of a method: what to set, its star, its hours, its error budget. */
export function methodValues(
	{ content: cell, plan, budget, method }: EvaluatedMethod,
	tonight: Tonight,
	zone: string,
): readonly Value[] {
	const { setUp, at, windows } = plan;
	const [mark, second] = setUp.marks ?? [];
	const mine = { of: method.kind };
	const markKeys = ["guide-star", "body", "landmark", "star", "stars", "stars.0", "first", "first.star", "at"];
	const named = mark?.name;
	const values: Value[] = [
		angleValue(
			{
				...mine,
				id: "method.tilt",
				label: "Tilt of the axis",
				how: "The latitude's size: the axis points at the celestial pole.",
				at: ["kind", ""],
			},
			setUp.tilt,
			2,
		),
		bearingValue(
			{
				...mine,
				id: "method.bearing",
				label: "Bearing of the axis",
				how: "True north in the northern hemisphere, true south in the southern.",
				at: ["kind", ""],
			},
			setUp.bearing,
		),
		bearingValue(
			{
				...mine,
				id: "method.compass-bearing",
				label: "Compass reading of the axis",
				how:
					cell.declination === undefined
						? "True bearing less the model's magnetic declination."
						: "True bearing less the declination typed.",
				plusMinus: tonight.magnetic?.declinationSpread,
				at: ["kind", "declination", "reads"],
			},
			setUp.compassBearing,
			"magnetic",
		),
		timeValue(
			{
				...mine,
				id: "method.time",
				label: cell.at === undefined ? "Best time" : "Time",
				how: cell.at === undefined ? "The best moment of its window tonight." : "As the plan says.",
				at: ["at"],
			},
			zone,
			at,
			"any time of the stay",
		),
	];
	const windowText =
		windows.length === 0 ? "never tonight" : windows.map((window) => intervalText(zone, window)).join(", ");
	values.push(
		textValue(
			{
				...mine,
				id: "method.window",
				label: "Works",
				how: "The times of the stay at which it works: what it points at in view, bright enough for the sky, near enough.",
				at: ["kind", "at", ...markKeys, ""],
			},
			windowText,
		),
	);
	values.push(
		numberValue(
			{
				...mine,
				id: "method.window-minutes",
				label: "Minutes in which it works",
				how: "Sum of its windows.",
				at: ["kind"],
			},
			totalMinutes(windows),
			"min",
			0,
		),
	);
	if (setUp.aim) {
		const aimKeys = ["offset", "guide-star", "kind", "reach"];
		values.push(
			angleValue(
				{
					...mine,
					id: "method.aim-altitude",
					label: "Altitude of the aim point",
					how: "180° − offset − latitude's size, on the equator's side: 90° − latitude's size for a square laser. Refraction is in the star's place, not in this.",
					at: aimKeys,
				},
				setUp.aim.altitude,
				2,
			),
			bearingValue(
				{ ...mine, id: "method.aim-bearing", label: "Bearing of the aim point", how: "On the meridian.", at: aimKeys },
				setUp.aim.azimuth,
			),
			bearingValue(
				{
					...mine,
					id: "method.aim-compass-bearing",
					label: "Compass reading of the aim point",
					how: "True bearing less magnetic declination.",
					at: aimKeys,
				},
				tonight.magnetic && turn(setUp.aim.azimuth - tonight.magnetic.declination),
				"magnetic",
			),
		);
	}
	if (mark && setUp.panOffset !== undefined) {
		values.push(
			angleValue(
				{
					id: "method.pan-offset",
					of: named,
					label: `Pan from ${mark.name} to the pole`,
					how: "Pole's bearing less the mark's, the short way; clockwise positive.",
					at: markKeys,
				},
				setUp.panOffset,
				1,
			),
			textValue(
				{ id: "method.pan-turn", of: named, label: "Turn the pan", how: "The same in words.", at: markKeys },
				turnText(setUp.panOffset),
			),
			numberValue(
				{
					id: "method.pan-offset-rate",
					of: named,
					label: "It changes by",
					how: "In one minute of clock.",
					at: markKeys,
				},
				setUp.panRate,
				"° a minute",
				2,
			),
		);
	}
	for (const one of [mark, second]) {
		if (!one) continue;
		values.push(
			angleValue(
				{
					id: "method.star-altitude",
					of: one.name,
					label: `${one.name}: altitude as seen`,
					how: "Apparent place of date, refraction included.",
					at: markKeys,
				},
				one.direction.altitude,
				2,
			),
			bearingValue(
				{
					id: "method.star-bearing",
					of: one.name,
					label: `${one.name}: bearing`,
					how: "Apparent place of date, true north.",
					at: markKeys,
				},
				one.direction.azimuth,
			),
		);
		if (one.magnitude !== undefined)
			values.push(
				numberValue(
					{
						id: "method.star-magnitude",
						of: one.name,
						label: `${one.name}: magnitude`,
						how: "V, from the catalogue.",
						at: markKeys,
					},
					one.magnitude,
					"",
					1,
				),
			);
	}
	if (setUp.miss && method.kind === "square-laser") {
		values.push(
			angleValue(
				{
					id: "method.star-miss",
					of: named,
					label: "It misses the aim point by",
					how: "Angle on the sky between the star, as seen, and the aim point.",
					at: markKeys,
				},
				setUp.miss.total,
				2,
			),
			angleValue(
				{
					id: "method.star-miss-right",
					of: named,
					label: "To the right of the aim point",
					how: "On the sky, as one faces it; left negative.",
					at: markKeys,
				},
				setUp.miss.right,
				2,
			),
			angleValue(
				{ id: "method.star-miss-up", of: named, label: "Above the aim point", how: "Below negative.", at: markKeys },
				setUp.miss.up,
				2,
			),
		);
	}
	if (setUp.miss && method.kind === "star-sweep")
		values.push(
			angleValue(
				{
					id: "method.star-miss",
					of: named,
					label: "The pointer should pass it at",
					how: "Polar distance as seen less the pointer's angle: positive outside the circle it sweeps.",
					at: markKeys,
				},
				setUp.miss.up,
				2,
			),
		);
	if (setUp.asAimed) {
		values.push(
			angleValue(
				{
					id: "method.axis-error-as-aimed-along",
					of: named,
					label: "Axis too high, if put on the star itself",
					how: "Along the meridian; too low negative.",
					at: markKeys,
				},
				setUp.asAimed.along,
				2,
			),
			angleValue(
				{
					id: "method.axis-error-as-aimed-across",
					of: named,
					label: "Axis clockwise of the pole, if put on the star itself",
					how: "Across the meridian, on the sky.",
					at: markKeys,
				},
				setUp.asAimed.across,
				2,
			),
		);
	}
	if (setUp.poleStar) {
		const { distance, clockUpright, clockInverted } = setUp.poleStar;
		values.push(
			numberValue(
				{
					id: "method.pole-star-distance",
					of: named,
					label: `${named} from the pole`,
					how: "Apparent place of date, refraction included.",
					at: ["star", "kind", "at"],
				},
				distance * 60,
				"′",
				1,
			),
			textValue(
				{
					id: "method.pole-star-clock",
					of: named,
					label: "Where it stands, upright",
					how: "As the hour hand of a clock face around the pole, as one faces it.",
					at: ["star", "kind", "at"],
				},
				clockFace(clockUpright),
			),
			textValue(
				{
					id: "method.pole-star-clock-inverted",
					of: named,
					label: "Where it stands, inverted",
					how: "Through a scope that turns the view by half a turn.",
					at: ["star", "kind", "at"],
				},
				clockFace(clockInverted),
			),
		);
	}
	if (setUp.spread !== undefined)
		values.push(
			angleValue(
				{
					...mine,
					id: "method.pair-spread",
					label: "Hour angle between the stars",
					how: "90° is best; the error grows as 1 / sin of it.",
					at: ["stars", "first", "second"],
				},
				setUp.spread,
				0,
			),
		);
	const budgetKeys = ["kind", "uncertainty", ""];
	values.push(
		spreadValue(
			{
				...mine,
				id: "method.axis-error-along",
				label: "Axis error along the meridian",
				how: "One standard deviation, from the sources below.",
				at: budgetKeys,
			},
			budget.along,
		),
		spreadValue(
			{
				...mine,
				id: "method.axis-error-across",
				label: "Axis error across the meridian",
				how: "One standard deviation, on the sky.",
				at: budgetKeys,
			},
			budget.across,
		),
		angleValue(
			{
				...mine,
				id: "method.axis-error-95",
				label: "Axis error, 95 %",
				how: "Radius about the pole that holds 95 % of a two-dimensional normal distribution with this budget.",
				at: budgetKeys,
			},
			budget.radius95,
			2,
		),
		angleValue(
			{
				...mine,
				id: "method.axis-error-ellipse-major",
				label: "Error ellipse, long half axis",
				how: "1-sigma ellipse.",
				at: ["uncertainty"],
			},
			budget.ellipse.major,
			2,
		),
		angleValue(
			{
				...mine,
				id: "method.axis-error-ellipse-minor",
				label: "Error ellipse, short half axis",
				how: "1-sigma ellipse.",
				at: ["uncertainty"],
			},
			budget.ellipse.minor,
			2,
		),
	);
	for (const share of budget.shares) {
		if (share.spread === 0) continue;
		const spread =
			share.unit === "°" ? `${share.spread.toFixed(share.spread < 0.1 ? 3 : 2)}°` : `${share.spread} ${share.unit}`;
		values.push(
			angleValue(
				{
					id: "method.source",
					of: share.name,
					label: `${share.name} ± ${spread} (${share.origin}) gives`,
					how: `${Math.round(share.part * 100)} % of the variance: ${share.along.toFixed(3)}° along, ${share.across.toFixed(3)}° across the meridian.`,
					at: ["uncertainty", `uncertainty.${share.name}`],
				},
				share.total,
				2,
			),
		);
	}
	return values;
}

function spreadValue(words: Parameters<typeof angleValue>[0], value: number): Value {
	const computed = angleValue(words, value, 2);
	return { ...computed, text: `± ${computed.text}` };
}
