/**
 * The steps as they are printed, carried out to the letter by a hand that makes no error, with plain vectors: the axis
 * ends where the plan says that it does. The hand knows the text, the sky and its head, and nothing of the project.
 */
import { describe, expect, test } from "vitest";
import type { EvaluatedMethod } from "../../shared/cells/method/method.ts";
import type { SweepSetUp } from "../../shared/methods/star-sweep/set-up.ts";
import { told } from "../../shared/text/sentence.ts";
import { evaluateText, planWith } from "../plan-text.ts";
import { angle, axisError, dir, later, pole, poleAzimuth, type V } from "./simulation.ts";

const LATITUDES = [-62, -40, -15, 12, 40, 62];

function evaluated(latitude: number, method: string, head = "geared"): EvaluatedMethod {
	const text = planWith({
		site: `name: A\nlatitude: ${latitude}\nlongitude: 20\nelevation: 100 m`,
		night: `date: 2027-03-08\narrive: "16:00"\nleave: "06:00"`,
		method,
		tracker: `head: ${head}`,
	});
	const value = evaluateText(text).methods[0]?.value;
	if (!value) throw new Error(text);
	return value;
}

const printed = ({ steps }: EvaluatedMethod): readonly string[] => steps().map(({ say }) => told(say));

const dot = (a: V, b: V) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const sum = (a: V, b: V, k: number): V => [a[0] + k * b[0], a[1] + k * b[1], a[2] + k * b[2]];
const unit = (a: V): V => sum([0, 0, 0], a, 1 / Math.hypot(...a));
const cross = (a: V, b: V): V => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
const R = Math.PI / 180;

/** The point of a circle about an axis that is nearest to a star. */
function nearest(axis: V, radius: number, star: V): V {
	const toward = unit(sum(star, axis, -dot(star, axis)));
	return sum(sum([0, 0, 0], axis, Math.cos(radius * R)), toward, Math.sin(radius * R));
}

/** A direction in words, as one faces a star: a vector on its sky. */
function facing(star: V, words: string): V {
	const right = unit(cross(star, [0, 0, 1]));
	const up = cross(right, star);
	const x = words.includes("right") ? 1 : words.includes("left") ? -1 : 0;
	const y = words.includes("above") ? 1 : words.includes("below") ? -1 : 0;
	return unit(sum(sum([0, 0, 0], right, x), up, y));
}

