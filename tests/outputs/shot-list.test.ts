/** The shot list: each text beside the number it is made of, computed by itself. */
import { readdirSync, readFileSync } from "node:fs";
import { Body, DefineStar, Equator, Horizon, Observer } from "astronomy-engine";
import { describe, expect, test } from "vitest";
import { exactNightClock, nightClock, nightInterval } from "../../shared/outputs/clock.ts";
import { eveningRows } from "../../shared/outputs/evening.ts";
import { type Shot, shotList, shotParts } from "../../shared/outputs/shot-list.ts";
import { evaluateText, planWith } from "../plan-text.ts";

const samples = new URL("../../samples/", import.meta.url);
const shotsOf = (text: string): readonly Shot[] => shotList(evaluateText(text));
const only = (text: string): Shot => {
	const [shot, ...others] = shotsOf(text);
	if (!shot || others.length > 0) throw new Error(`${others.length + 1} shots`);
	return shot;
};
const target = (more: string): string =>
	planWith({ targets: `- { name: core, aim: galactic-centre, from: "20:30", exposure: 90 s${more} }` });

const sin = (degrees: number): number => Math.sin((degrees * Math.PI) / 180);
const cos = (degrees: number): number => Math.cos((degrees * Math.PI) / 180);
const fail = (): never => {
	throw new Error("no site");
};

test("a foreground of panels begins when its first panel does, in the list and in its table", () => {
	const [shot] = shotsOf(readFileSync(new URL("slate-quarry-arch.lode.yaml", samples), "utf8"));
	const [, ground] = shot?.panels ?? [];
	const first = ground?.rows[0]?.[1];
	expect(first).toMatch(/^\d\d:\d\d/);
	expect(shot?.ground).toContain(`at ${first}`);
	// A hand turns it to a tenth of a degree.
	for (const row of shot?.panels[0]?.rows ?? []) expect(row[5]).toMatch(/^(level|\d+\.\d° (anti)?clockwise)$/);
});

test("a panorama's exposure and minutes are one number in the list and among the values", () => {
	const evaluation = evaluateText(readFileSync(new URL("slate-quarry-arch.lode.yaml", samples), "utf8"));
	const [shot] = shotList(evaluation);
	const { targets } = evaluation;
	if (!targets || !shot) throw new Error("no targets");
	const values = evaluation.valuesOf(targets.cell);
	const text = (id: string): string | undefined => values.find((value) => value.id === id)?.text;
	expect(shot.total).toBe("8 min");
	expect(text("target.exposure-total")).toBe(shot.total);
	expect(shot.panorama).toContain(`${text("target.duration")} in all`);
});

describe("clock times of a night", () => {
	const night = { zone: "America/Montevideo", date: { year: 2027, month: 6, day: 5 } };
	const at = (text: string): number => Date.parse(`${text}-03:00`);

	test("say that they are after midnight, as the clock shows them", () => {
		expect(nightClock(night, at("2027-06-05T23:59:29"))).toBe("23:59");
		expect(nightClock(night, at("2027-06-05T23:59:31"))).toBe("00:00 (+1)");
		expect(nightClock(night, at("2027-06-06T01:30:00"))).toBe("01:30 (+1)");
		expect(nightClock(night, at("2027-06-07T01:30:00"))).toBe("01:30 (+2)");
		expect(exactNightClock(night, at("2027-06-05T23:59:31"))).toBe("23:59:31");
		expect(nightInterval(night, { from: at("2027-06-05T23:10:00"), until: at("2027-06-06T01:40:40") })).toBe(
			"23:10–01:40 (+1)",
		);
		expect(nightInterval(night, { from: at("2027-06-05T23:10:00"), until: at("2027-06-05T23:59:50") })).toBe(
			"23:10–23:59",
		);
	});
});

