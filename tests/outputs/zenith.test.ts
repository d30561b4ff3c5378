/** The strip near the zenith, where a short way on the sky is a long one across: compared with the sky itself. */
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { check } from "../../shared/findings/check.ts";
import { celestialEquator } from "../../shared/outputs/page/real-sky.ts";
import {
	areaAt,
	linesAt,
	openPath,
	type PanoramaFrame,
	seenAll,
	xOf,
	yOf,
} from "../../shared/outputs/page/sky-paths.ts";
import { pageView } from "../../shared/outputs/page/view.ts";
import { toDirection, toVector } from "../../shared/sky/horizontal.ts";
import { cross, dot, plus, times, type Vector } from "../../shared/sky/vector.ts";
import { evaluateText } from "../plan-text.ts";

function panoramaOf(sample: string) {
	const evaluation = evaluateText(readFileSync(new URL(`../../samples/${sample}.lode.yaml`, import.meta.url), "utf8"));
	const { panorama } = pageView(evaluation, check(evaluation));
	if (!panorama) throw new Error(sample);
	return panorama;
}

type Place = readonly [number, number];

/** The closed parts of a path of straight lines. */
const partsOf = (path: string): readonly (readonly Place[])[] =>
	path
		.split("M")
		.filter((part) => part !== "")
		.map((part) =>
			part
				.replace("Z", "")
				.split("L")
				.map((one) => one.split(" ").map(Number) as unknown as Place),
		);

/** How often a path goes round a place: what is drawn by the rule of non-zero windings. */
const windings = (parts: readonly (readonly Place[])[], [x, y]: Place): number =>
	parts.reduce((sum, part) => {
		let turns = sum;
		part.forEach(([x1, y1], i) => {
			const [x0, y0] = part.at(i - 1) ?? [0, 0];
			const isLeft = (x1 - x0) * (y - y0) - (x - x0) * (y1 - y0);
			if (y0 <= y && y1 > y && isLeft > 0) turns++;
			if (y0 > y && y1 <= y && isLeft < 0) turns--;
		});
		return turns;
	}, 0);

/** Whether a direction is within four corners on the sphere, of which none is farther than a right angle. */
const isWithin = (corners: readonly Vector[], place: Vector): boolean => {
	const sides = corners.map((corner, i) => dot(cross(corner, corners[(i + 1) % 4] as Vector), place));
	return dot(corners[0] as Vector, place) > 0 && (sides.every((side) => side >= 0) || sides.every((side) => side <= 0));
};

const directionOf = (frame: PanoramaFrame, x: number, y: number): Vector =>
	toVector({
		azimuth: frame.centre + (x - frame.width / 2) / frame.scale,
		altitude: (frame.horizon - y) / frame.scale,
	});

/** A place and those about it, pixels. */
const AROUND = [-3, -1.5, 0, 1.5, 3].flatMap((dy) => [0, -3, -1.5, 1.5, 3].map((dx): Place => [dx, dy]));

describe("the strip near the zenith", () => {
	test.each([
		["larch-clearing", 0],
		["lone-arch", 0],
		["roofless-chapel", 4],
	])("%s, %d h on: the Milky Way is drawn where the sky has it, up to the zenith", (sample, hours) => {
		const { frame, milkyWay, at } = panoramaOf(sample);
		const clock = at + hours * 3_600_000;
		const wrong: string[] = [];
		let inside = 0;
		for (const area of milkyWay) {
			const seen = seenAll(area.ends, frame, clock);
			const vectors = Array.from({ length: seen.length / 2 }, (_, i) =>
				toVector({ azimuth: seen[2 * i] ?? 0, altitude: seen[2 * i + 1] ?? 0 }),
			);
			const quarters = Array.from({ length: area.links.length / 2 }, (_, i) => {
				const [one, other] = [2 * (area.links[2 * i] ?? 0), 2 * (area.links[2 * i + 1] ?? 0)];
				return [one, other, other + 1, one + 1].map((k) => vectors[k] as Vector);
			}).filter((corners) => corners.some(([, , up]) => up > 0.5));
			const parts = partsOf(areaAt(frame, area, clock));
			for (let y = 0.53; y < 140; y += 5.9)
				for (let x = 0.7; x < frame.width; x += 23.3) {
					// Near a side it may be drawn or not: by so much of a pixel a bend is cut short.
					const isIn = ([dx, dy]: Place): boolean =>
						quarters.some((corners) => isWithin(corners, directionOf(frame, x + dx, y + dy)));
					const around = AROUND.filter(([, dy]) => y + dy > 0).map(isIn);
					if (new Set(around).size > 1) continue;
					const isThere = around.every(Boolean);
					if (isThere) inside++;
					if (isThere !== (windings(parts, [x, y]) !== 0)) wrong.push(`${x.toFixed(1)},${y.toFixed(1)} ${isThere}`);
				}
		}
		expect(inside).toBeGreaterThan(100);
		expect(wrong).toEqual([]);
	});

	test("a line over it is drawn along the great circle, whole; so is the celestial equator near the Earth's", () => {
		const { frame, figures, at } = panoramaOf("larch-clearing");
		const lines = [
			...figures.map((line) => ({ path: linesAt(frame, [line], at), seen: seenAll(line, frame, at) })),
			...[0.5, 12, -40].map((latitude) => {
				const equator = celestialEquator(latitude);
				return {
					path: openPath(frame, equator),
					seen: equator.flatMap(({ azimuth, altitude }) => [azimuth, altitude]),
				};
			}),
		];
		let high = 0;
		for (const { path, seen } of lines) {
			const parts = partsOf(path);
			for (let i = 2; i < seen.length; i += 2) {
				const [before, after] = [i - 2, i].map((k) => ({ azimuth: seen[k] ?? 0, altitude: seen[k + 1] ?? 0 }));
				if (!before || !after || Math.min(before.altitude, after.altitude) < 55) continue;
				const [from, to] = [toVector(before), toVector(after)];
				for (const share of [0.2, 0.5, 0.8]) {
					const { azimuth, altitude } = toDirection(plus(times(from, 1 - share), times(to, share)));
					if (altitude > 89) continue;
					high++;
					const place: Place = [xOf(frame, azimuth), yOf(frame, altitude)];
					expect(
						Math.min(...parts.flatMap((part) => part.slice(1).map((end, k) => away(place, part[k] ?? end, end)))),
					).toBeLessThan(2);
				}
			}
		}
		expect(high).toBeGreaterThan(60);
	});
});

/** Pixels from a place to a line. */
function away([x, y]: Place, [x0, y0]: Place, [x1, y1]: Place): number {
	const [dx, dy] = [x1 - x0, y1 - y0];
	const along = Math.min(1, Math.max(0, ((x - x0) * dx + (y - y0) * dy) / (dx * dx + dy * dy || 1)));
	return Math.hypot(x - x0 - along * dx, y - y0 - along * dy);
}
