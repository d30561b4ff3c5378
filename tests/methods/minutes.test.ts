/** Times of methods: whole minutes, valid when the method chooses them, and the ones that numbers are computed for. */
import { describe, expect, test } from "vitest";
import type { MinuteRow } from "../../shared/cells/minute-table.ts";
import { clockOf, exactClock, minuteOf } from "../../shared/earth/zone.ts";
import type { Evaluation } from "../../shared/evaluate/evaluate.ts";
import { minuteRowsOf } from "../../shared/outputs/minutes.ts";
import { toldSteps } from "../../shared/outputs/steps.ts";
import { checkText, codesOf, evaluateText, planWith, valuesOf } from "../plan-text.ts";

const MINUTE_MS = 60_000;

const planAt = (
	latitude: number,
	date: string,
	method: string,
	night = 'arrive: "16:40"\nleave: "06:10"',
	site = "skyline: [[0, 4], [90, 6], [180, 3], [270, 8]]",
): string =>
	planWith({
		site: `name: A\nlatitude: ${latitude}\nlongitude: 20.3\nelevation: 300 m\ntimezone: UTC\n${site}\nlandmarks: [{ name: mast, bearing: 130° }]`,
		night: `date: ${date}\n${night}`,
		method,
		tracker: "head: geared",
	});

const first = ({ methods }: Evaluation) => {
	const value = methods[0]?.value;
	if (!value) throw new Error("no method");
	return value;
};

const LATITUDES = [-62, -45, -33.4, -12, 8, 28, 51, 63];
const DATES = ["2027-01-14", "2027-03-08", "2027-04-27", "2027-06-05", "2027-08-19", "2027-10-30", "2028-12-11"];
const KINDS = [
	"kind: pole-sighting",
	"kind: square-laser\nguide-star: Mintaka\nlocal-rules-checked: true",
	"kind: square-laser\nguide-star: eta Virginis\nlocal-rules-checked: true\nreach: 2.5°",
	"kind: sky-bearing\nbody: Jupiter",
	"kind: sky-bearing\nbody: Sirius",
	"kind: sky-bearing\nbody: moon",
	"kind: star-sweep\nstars: [Mintaka, zeta Virginis]\nreach: 2°\nlocal-rules-checked: true",
	"kind: landmark-bearing\nlandmark: mast",
	"kind: compass",
	"kind: phone",
];

describe.each(KINDS)("%s", (kind) => {
	test("its own time is a minute at which it works, and so are the ends of its windows, typed", () => {
		let works = 0;
		for (const latitude of LATITUDES)
			for (const date of DATES) {
				const text = planAt(latitude, date, kind);
				const { setUp, works: own } = first(evaluateText(text));
				for (const at of [setUp.at ?? 0, ...setUp.windows.flatMap(({ from, until }) => [from, until])])
					expect(at % MINUTE_MS, `${latitude} ${date}`).toBe(0);
				if (setUp.windows.length === 0) continue;
				// What stands in the way at any time (near the equator, say) is not the time's doing.
				const lasting = setUp.obstacles.filter(({ type }) =>
					["low-latitude", "pair-too-close", "never-near"].includes(type),
				);
				expect(setUp.obstacles, `${latitude} ${date}`).toEqual(lasting);
				if (own) works++;
				const typed = [setUp.at, ...setUp.windows.flatMap(({ from, until }) => [from, until])];
				for (const at of typed.filter((one) => one !== undefined)) {
					const again = first(evaluateText(planAt(latitude, date, `${kind}\nat: "${clockOf("UTC", at)}"`))).setUp;
					expect(again.at).toBe(at);
					expect(again.obstacles, `${latitude} ${date} ${clockOf("UTC", at)}`).toEqual(lasting);
				}
			}
		expect(works).toBeGreaterThan(5);
	});

	test("the numbers of each row are those of a plan that is made for that minute", () => {
		let rows = 0;
		for (const latitude of LATITUDES.slice(1, 7)) {
			const date = "2027-03-08";
			const evaluation = evaluateText(planAt(latitude, date, kind));
			const [cell] = evaluation.methods;
			const table: readonly MinuteRow[] = cell ? (minuteRowsOf(evaluation, cell.cell)[0]?.rows ?? []) : [];
			if (table.length > 0)
				expect(table.filter(({ planned }) => planned).map(({ at }) => at)).toEqual([first(evaluation).setUp.at]);
			for (const { at, values } of table) {
				const then = valuesOf(planAt(latitude, date, `${kind}\nat: "${clockOf("UTC", at)}"`));
				for (const { id, value } of values) {
					const same = then.get(id);
					if (typeof value === "number") expect(same, `${id} ${clockOf("UTC", at)}`).toBeCloseTo(value, 9);
					else expect(same).toBe(value);
				}
				rows++;
			}
		}
		expect(rows > 0).toBe(/laser|sky-bearing|pole|sweep/.test(kind));
	});
});

