/** Fixes of what is wrong with a site, a night, a lens and targets, where the examples of a rule do not show all of them. */
import { describe, expect, test } from "vitest";
import { applyEdits } from "../../shared/text/edits.ts";
import { checkText, codesOf, planWith } from "../plan-text.ts";

/** Titles of the fixes of a finding; taking any of them removes it, and none is applied without a look. */
function fixesOf(text: string, code: string): readonly string[] {
	const findings = checkText(text).filter((finding) => finding.code === code);
	expect(findings.length).toBeGreaterThan(0);
	return findings.flatMap(({ fixes }) =>
		fixes.map(({ title, safe, edits }) => {
			expect(safe, title).toBe(false);
			const left = codesOf(applyEdits(text, edits)).filter((one) => one === code).length;
			expect(left, title).toBeLessThan(findings.length);
			return title;
		}),
	);
}

const core = (rest: string) =>
	`- name: core\n  aim: galactic-centre\n  foreground: true\n  ${rest.replace(/, /g, "\n  ")}`;

describe("when a series begins", () => {
	test("nearest to what was planned, where all of it is usable", () => {
		const text = planWith({ targets: core('from: "18:00", exposure: 60 s, frames: 30') });
		expect(fixesOf(text, "target/hidden")).toEqual(["Begin at 19:39"]);
		expect(fixesOf(text, "target/in-twilight")).toEqual(["Begin at 19:39"]);
	});

	test("the key that says so is kept", () => {
		const text = planWith({ targets: core('at: "18:00", exposure: 60 s') });
		const [fix] = checkText(text).find(({ code }) => code === "target/hidden")?.fixes ?? [];
		expect(applyEdits(text, fix?.edits ?? [])).toBe(text.replace('at: "18:00"', 'at: "19:39"'));
	});

	test("not where no stretch is long enough", () => {
		const text = planWith({ targets: core('from: "18:00", exposure: 60 s, frames: 500') });
		expect(fixesOf(text, "target/hidden")).toEqual([]);
		expect(fixesOf(text, "target/outside-stay")).toEqual(["Take 480 frames"]);
	});

	test("not where the plan names no time", () => {
		const text = planWith({
			night: 'date: 2027-06-05\narrive: "17:00"\nleave: "18:00"',
			targets: core("exposure: 60 s"),
		});
		expect(fixesOf(text, "target/hidden")).toEqual([]);
	});

	test("not where a clock shows the time twice, and the second is meant", () => {
		const text = (leave: string) =>
			planWith({
				site: "name: Larch clearing\nlatitude: 46.6 N\nlongitude: 12.1 E\ntimezone: Europe/Rome",
				night: `date: 2027-10-30\narrive: "01:00"\nleave: "${leave}"`,
				targets: '- { name: Capella, aim: Capella, from: "05:00", exposure: 60 s, frames: 30 }',
			});
		expect(fixesOf(text("03:30"), "target/outside-stay")).toEqual(["Begin at 03:00 (+1)"]);
		expect(fixesOf(text("03:29"), "target/outside-stay")).toEqual([]);
	});
});

describe("targets that overlap", () => {
	const three = (third: string) =>
		planWith({
			targets: [
				core('from: "21:30", exposure: 60 s, frames: 20'),
				'- { name: Antares, aim: Antares, from: "21:40", exposure: 60 s, frames: 10 }',
				`- { name: Spica, aim: Spica, from: "${third}", exposure: 60 s, frames: 5 }`,
			].join("\n"),
		});

	test("the later one begins in the first pause that is long enough", () => {
		expect(fixesOf(three("22:00"), "target/overlap")).toEqual(["Begin at 21:50"]);
		expect(fixesOf(three("21:59"), "target/overlap")).toEqual(["Begin at 22:04"]);
		expect(fixesOf(three("21:50"), "target/overlap")).toEqual(["Begin at 21:55"]);
	});
});

