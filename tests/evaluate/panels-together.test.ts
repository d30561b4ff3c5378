/** What is told of all panels of a panorama together is what it is of the worst of them by itself, though not each is searched. */
import { expect, test } from "vitest";
import { ON_POLE, trailFor } from "../../shared/alignment/trail.ts";
import {
	chancesAbove,
	chanceWithin,
	greatestQuantile,
	isSurelyWithin,
	trailQuantile,
} from "../../shared/alignment/trail-chance.ts";
import { evaluateText, planWith } from "../plan-text.ts";

const SPREADS = [
	{ covariance: { alongAlong: 0.02, alongAcross: 0.005, acrossAcross: 0.04 } },
	{ covariance: { alongAlong: 0.3, alongAcross: -0.1, acrossAcross: 0.05 }, bias: { along: 0.3, across: -0.2 } },
	ON_POLE,
];

const panoramaOf = (aim: string, exposure: number, focal: number, tracker: string): string =>
	planWith({
		lens: `focal-length: ${focal} mm\nf-number: 2\nsensor: 36 x 24 mm\npixels: 6000 x 4000`,
		tracker: `head: geared\n${tracker}`,
		targets: `- name: band\n  aim: ${aim}\n  panorama: { columns: 4, rows: 3 }\n  from: "21:30"\n  exposure: ${exposure} s`,
	});

test("chances, quantiles and what is surely sharp", () => {
	let [compared, sure, unsure] = [0, 0, 0];
	for (const aim of ["galactic-centre", "{ azimuth: 120, altitude: 35 }", "{ azimuth: 10, altitude: 50 }"])
		for (const [exposure, focal] of [
			[20, 24],
			[120, 24],
			[60, 85],
		] as const)
			for (const tracker of ["periodic-error: { amplitude: 20 arcsec, period: 8 min }", "rate: sidereal"]) {
				const trails = evaluateText(panoramaOf(aim, exposure, focal, tracker)).targets?.value?.[0]?.trails?.() ?? [];
				expect(trails).toHaveLength(12);
				for (const spread of SPREADS) {
					for (const limit of [0.5, 1.5, 3, 8]) {
						const each = trails.map((one) => chanceWithin(one, spread, limit));
						const together = chancesAbove(trails, spread, limit);
						expect(Math.min(...together)).toBe(Math.min(...each));
						for (const [i, one] of together.entries()) expect(one).toBeLessThanOrEqual((each[i] as number) + 1e-12);
						for (const [i, one] of trails.entries()) {
							if (spread === ON_POLE) continue;
							if (!isSurelyWithin(one, spread, limit, 0.9)) unsure++;
							else {
								sure++;
								expect(each[i]).toBeGreaterThan(0.9 - 1e-3);
							}
						}
						compared++;
					}
					for (const share of [0.5, 0.95]) {
						const most = Math.max(...trails.map((one) => trailQuantile(one, spread, share)));
						expect(greatestQuantile(trails, spread, share) / most).toBeGreaterThan(1 - 2e-3);
						expect(greatestQuantile(trails, spread, share) / most).toBeLessThan(1 + 1e-9);
					}
				}
				expect(greatestQuantile(trails, ON_POLE, 0.95)).toBeGreaterThanOrEqual(
					Math.max(...trails.map((one) => trailFor(one, { along: 0, across: 0 }))) * 0.999,
				);
			}
	expect(compared).toBe(216);
	expect(Math.min(sure, unsure)).toBeGreaterThan(100);
});
