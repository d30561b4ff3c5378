/** How many panels show the Milky Way's arch depends on when they begin: the evening has time for those of its own time. */
import { describe, expect, test } from "vitest";
import { groundPanels } from "../../../shared/cells/targets/panorama.ts";
import { evaluateText, planWith } from "../../plan-text.ts";

const MINUTE_MS = 60_000;
const arch = (latitude: string, date: string, focal: number, more = ""): string =>
	planWith({
		site: `name: Salt pan\nlatitude: ${latitude}\nlongitude: 20.0 E\nelevation: 100 m\ntimezone: Africa/Johannesburg`,
		night: `date: ${date}\narrive: "21:00"\nleave: "05:00"`,
		lens: `focal-length: ${focal} mm\nf-number: 2\nsensor: full-frame\npixels: 6000 x 4000`,
		method: "kind: phone",
		targets: `- name: arch\n  aim: milky-way-arch\n  exposure: 30 s\n  panorama: { overlap: 30 % }\n  foreground: true${more}`,
	});

describe("an arch without a time of its own", () => {
	test.each(
		["35.0 S", "10.0 S", "20.0 N", "45.0 N"].flatMap((latitude) =>
			["2027-03-10", "2027-05-08", "2027-07-04", "2027-09-28"].flatMap((date) =>
				[20, 35].map((focal) => [latitude, date, focal] as const),
			),
		),
	)(
		"%s %s %d mm: its step is as long as its panels take, and the ground's comes behind them",
		(latitude, date, focal) => {
			const { evening, targets } = evaluateText(arch(latitude, date, focal));
			const target = targets?.value?.[0];
			const sky = evening?.steps.find(({ kind }) => kind === "sky");
			if (!target?.panorama || !sky) return;
			expect(sky.from).toBe(target.series.from);
			expect(sky.until).toBeGreaterThanOrEqual(target.series.until);
			expect(sky.until - target.series.until).toBeLessThan(MINUTE_MS);
			const ground = evening?.steps.find(({ kind }) => kind === "foreground");
			if (!ground) return;
			expect(ground.from >= target.series.until || ground.until <= target.series.from).toBe(true);
			const panels = groundPanels(target.panorama);
			// Five minutes for the change, half a minute a panel, twenty seconds from one to the next.
			expect(ground.until - ground.from).toBeGreaterThanOrEqual((panels * 30 + (panels - 1) * 20) * 1000);
		},
	);

	test("near the zenith it takes twice as many panels as an hour later", () => {
		const { targets } = evaluateText(arch("35.0 S", "2027-03-10", 20));
		const later = evaluateText(arch("35.0 S", "2027-03-10", 20, '\n  from: "23:01"'));
		const count = (one: typeof targets) => one?.value?.[0]?.panorama?.panels.length;
		expect([count(targets), count(later.targets)]).toEqual([12, 6]);
	});
});