describe("searches", () => {
	test("what is proposed, taken over with its clock time, works then", () => {
		for (const latitude of LATITUDES)
			for (const date of DATES.slice(0, 4)) {
				const { tonight } = evaluateText(planAt(latitude, date, "kind: compass"));
				if (!tonight) throw new Error("no night");
				for (const kind of ["square-laser", "sky-bearing"]) {
					const { method } = first(evaluateText(planAt(latitude, date, `kind: ${kind}`)));
					for (const { keys, at } of method.search?.find({ kind: method.kind }, tonight, { most: 3 }) ?? []) {
						expect(at % MINUTE_MS).toBe(0);
						const lines = Object.entries(keys).map(([key, value]) => `\n${key}: ${value}`);
						const taken = `kind: ${kind}${lines.join("")}\nat: "${clockOf("UTC", at)}"`;
						const { obstacles } = first(evaluateText(planAt(latitude, date, taken))).setUp;
						expect(
							obstacles.filter(({ type }) => type !== "low-latitude"),
							taken,
						).toEqual([]);
					}
				}
			}
	});

	test("pole-sighting is offered where the pole is in view, in both hemispheres", () => {
		for (const latitude of [-45, -33.4, 28, 51]) {
			const text = planAt(latitude, "2027-03-08", "kind: phone");
			const [found] = checkText(text).filter(({ code }) => code === "method/better-available");
			expect(found?.message).toContain("pole sighting (the pole is in view)");
			expect(codesOf(planAt(latitude, "2027-03-08", "kind: phone", undefined, "skyline: [[0, 70]]"))).not.toContain(
				"pole-sighting",
			);
		}
	});
});

describe("what is said of a minute is so at that minute", () => {
	test("a second frame's place is that of its own time", () => {
		const text = planWith({
			method: 'kind: drift\nfirst: { star: Spica, at: "20:10" }\nsecond: { star: Altair, at: "20:20" }',
		});
		const found = checkText(text).filter(({ code }) => code === "method/star-below-horizon");
		expect(found.length).toBe(1);
		const alone = valuesOf(
			planWith({ method: 'kind: drift\nfirst: { star: Altair, at: "20:20" }\nsecond: { star: Spica, at: "20:30" }' }),
		);
		const altitude = alone.get("method.star-altitude");
		expect(found[0]?.message).toContain(
			`Altair is ${Math.abs(Number(altitude)).toFixed(1)}° below the horizon at 20:20.`,
		);
	});

	test("seconds that are typed are told", () => {
		const text = planAt(-33.4, "2027-06-05", 'kind: sky-bearing\nbody: Spica\nat: "21:10:40"');
		const evaluation = evaluateText(text);
		const [cell] = evaluation.methods;
		const steps = toldSteps(first(evaluation));
		expect(steps.map(({ number }) => number)).toContain("21:10:40");
		const time = cell && evaluation.valuesOf(cell.cell).find(({ id }) => id === "method.time");
		expect(time).toMatchObject({ value: "2027-06-05T21:10:40+00:00", text: "21:10:40" });
		expect(cell && minuteRowsOf(evaluation, cell.cell)[0]?.rows.find(({ planned }) => planned)?.at).toBe(
			Date.UTC(2027, 5, 5, 21, 10, 40),
		);
	});

	test("a method that never works has no best time", () => {
		const evaluation = evaluateText(planAt(63, "2027-06-21", "kind: pole-sighting"));
		const [cell] = evaluation.methods;
		const time = cell && evaluation.valuesOf(cell.cell).find(({ id }) => id === "method.time");
		expect(time).toMatchObject({ value: null, text: "never tonight" });
	});

	test("minutes are those of the site's clock, where it is some seconds off as well", () => {
		// Amsterdam's clocks were 19 min 32 s ahead of UTC until 1937.
		const at = Date.UTC(1930, 0, 5, 20, 0, 0);
		const whole = minuteOf("Europe/Amsterdam", at);
		expect(exactClock("Europe/Amsterdam", whole)).toMatch(/^\d\d:\d\d$/);
		expect(exactClock("Europe/Amsterdam", whole + 1000)).toMatch(/^\d\d:\d\d:01$/);
		expect(minuteOf("UTC", at + 30_000)).toBe(at + MINUTE_MS);
		expect(minuteOf("UTC", at + 59_999, Math.floor)).toBe(at);
		expect(minuteOf("UTC", at + 1, Math.ceil)).toBe(at + MINUTE_MS);
	});
});