const PLACE =
	/must pass (?:straight over it|([\d.]+)° from it, on (the pole's side|the side away from the pole): ([a-z ]+) of [^,]+, as you face it)\./;
const TURN = /(raise|lower) the axis by ([\d.]+)° and pan it by ([\d.]+)° to the (right|left) as you face the pole/;

describe("star-sweep: the printed steps, from an axis that begins 3° off", () => {
	let worst = 0;
	let metBoth = 0;
	test.each(LATITUDES)("at latitude %d the axis ends where the budget expects it", (latitude) => {
		let carriedOut = 0;
		for (const [stars, offset] of [
			["[Mintaka, zeta Virginis]", 90],
			["[Procyon, zeta Virginis]", 87],
			["[Alphard, Mintaka]", 94],
		] as const) {
			const method = evaluated(
				latitude,
				`kind: star-sweep\nstars: ${stars}\nreach: 9°\noffset: ${offset}°\nat: "22:30"\npointer: ${offset === 90 ? "sight" : "laser"}`,
			);
			const { setUp, budget } = method;
			const { asAimed } = setUp as SweepSetUp;
			if (setUp.obstacles.length > 0) continue;
			carriedOut++;
			metBoth = Math.max(metBoth, Math.hypot(asAimed?.along ?? 0, asAimed?.across ?? 0));
			const steps = printed(method);
			const seen = setUp.marks.map(({ direction }) => dir(direction.azimuth, direction.altitude));
			const wanted = setUp.marks.map(({ name }) => {
				const step = steps.find((one) => one.includes(`${name} (`)) ?? "";
				return { step, place: PLACE.exec(step) };
			});
			const correct = steps.find((step) => step.includes("Correct both")) ?? "";
			const turns = setUp.marks.map(({ name }) => TURN.exec(correct.slice(correct.indexOf(`passed ${name}`))));
			// Tilt and pan of a head that stands level: bearing and altitude of the axis.
			let [bearing, tilt] = [poleAzimuth(latitude) + 2 / Math.cos(latitude * R), Math.abs(latitude) - 2];
			for (let round = 0; round < 6; round++) {
				const axis = dir(bearing, tilt);
				// By how much the pointer passes too near the pole; the second star a minute later.
				const tooNear = wanted.map(({ place, step }, i) => {
					if (!place) throw new Error(step);
					const star = later(latitude, seen[i] as V, 60 * (i + 3 * round));
					const passed = nearest(axis, offset, star);
					const distance = angle(passed, star);
					if (place[1] === undefined) {
						const poleward = dot(sum(passed, star, -1), sum(pole(latitude), star, -dot(star, pole(latitude))));
						return poleward > 0 ? distance : -distance;
					}
					// The words are for the minute they are printed for: they say which side, and need not be exact.
					const way = facing(seen[i] as V, place[3] as string);
					const here = nearest(axis, offset, seen[i] as V);
					const along = dot(sum(here, seen[i] as V, -1), way) >= 0 ? distance : -distance;
					return place[2] === "the pole's side" ? along - Number(place[1]) : Number(place[1]) - along;
				});
				tooNear.forEach((miss, i) => {
					const [, height, up, pan, side] = turns[i] as RegExpExecArray;
					tilt += miss * Number(up) * (height === "raise" ? 1 : -1);
					// Clockwise from above is to the right, whichever way one faces.
					bearing += miss * Number(pan) * (side === "right" ? 1 : -1);
				});
			}
			const [along, across] = axisError(latitude, dir(bearing, tilt));
			const off = Math.hypot(along - budget.bias.along, across - budget.bias.across);
			worst = Math.max(worst, off);
			expect(off).toBeLessThan(0.01);
			expect(Math.hypot(along, across)).toBeLessThan(0.15);
		}
		expect(carriedOut).toBeGreaterThanOrEqual(2);
	});
	test("the worst of them", () => {
		console.log(`sweep: worst ${worst.toFixed(4)}° from the expected axis; put on the stars: ${metBoth.toFixed(1)}°`);
		expect(metBoth).toBeGreaterThan(1);
	});
});

const PUT = /put the (?:beam|mark of the sight) ([^,]+), as you face the star/;

/** Degrees right and up of a star, from words such as `0.30° to the left and 0.80° below Spica`. */
function placeIn(text: string): [right: number, up: number] {
	const sideways = /([\d.]+)° to the (left|right)/.exec(text);
	const upright = /([\d.]+)° (above|below)/.exec(text);
	return [
		sideways ? Number(sideways[1]) * (sideways[2] === "right" ? 1 : -1) : 0,
		upright ? Number(upright[1]) * (upright[2] === "above" ? 1 : -1) : 0,
	];
}

/** The point so many degrees right and up of another, as one faces it. */
function besideStar(star: V, right: number, up: number): V {
	const toRight = unit(cross(star, [0, 0, 1]));
	const above = cross(toRight, star);
	const size = Math.hypot(right, up);
	if (size === 0) return star;
	const way = unit(sum(sum([0, 0, 0], toRight, right), above, up));
	return sum(sum([0, 0, 0], star, Math.cos(size * R)), way, Math.sin(size * R));
}

/** Tilt and bearing of a level head whose pointer, in the axis's vertical plane and square to it, points somewhere. */
function axisWithPointerAt(point: V, offset: number): V {
	// Up from the axis over the zenith: the pointer's own vertical plane holds the axis.
	const away = unit([point[0], point[1], 0]);
	const altitude = Math.asin(point[2]) / R;
	const tilt = 180 - offset - altitude;
	return [-away[0] * Math.cos(tilt * R), -away[1] * Math.cos(tilt * R), Math.sin(tilt * R)];
}

describe("square-laser: the printed steps, with a laser and with a sight, on a geared and on a ball head", () => {
	let [worst, onStar] = [0, 0];
	test.each(LATITUDES)("at latitude %d the axis ends where the budget expects it", (latitude) => {
		let carriedOut = 0;
		for (const star of ["eta Virginis", "zeta Virginis", "Mintaka", "Alphard", "HIP 61941", "gamma Leonis"]) {
			for (const [pointer, head] of [
				["laser", "geared"],
				["sight", "ball"],
			] as const) {
				const method = evaluated(
					latitude,
					`kind: square-laser\nguide-star: ${star}\nreach: 10°\npointer: ${pointer}`,
					head,
				);
				const { setUp, budget } = method;
				const [mark] = setUp.marks;
				if (setUp.obstacles.some(({ type }) => type !== "low-latitude") || !mark) continue;
				carriedOut++;
				const steps = printed(method);
				const put = steps.map((step) => PUT.exec(step)).find((found) => found !== null);
				if (!put) throw new Error(steps.join("\n"));
				const seen = dir(mark.direction.azimuth, mark.direction.altitude);
				const axis = axisWithPointerAt(besideStar(seen, ...placeIn(put[1] as string)), 90);
				const [along, across] = axisError(latitude, axis);
				worst = Math.max(worst, Math.hypot(along - budget.bias.along, across - budget.bias.across));
				onStar = Math.max(onStar, angle(axisWithPointerAt(seen, 90), pole(latitude)));
				expect(Math.hypot(along - budget.bias.along, across - budget.bias.across)).toBeLessThan(1e-6);
				expect(Math.hypot(along, across)).toBeLessThan(0.08);
				expect(steps.some((step) => step.includes("tilt and pan"))).toBe(head === "geared");
				expect(steps.some((step) => step.includes("aircraft"))).toBe(pointer === "laser");
			}
		}
		expect(carriedOut).toBeGreaterThanOrEqual(4);
	});
	test("the worst of them", () => {
		console.log(
			`beam: worst ${worst.toExponential(1)}° from the expected axis; put on the stars: ${onStar.toFixed(1)}°`,
		);
		expect(onStar).toBeGreaterThan(1);
	});
});

describe("pole-sighting: the printed steps", () => {
	test.each(LATITUDES)("at latitude %d the axis ends on the pole as it is seen", (latitude) => {
		const method = evaluated(latitude, "kind: pole-sighting");
		// Bennett's formula for the pole's altitude as seen, by its own fixed point: R = cot(h + 7.31 / (h + 4.4)) arcminutes.
		const phi = Math.abs(latitude);
		let seen = phi;
		for (let i = 0; i < 20; i++) seen = phi + 1 / Math.tan((seen + 7.31 / (seen + 4.4)) * R) / 60;
		const air = 1013.25 * (1 - 0.0065 * (100 / 288.15)) ** 5.255;
		const lift = (seen - phi) * (air / 1010);
		expect(Math.abs(method.budget.bias.along - lift) * 60).toBeLessThan(0.1);
		expect(method.budget.bias.across).toBe(0);
	});
});