describe("the shot list", () => {
	test("has what is set on tripod and camera, and what it counts on", () => {
		const shot = only(
			target(
				", frames: 30, gap: 4 s, iso: 1600, f-number: 4, darks: 10, orientation: portrait, foreground: { exposure: 120 s, frames: 3 }",
			),
		);
		expect(shot).toMatchObject({
			target: "core",
			begins: "20:30",
			focalLength: "24 mm",
			fNumber: "f/4",
			iso: "ISO 1600",
			camera: "24 mm at f/4, ISO 1600",
			frames: "30 × 90 s, 4 s between",
			interval: 94,
			darks: "10 × 90 s",
			total: "45 min",
		});
		expect(shot.until - shot.at).toBe((30 * 90 + 29 * 4) * 1000);
		expect(shot.ground).toMatch(
			/^3 × 120 s at \d\d:\d\d(?:, with the drive wound back for the same framing|; framed like the sky; mark the tripod's place)$/,
		);
		expect(shot.pointing).toMatch(/, portrait$/);
	});

	test("points where the values of the target say, the compass to a whole degree", () => {
		const text = target("");
		const evaluation = evaluateText(text);
		const cell = evaluation.targets?.cell;
		const values = new Map((cell ? evaluation.valuesOf(cell) : []).map(({ id, value }) => [id, Number(value)]));
		const shot = only(text);
		expect(Number.parseFloat(shot.bearing)).toBeCloseTo(values.get("target.azimuth-start") ?? Number.NaN, 1);
		expect(shot.bearing).toMatch(/^\d{3}\.\d°T$/);
		expect(Math.abs(Number.parseFloat(shot.compass) - (values.get("target.compass-bearing-start") ?? 0))).toBeLessThan(
			0.51,
		);
		expect(shot.compass).toMatch(/^\d{3}°M$/);
		expect(Number.parseFloat(shot.altitude)).toBeCloseTo(values.get("target.altitude-start") ?? Number.NaN, 1);
		expect(Number.parseFloat(shot.worst.replace(/^\D*/, ""))).toBeCloseTo(values.get("target.trail") ?? Number.NaN, 0);
	});

	test("an aperture of the target's own is computed with, and the lens cell's is left as it is", () => {
		const npf = (more: string): number => {
			const evaluation = evaluateText(target(more));
			return evaluation.targets?.value?.[0]?.limits?.npfFull ?? Number.NaN;
		};
		// The rule's share of the aperture is 16.856 N seconds over focal length and cosine: at 24 mm 0.7 s a stop number, and more off the equator.
		expect(npf(", f-number: 4") - npf(", f-number: 2")).toBeGreaterThan((16.856 * 2) / 24 - 0.01);
		expect(evaluateText(target(", f-number: 4")).lenses[0]?.value?.camera.fNumber).toBe(2);
		expect(npf(", f-number: 2")).toBe(npf(""));
	});

	test("says what limits an exposure, and of arcs and untracked frames that nothing of the axis does", () => {
		expect(only(target("")).longest).toMatch(/^.+: limited by (the alignment|the drive's periodic error|refraction)$/);
		expect(only(target(", tracked: false")).longest).toMatch(/^[\d.]+ s, untracked$/);
		expect(only(target(", tracked: false")).frames).toBe("1 × 90 s, untracked");
		expect(only(target(", stars: trails")).longest).toBe("any: arcs are wanted");
		const alone = planWith({
			targets: '- { name: core, aim: galactic-centre, from: "20:30", exposure: 90 s }',
			method: [],
		});
		expect(only(alone).longest).toBe("not known: no method to align");
	});

	test("says where the Moon is meanwhile", () => {
		expect(only(target("")).moon).toBe("down");
		const bright = planWith({
			night: 'date: 2027-06-15\narrive: "17:00"\nleave: "02:00"',
			targets: '- { name: core, aim: galactic-centre, from: "20:30", exposure: 90 s, frames: 20 }',
		});
		const evaluation = evaluateText(bright);
		const lit = evaluation.plan.cells
			.flatMap((cell) => evaluation.valuesOf(cell))
			.find(({ id }) => id === "night.moon-illumination")?.value;
		const said =
			/^(.+); illumination (\d+) %, up 20:30–21:00, altitude (\d+)° to \d+°, bearing ([\d.]+)°T to [\d.]+°T, (\d+)° from the target$/.exec(
				only(bright).moon,
			) ?? [];
		const [illumination, from, bearing, away] = said.slice(2).map(Number);
		// The night's value is of its middle, some hours later.
		expect(Math.abs((illumination ?? 0) - Number(lit))).toBeLessThan(2);
		// astronomy-engine's own Horizon, from the site's place.
		const { spot } = evaluation.site ?? fail();
		const time = new Date("2027-06-15T20:30:00-03:00");
		const observer = new Observer(spot.latitude, spot.longitude, spot.elevation);
		const seen = (body: Body) => {
			const { ra, dec } = Equator(body, time, observer, true, true);
			return Horizon(time, observer, ra, dec, "normal");
		};
		expect(Math.abs((from ?? 0) - seen(Body.Moon).altitude)).toBeLessThan(0.6);
		DefineStar(Body.Star1, 17 + 45 / 60 + 40 / 3600, -29.008, 25_000);
		const [moon, core] = [seen(Body.Moon), seen(Body.Star1)];
		expect(Math.abs((bearing ?? 0) - moon.azimuth)).toBeLessThan(0.2);
		const beside = Math.abs(((moon.azimuth - core.azimuth + 540) % 360) - 180);
		expect(said[1]).toMatch(
			beside > 135 ? /^behind/ : beside > 45 ? /^to the (left|right) of/ : /^(in the frame|ahead)/,
		);
		const cosine =
			sin(moon.altitude) * sin(core.altitude) +
			cos(moon.altitude) * cos(core.altitude) * cos(moon.azimuth - core.azimuth);
		expect(Math.abs((away ?? 0) - (Math.acos(cosine) * 180) / Math.PI)).toBeLessThan(0.7);
	});

	test.each(readdirSync(samples).filter((name) => name.endsWith(".lode.yaml")))(
		"%s: in order, nothing senseless",
		(name) => {
			const shots = shotsOf(readFileSync(new URL(name, samples), "utf8"));
			expect(shots.map(({ at }) => at)).toEqual(shots.map(({ at }) => at).sort((a, b) => a - b));
			for (const shot of shots)
				for (const { label, text } of shotParts(shot)) {
					expect(label).toMatch(/^[A-Z]/);
					expect(text).not.toMatch(/NaN|undefined|Infinity|\{|\}/);
				}
		},
	);
});

test("what the evening says to aim at is where the first panel of a panorama looks, as its shot list and its table say", () => {
	const evaluation = evaluateText(readFileSync(new URL("slate-quarry-arch.lode.yaml", samples), "utf8"));
	const [shot] = shotList(evaluation);
	const panel = evaluation.targets?.value?.[0]?.panorama?.panels[0];
	if (!shot || !panel) throw new Error("no panorama");
	const aim = eveningRows(evaluation).find(({ kind }) => kind === "re-aim");
	expect(aim?.about).toBe(`first panel ${shot.pointing}`);
	expect(shot.pointing).toContain(`altitude ${panel.direction.altitude.toFixed(1)}°`);
	expect(shot.pointing).toContain(`${panel.direction.azimuth.toFixed(1).padStart(5, "0")}°T`);
});
