/** What the findings of panoramas offer beyond the examples of their rules. */
import { describe, expect, test } from "vitest";
import { targetValues } from "../../shared/cells/targets/values.ts";
import { exampleText } from "../../shared/findings/example-plan.ts";
import { applyEdits } from "../../shared/text/edits.ts";
import { checkText, evaluateText, planWith } from "../plan-text.ts";

const band = (bearings: string): string =>
	planWith({
		lens: "focal-length: 180 mm\nf-number: 2\nsensor: 36 x 24 mm\npixels: 6000 x 4000",
		targets: `- name: band\n  aim: { bearings: ${bearings}, altitudes: [5, 30] }\n  panorama: { columns: 3, overlap: 30 % }\n  from: "21:30"\n  exposure: 5 s\n  trail: 60 px`,
	});

test("more columns are offered for the range as it is, one of its bearings read off a compass", () => {
	// What is wide by the digits is not as wide on the ground: the magnetic declination is in it.
	const declination = evaluateText(band("[0 M, 300]")).field?.declination ?? 0;
	const read = (magnetic: number): string => `${(((magnetic + declination) % 360) + 360) % 360}`;
	const fixed = (bearings: string): string | undefined => {
		const text = band(bearings);
		const [found] = checkText(text).filter(({ code }) => /^target.panorama-(gap|overlap)$/.test(code));
		const [fix] = found?.fixes ?? [];
		return fix && /columns: (\d+)/.exec(applyEdits(text, fix.edits))?.[1];
	};
	const wide = fixed("[0, 300]");
	expect(wide).toBeDefined();
	expect(new Set([wide, fixed(`[${read(0)}, 300]`), fixed(`[0, ${read(300)}]`)]).size).toBe(3);
	for (const [typed, meant] of [
		["[0 M, 300]", `[${read(0)}, 300]`],
		["[0, 300 M]", `[0, ${read(300)}]`],
		["[0 M, 300 M]", "[0, 300]"],
	] as const)
		expect(fixed(typed), typed).toBe(fixed(meant));
});

test("where neighbours share nothing at an edge, the edge is named instead of 0 %", () => {
	const told = (altitude: number, overlap: number): string | undefined =>
		checkText(
			planWith({
				targets: `- name: core\n  aim: { azimuth: 150, altitude: ${altitude} }\n  panorama: { columns: 4, overlap: ${overlap} % }\n  from: "21:30"\n  exposure: 5 s\n  trail: 60 px`,
			}),
		).find(({ code }) => code === "target/panorama-overlap")?.message;
	expect(told(45, 25)).toContain("neighbours do not overlap at their lower edge (20°); panels join reliably from 15 %");
	expect(told(45, 30)).toContain("neighbours overlap by 5 % of a frame at altitude 21°; panels join");
});