describe("fewer frames, shorter frames", () => {
	test("as many as the tracker can follow", () => {
		const text = (limit: string, rest: string) =>
			planWith({ tracker: `head: geared\nturn-limit: ${limit}`, targets: core(`from: "21:30", ${rest}`) });
		expect(fixesOf(text("10 min", "exposure: 60 s, gap: 5 s, frames: 20"), "target/turn-limit")).toEqual([
			"Take 9 frames",
		]);
		expect(fixesOf(text("70 s", "exposure: 60 s, gap: 5 s, frames: 20"), "target/turn-limit")).toEqual([
			"Take 1 frame",
		]);
		expect(fixesOf(text("50 s", "exposure: 60 s, gap: 5 s, frames: 20"), "target/turn-limit")).toEqual([]);
		expect(fixesOf(text("84 s", "exposure: 120 s"), "target/turn-limit")).toEqual(["Set the exposure to 80 s"]);
	});

	test("as many as stay in the frame", () => {
		const text = planWith({
			lens: "focal-length: 200 mm\nsensor: full-frame\npixels: 6000 x 4000",
			targets: core('from: "21:30", exposure: 5 s, gap: 2 s, frames: 400, tracked: false, trail: 60 px'),
		});
		expect(fixesOf(text, "target/leaves-frame")).toEqual(["Take 142 frames"]);
	});

	test("at half rate as long as both sky and ground hold, a periodic error counted", () => {
		const text = (tracker: string) =>
			planWith({ tracker: `rate: half\n${tracker}`, targets: core('from: "21:30", exposure: 60 s') });
		expect(fixesOf(text("head: geared"), "target/half-rate")).toEqual(["Set the exposure to 6 s"]);
		expect(
			fixesOf(text("head: geared\nperiodic-error: { amplitude: 60 arcsec, period: 2 min }"), "target/half-rate"),
		).toEqual(["Set the exposure to 4.5 s"]);
	});
});

describe("the Moon and the twilight", () => {
	test("the Moon's illumination that night is allowed", () => {
		const text = planWith({
			night: 'date: 2027-06-12\narrive: "17:00"\nleave: "06:00"\nmoon-allowed: 20 %',
			method: "kind: compass",
			targets: core('from: "20:00", exposure: 60 s'),
		});
		expect(fixesOf(text, "target/with-moon")).toEqual(["Begin at 02:22 (+1)", "Allow a Moon illumination of 68 %"]);
	});

	test("twilight is offered where the Sun goes far enough below the horizon while one is there", () => {
		const text = (latitude: string, times = "") =>
			planWith({ site: `name: Skerry\nlatitude: ${latitude}\nlongitude: 12.6 E`, night: `date: 2027-06-20${times}` });
		expect(fixesOf(text("55 N"), "night/no-darkness")).toEqual([
			"Count it as dark once the Sun is 11° below the horizon",
		]);
		expect(fixesOf(text("55 N", '\narrive: "17:00"\nleave: "22:00"'), "night/no-darkness")).toEqual([]);
		expect(fixesOf(text("62 N"), "night/no-darkness")).toEqual([]);
	});
});

describe("clock times that are skipped or repeated", () => {
	const night = (date: string, leave: string) =>
		planWith({
			site: "name: Larch clearing\nlatitude: 46.6 N\nlongitude: 12.1 E\ntimezone: Europe/Rome",
			night: `date: ${date}\narrive: "20:00"\nleave: "${leave}"`,
		});

	test("the same moment as the clocks show it", () => {
		expect(fixesOf(night("2027-03-27", "02:30"), "night/time-skipped")).toEqual([
			"Change to 03:30, as the clocks show it after the change",
		]);
	});

	test("the first minute that comes once", () => {
		expect(fixesOf(night("2027-10-30", "02:30:15"), "night/time-twice")).toEqual([
			"Change to 03:00, after the repeated hour",
		]);
	});
});

test("equal times cannot be swapped", () => {
	const text = planWith({ night: 'date: 2027-06-05\narrive: "17:00"\nleave: "17:00"' });
	expect(fixesOf(text, "night/leave-before-arrive")).toEqual([]);
});

test("coordinates with letters are swapped with letters", () => {
	const site = "name: A\nlatitude: 54.3622 S\nlongitude: 32° 24′ 44.28″ W\ntimezone: America/Montevideo";
	const text = planWith({ site });
	const [fix] = checkText(text).find(({ code }) => code === "site/coordinates-swapped")?.fixes ?? [];
	const fixed = applyEdits(text, fix?.edits ?? []);
	expect(fixed).toContain("latitude: 32.4123 S\n  longitude: 54.3622 W\n");
	expect(codesOf(fixed)).not.toContain("site/coordinates-swapped");
});

test("the pixel pitch becomes that of the pixels", () => {
	const lens = "focal-length: 24 mm\nsensor: 36 x 24 mm\npixels: 8256 x 5504\npixel-pitch: 6 µm";
	expect(fixesOf(planWith({ lens }), "lens/pixels-disagree")).toEqual(["Change the pixel pitch to 4.36 µm"]);
});

test("where only what leans on a needle is left, that is named as rough, not denied", () => {
	const site = "name: Shaft\nlatitude: 44.5 N\nlongitude: 5.5 E\nskyline: [[0, 89], [180, 89]]";
	const told = checkText(planWith({ site, method: "kind: pole-sighting" }))
		.filter(({ code }) => code === "method/pole-hidden")
		.map(({ message }) => message);
	expect(told).toHaveLength(1);
	expect(told[0]).toMatch(/Usable tonight, if only roughly: the compass \(`compass`\)/);
});