describe("steps as hands do them", () => {
	const stepsOf = (method: string) => toldSteps(first(evaluateText(planWith({ method }))));

	test("end for end a phone's reading differs by half a turn", () => {
		for (const method of ["kind: phone", "kind: phone\nreads: true"]) {
			const turned = stepsOf(method).find(({ say }) => say.includes("end for end"));
			const [shown, reversed] = [turned?.number, /must show ([\d.]+°)/.exec(turned?.say ?? "")?.[1]].map((text) =>
				Number.parseFloat(text ?? ""),
			);
			expect(Math.abs((shown ?? 0) - (reversed ?? 0))).toBeCloseTo(180, 6);
		}
		expect(stepsOf("kind: compass").some(({ say }) => say.includes("differ by 180°"))).toBe(true);
	});

	test("drift frames come in the order of their times, with their bearings", () => {
		const steps = stepsOf(
			'kind: drift\nfirst: { star: Antares, at: "23:40" }\nsecond: { star: Spica, at: "21:10", frame: 3 min }',
		);
		const frames = steps.filter(({ say }) => say.includes("test frame of"));
		expect(frames.map(({ number }) => number)).toEqual(["21:10", "23:40"]);
		for (const { say } of frames) expect(say).toMatch(/\(altitude \d+\.\d°, bearing \d{3}\.\d°\)/);
		expect(frames[0]?.say).toContain("3 min");
	});

	test("a low landmark and a high star are both brought behind a plumb line", () => {
		const [low, high] = [
			stepsOf("kind: landmark-bearing\nlandmark: water tower"),
			stepsOf('kind: sky-bearing\nbody: Spica\nat: "20:40"'),
		].map((steps) => steps.find(({ say }) => say.includes("plumb line"))?.say);
		expect(low).toMatch(/both ends of the axis.*water tower \(.*\) are behind the thread/);
		expect(high).toMatch(/At 20:40 turn the pan.*Spica \(altitude .*, bearing .*\) are behind the thread/);
	});

	test("a ± is told with as many digits as one sets by, whatever unit it was written in", () => {
		const text = planWith({
			method:
				'kind: sky-bearing\nbody: Spica\nat: "20:40"\nuncertainty: { aim: ± 14.559 arcsec, tilt-scale: ± 0.1 mrad, pan-scale: ± 7.123 mrad, clock: ± 0.1 min, level: ± 0° }',
		});
		const evaluation = evaluateText(text);
		const told = [
			...checkText(text).map(({ message }) => message),
			...evaluation.plan.cells.flatMap((cell) =>
				evaluation.valuesOf(cell).map(({ label, text: shown }) => `${label} ${shown}`),
			),
		].join("\n");
		expect(told).toContain("aim ± 0.004°");
		expect(told).toContain(": ± 0.41° causes");
		expect(told).not.toMatch(/\d\.\d{5,}/);
	});

	test("a landmark's values have a landmark's words", () => {
		const evaluation = evaluateText(planWith({ method: "kind: landmark-bearing\nlandmark: water tower" }));
		const [cell] = evaluation.methods;
		const how = (id: string) => cell && evaluation.valuesOf(cell.cell).find((value) => value.id === id)?.how;
		expect(how("method.star-bearing")).toContain("Geodesic");
		expect(how("method.star-altitude")).toContain("curvature");
	});
});