describe("a gorge's walls above the foreground's row", () => {
	const gorge = (foreground: string, more = ""): string =>
		planWith({
			site: "name: gorge\nlatitude: 32.4123 S\nlongitude: 20.8431 E\nelevation: 1450 m\nskyline: [[0, 4], [180, 30], [215, 52], [250, 30], [300, 6]]",
			lens: "focal-length: 24 mm\nf-number: 2\nsensor: 36 x 24 mm\npixels: 6000 x 4000",
			targets: `- name: band\n  aim: { azimuth: 250, altitude: 30 }\n  panorama: { columns: 2, overlap: 40 % }\n  from: "21:30"\n  exposure: 60 s\n  trail: 2 px${more}\n  foreground: ${foreground}`,
		});
	const codes = (text: string): readonly string[] =>
		checkText(text)
			.map(({ code }) => code)
			.filter((code) => code.startsWith("target/foreground-"));

	test.each(["true", "{ exposure: 90 s }", "{ panorama: { order: columns } }", "{ panorama: { rows: 1 } }"])(
		"foreground: %s is told, and has all of them with each of its fixes",
		(foreground) => {
			const text = gorge(foreground);
			const [found] = checkText(text).filter(({ code }) => code === "target/foreground-low");
			expect(found?.message).toContain("at 215° it ends at altitude 26°, and the ground goes up to 52°");
			expect(found?.fixes.map(({ title }) => title)).toEqual([expect.stringMatching(/^Take 2 rows of the foreground/)]);
			for (const { edits } of found?.fixes ?? []) {
				const fixed = applyEdits(text, edits);
				expect(codes(fixed), fixed).toEqual([]);
				const rows = evaluateText(fixed).targets?.value?.[0]?.panorama?.ground()?.rows ?? [];
				// Straight up a wall from one degree below the sky's lower edge: a level pinhole camera 36 by 24 mm at 24 mm.
				for (let bearing = 195; bearing <= 255; bearing += 5)
					for (let altitude = 3; altitude <= skyline(bearing) - 1; altitude++)
						expect(
							rows.some((row) => row.bearings.some((middle) => sees(middle, row.altitude, bearing, altitude))),
							`${bearing} ${altitude}\n${fixed}`,
						).toBe(true);
			}
		},
	);

	test("one fix: the tilt where it keeps the ground before one's feet, else more rows", () => {
		const titles = (altitude: number, skyline: number, sky: number): string[] =>
			checkText(
				gorge(`{ panorama: { altitude: ${altitude}° } }`)
					.replace(/skyline: .*/, `skyline: [[0, ${skyline}]]`)
					.replace("altitude: 30", `altitude: ${sky}`),
			)
				.filter(({ code }) => code === "target/foreground-low")
				.flatMap(({ fixes }) => fixes.map(({ title }) => title));
		expect(titles(-30, 5, 10)).toEqual([expect.stringMatching(/^Tilt the foreground's row up to −2\d°$/)]);
		expect(titles(0, 50, 30)).toEqual([expect.stringMatching(/^Take 2 rows of the foreground/)]);
	});

	test("of a single panel of the sky is a single one, where the skyline leaves it room; a narrower frame below is joined lower", () => {
		const row = (skyline: number) => {
			const text = gorge("true")
				.replace(/skyline: .*/, `skyline: [[0, ${skyline}]]`)
				.replace("columns: 2", "columns: 1");
			return evaluateText(text).targets?.value?.[0]?.panorama?.ground();
		};
		const ground = row(0);
		expect([ground?.panels, ground?.needed, ground?.missing]).toEqual([1, 1, []]);
		// What the sky's panel shows of its lower part is in the one below, by the textbook's projection.
		const [{ altitude = 0, bearings: [middle = 0] = [] } = {}] = ground?.rows ?? [];
		let [shown, both] = [0, 0];
		for (let offset = -36; offset <= 36; offset += 0.25) {
			if (!sees(250, 30, 250 + offset, 7.5)) continue;
			shown++;
			if (sees(middle, altitude, 250 + offset, 7.5)) both++;
		}
		expect(shown).toBeGreaterThan(200);
		expect(both).toBe(shown);
		expect(row(11)?.panels).toBe(2);
	});

	test.each([
		[5, -19.1],
		[20, -0.9],
		[30, 0],
		[-30, -35.9],
	])("without an altitude it goes up to a low skyline, as far as level: %d°", (height, altitude) => {
		// One degree over it at the corners, 36.87° beside the middle: atan(tan(6°) / cos 36.87°) less half of 53.13°.
		const text = gorge("true")
			.replace(/skyline: .*/, `skyline: [[0, ${height}]]`)
			.replace("altitude: 30", "altitude: -4");
		const row = evaluateText(text).targets?.value?.[0]?.panorama?.ground()?.rows[0];
		expect(row?.altitude).toBeCloseTo(altitude, 1);
	});

	test("is sharp where nothing is tracked, and where little trails", () => {
		expect(codes(gorge("true", "\n  tracked: false"))).toEqual([]);
		expect(codes(gorge("true").replace("trail: 2 px", "trail: 200 px"))).toEqual([]);
	});

	test("a lower row of the ground is joined to the sky as the upper one is", () => {
		expect(codes(gorge("{ panorama: { altitude: 45°, rows: 2 } }"))).toEqual([]);
		expect(codes(gorge("{ panorama: { altitude: 45° } }"))).toEqual(["target/foreground-short"]);
	});

	const skyline = (bearing: number): number =>
		bearing < 215 ? 30 + (22 * (bearing - 180)) / 35 : 52 - (22 * (bearing - 215)) / 35;

	function sees(middle: number, tilt: number, bearing: number, altitude: number): boolean {
		const rad = Math.PI / 180;
		const [d, a, t] = [(bearing - middle) * rad, altitude * rad, tilt * rad];
		const [right, ahead, up] = [Math.cos(a) * Math.sin(d), Math.cos(a) * Math.cos(d), Math.sin(a)];
		const [along, above] = [ahead * Math.cos(t) + up * Math.sin(t), up * Math.cos(t) - ahead * Math.sin(t)];
		return along > 0 && Math.abs((24 * right) / along) <= 18 && Math.abs((24 * above) / along) <= 12;
	}
});

describe("the panorama that the arch needs", () => {
	const arch = (panorama: string): string => {
		const text = exampleText({
			targets: `- name: arch\n  aim: milky-way-arch\n  from: "19:30"\n  exposure: 20 s${panorama}`,
		}).replace(/skyline: .*/, "skyline: [[0, 2]]");
		const evaluation = evaluateText(text);
		const { night, targets, field } = evaluation;
		const target = targets?.value?.[0];
		if (!target || !night) throw new Error("no arch");
		return targetValues(target, field, night).find(({ id }) => id === "target.arch-panorama")?.text ?? "";
	};

	test("is told where none is planned; one that is planned is compared with it", () => {
		const needed = arch("");
		const [, columns, rows] = /^(\d+) × (\d+), landscape: \d+ frames$/.exec(needed) ?? [];
		expect(Number(columns)).toBeGreaterThan(1);
		expect(arch("\n  panorama: { overlap: 30 % }")).toBe(`the planned ${columns} × ${rows} panels cover it`);
		expect(arch("\n  panorama: { columns: 1, rows: 1 }")).toMatch(
			new RegExp(`^the planned 1 × 1 panels leave out \\d\\d % of it; enough: ${columns} × ${rows}, landscape`),
		);
	});
});
