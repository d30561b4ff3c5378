/** What the air takes of a star's light, and what becomes too faint by it. */
import { describe, expect, test } from "vitest";
import { airMass, usualExtinction } from "../../shared/sky/extinction.ts";
import { told } from "../../shared/text/sentence.ts";
import { computed, evaluateText, planWith } from "../plan-text.ts";

const site = (latitude: number, more = "") => `name: A\nlatitude: ${latitude}\nlongitude: 20${more}`;

describe("air mass", () => {
	test("Kasten & Young 1989: 1.994 at 30°, 5.586 at 10°, 10.75 at 4.75°, 38 at the horizon", () => {
		expect(airMass(30)).toBeCloseTo(1.994, 3);
		expect(airMass(10)).toBeCloseTo(5.586, 3);
		expect(airMass(4.75)).toBeCloseTo(10.75, 2);
		expect(airMass(0)).toBeCloseTo(37.92, 1);
		expect(airMass(90)).toBeCloseTo(1, 3);
	});

	test("a path through shells of air gives the same: an atmosphere of 8.4 km scale height, straight through", () => {
		// Without refraction the straight path is a few parts in a thousand from it down to 15°.
		for (const altitude of [15, 25, 40, 60, 85]) {
			const sin = Math.sin((altitude * Math.PI) / 180);
			let [path, overhead] = [0, 0];
			for (let h = 0.01; h < 120; h += 0.02) {
				const density = Math.exp(-h / 8.4);
				const r = 6371 + h;
				const cosThere = (6371 * Math.sqrt(1 - sin * sin)) / r;
				path += density / Math.sqrt(1 - cosThere * cosThere);
				overhead += density;
			}
			expect(airMass(altitude) / (path / overhead)).toBeCloseTo(1, 2);
		}
	});
});

describe("magnitudes as seen", () => {
	test("V and extinction times the air mass, in both hemispheres", () => {
		for (const [latitude, star] of [
			[4.7, "Polaris"],
			[48, "Polaris"],
			[-33, "sigma Octantis"],
		] as const) {
			const text = planWith({
				site: site(latitude, "\nextinction: 0.25 mag"),
				night: "date: 2027-06-05",
				method: "kind: pole-sighting",
			});
			const [one] = evaluateText(text).methods;
			const mark = one?.value?.setUp.marks[0];
			const h = mark?.direction.altitude ?? 0;
			const mass = 1 / (Math.sin((h * Math.PI) / 180) + 0.50572 * (h + 6.07995) ** -1.6364);
			expect(mark?.name).toBe(star);
			expect(computed(text, "method.star-magnitude-seen")).toBeCloseTo((mark?.magnitude ?? 0) + 0.25 * mass, 6);
		}
	});

	test("by the site's height where the plan does not say", () => {
		expect([-50, 0, 1250, 2500, 4000].map(usualExtinction)).toEqual([0.2, 0.2, 0.16, 0.12, 0.12]);
		expect(computed(planWith({ site: site(40, "\nelevation: 1250 m") }), "site.extinction")).toBeCloseTo(0.16, 9);
	});

	test("haze makes a low guide star too faint, and a high one not", () => {
		const obstaclesOf = (latitude: number, extinction: number) => {
			const text = planWith({
				site: site(latitude, `\nextinction: ${extinction} mag`),
				night: 'date: 2027-05-05\narrive: "19:00"\nleave: "04:00"',
				method: "kind: square-laser\nguide-star: eta Virginis\npointer: sight",
			});
			return (evaluateText(text).methods[0]?.value?.setUp.obstacles ?? []).map(({ type }) => type);
		};
		expect(obstaclesOf(81, 0.2)).not.toContain("too-bright");
		expect(obstaclesOf(-40, 0.3)).toEqual([]);
		expect(obstaclesOf(40, 0.3)).toEqual([]);
		expect(obstaclesOf(-80, 0.3)).toContain("no-window");
	});

	test("sigma Octantis: the needs and the steps say scope, dark eyes and the pattern around it", () => {
		const text = planWith({ site: site(-33), night: "date: 2027-06-05", method: "kind: pole-sighting" });
		const method = evaluateText(text).methods[0]?.value;
		if (!method) throw new Error("no method");
		expect(told(method.needs)).toContain("of magnitude 5.5");
		const steps = method
			.steps()
			.map(({ say }) => told(say))
			.join("\n");
		expect(steps).toContain("sigma Octantis is only of magnitude 5.5");
		expect(steps).toMatch(
			/(chi|tau|upsilon) Octantis \(magnitude 5\.\d\) [\d.]+° from it toward \d+ h \d\d of the dial/,
		);
	});
});
