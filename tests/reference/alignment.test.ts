import { describe, expect, test } from "vitest";
import { axisVector, radiusHolding } from "../../shared/alignment/axis-error.ts";
import { declinationDrift, parallelDrift } from "../../shared/alignment/drift.ts";
import { longestExposure } from "../../shared/alignment/longest-exposure.ts";
import { solvePair } from "../../shared/alignment/pairs.ts";
import { aimPoint, axisErrorOf, axisOfPointer } from "../../shared/alignment/pointer.ts";
import { driveTrail, driveTrails, type Trails, trailFor, trailsOf } from "../../shared/alignment/trail.ts";
import { axisErrorAllowed, chanceWithin, trailQuantile } from "../../shared/alignment/trail-chance.ts";
import { ALL_METHODS, methodOf } from "../../shared/methods/methods.ts";
import { poleSighting } from "../../shared/methods/pole-sighting/pole-sighting.ts";
import { equatorialPlace, findBody } from "../../shared/sky/place.ts";
import { told } from "../../shared/text/sentence.ts";
import { computed, evaluateText, planWith } from "../plan-text.ts";
import { held } from "./held.ts";
import { angle, axisError, byLaser, dir, driftOf, later, normals, pole, spin } from "./simulation.ts";

const LATITUDES = [10, 25, 39, 50, 65] as const;

/** Axis error of one degree (or second) of a source of the square laser at a latitude, by the project. */
function laserEffect(latitude: number, name: string, offset = 90): { along: number; across: number } {
	const text = planWith({
		site: `name: A\nlatitude: ${latitude}\nlongitude: 20`,
		night: "date: 2027-03-08",
		method: `kind: square-laser\nguide-star: eta Virginis\noffset: ${offset}°\nlocal-rules-checked: true`,
	});
	const sources = evaluateText(text).methods[0]?.value?.setUp.sources ?? [];
	const effects = sources.find((source) => source.name === name)?.effects ?? [];
	return effects.reduce(
		(sum, effect) => ({ along: Math.hypot(sum.along, effect.along), across: Math.hypot(sum.across, effect.across) }),
		{
			along: 0,
			across: 0,
		},
	);
}

describe("the worked angle of the laser", () => {
	test("at 39° the aim point is 51° above the equator-ward horizon, in both hemispheres (practice: 90 + 39 = 129, 180 − 129 = 51)", () => {
		expect(aimPoint(39, 90)).toEqual({ azimuth: 180, altitude: 51, side: "equator" });
		expect(aimPoint(-39, 90)).toEqual({ azimuth: 0, altitude: 51, side: "equator" });
		expect(aimPoint(39, 40)).toEqual({ azimuth: 0, altitude: 79, side: "pole" });
	});

	test("pole altitude is the latitude's size", () => {
		for (const latitude of [-65, -39, -5, 0, 5, 39, 65, 90]) {
			expect(computed(planWith({ site: `name: A\nlatitude: ${latitude}\nlongitude: 20` }), "site.pole-altitude")).toBe(
				Math.abs(latitude),
			);
		}
	});
});

describe("level, roll and aim of the square laser", () => {
	// Table of shared/REFERENCES, section 4: a numeric mount (head tilt, azimuth, altitude, roll; root finding).
	test("a head tilted sideways by 1° costs b / sin φ: the level of a bubble", () => {
		const table = [5.7401, 2.3651, 1.5888, 1.3053, 1.1034];
		LATITUDES.forEach((latitude, i) => {
			const exact = (Math.atan(Math.tan(Math.PI / 180) * laserEffect(latitude, "level").across) * 180) / Math.PI;
			expect(exact).toBeCloseTo(table[i] as number, 2);
			const simulated = angle(pole(latitude), byLaser(latitude, 90, { level: 1 }));
			expect(simulated).toBeCloseTo(table[i] as number, 1);
			// To first order the two are one.
			expect(
				angle(pole(latitude), byLaser(latitude, 90, { level: 0.001 })) / 0.001 / laserEffect(latitude, "level").across,
			).toBeCloseTo(1, 4);
		});
	});

	test("a laser rolled about the axis by 1° costs r / tan φ", () => {
		const table = [5.6812, 2.1452, 1.2351, 0.8392, 0.4664];
		LATITUDES.forEach((latitude, i) => {
			const exact = (Math.asin(Math.tan(Math.PI / 180) * laserEffect(latitude, "roll").across) * 180) / Math.PI;
			expect(exact).toBeCloseTo(table[i] as number, 3);
			expect(angle(pole(latitude), byLaser(latitude, 90, { roll: 1 }))).toBeCloseTo(table[i] as number, 3);
		});
	});

	test("a star 60 s late costs 15.041″ · t / tan φ", () => {
		const table = [1.4214, 0.5376, 0.3096, 0.2103, 0.1169];
		LATITUDES.forEach((latitude, i) => {
			expect(laserEffect(latitude, "clock").across * 60).toBeCloseTo(table[i] as number, 3);
			expect(angle(pole(latitude), byLaser(latitude, 90, { clock: 60 }))).toBeCloseTo(table[i] as number, 2);
		});
	});

	test("aim up or down counts one to one, sideways 1 / tan φ; a star 0.3° off in declination leaves 0.3° along", () => {
		for (const latitude of LATITUDES) {
			const { along, across } = laserEffect(latitude, "aim");
			expect(along).toBe(1);
			expect(across).toBeCloseTo(1 / Math.tan((latitude * Math.PI) / 180), 6);
			const aim = aimPoint(latitude, 90);
			const high = axisErrorOf(latitude, axisOfPointer({ ...aim, altitude: aim.altitude + 0.3 }, 90, aim.side));
			expect(high.along).toBeCloseTo(-0.3, 6);
			expect(high.across).toBeCloseTo(0, 9);
		}
	});

	test("0.5° of azimuth costs 2 asin(sin 0.25° cos φ), clockwise both north and south", () => {
		const table = [0.4924, 0.4532, 0.3886, 0.3214, 0.2113];
		LATITUDES.forEach((latitude, i) => {
			for (const side of [1, -1]) {
				const aim = aimPoint(side * latitude, 90);
				const off = axisErrorOf(side * latitude, axisOfPointer({ ...aim, azimuth: aim.azimuth + 0.5 }, 90, aim.side));
				expect(Math.hypot(off.along, off.across)).toBeCloseTo(table[i] as number, 4);
				expect(off.across).toBeGreaterThan(0);
			}
		});
	});

	test.each([60, 75, 90, 105, 120])("any angle of the laser: %d°", (offset) => {
		for (const latitude of [-50, -25, 39, 55]) {
			if (aimPoint(latitude, offset).side === "pole") continue;
			for (const [name, draw] of [
				["level", { level: 0.001 }],
				["roll", { roll: 0.001 }],
				["squareness", { square: 0.001 }],
				["clock", { clock: 0.01 }],
			] as const) {
				const size = name === "clock" ? 0.01 : 0.001;
				const { along, across } = laserEffect(latitude, name, offset);
				const [simulatedAlong, simulatedAcross] = axisError(latitude, byLaser(latitude, offset, draw));
				expect(Math.abs(simulatedAlong) / size, `${name} ${latitude}`).toBeCloseTo(along, 3);
				expect(Math.abs(simulatedAcross) / size, `${name} ${latitude}`).toBeCloseTo(across, 3);
			}
		}
	});
});

describe("the axis error on the sphere", () => {
	test("vector and error are each other's inverse", () => {
		for (const latitude of [-65, -33, -1, 1, 39, 65]) {
			for (const [along, across] of [
				[0.5, 0],
				[0, -1.5],
				[3, 4],
				[-2, 0.1],
			] as const) {
				const [x, y, z] = axisVector(latitude, { along, across });
				const azimuth = (Math.atan2(x, y) * 180) / Math.PI;
				const back = axisErrorOf(latitude, { azimuth, altitude: (Math.asin(z) * 180) / Math.PI });
				expect(back.along).toBeCloseTo(along, 9);
				expect(back.across).toBeCloseTo(across, 9);
				const [a, b] = axisError(latitude, [x, y, z]);
				expect([a, b]).toEqual([expect.closeTo(along, 9), expect.closeTo(across, 9)]);
			}
		}
	});

	test("95 % radius: 2.4477 σ when round, 1.95996 σ when flat, and by 200 000 draws between", () => {
		expect(radiusHolding(0.95, { alongAlong: 1, alongAcross: 0, acrossAcross: 1 })).toBeCloseTo(
			Math.sqrt(-2 * Math.log(0.05)),
			5,
		);
		expect(radiusHolding(0.95, { alongAlong: 4, alongAcross: 0, acrossAcross: 0 })).toBeCloseTo(2 * 1.959964, 3);
		const covariance = { alongAlong: 1.3, alongAcross: -0.4, acrossAcross: 0.5 };
		const radius = radiusHolding(0.95, covariance);
		const next = normals(5);
		let inside = 0;
		const n = 200_000;
		const a = Math.sqrt(covariance.alongAlong);
		const b = covariance.alongAcross / a;
		const c = Math.sqrt(covariance.acrossAcross - b * b);
		for (let i = 0; i < n; i++) {
			const [u, v] = [next(), next()];
			if (Math.hypot(a * u, b * u + c * v) < radius) inside++;
		}
		expect(inside / n).toBeGreaterThan(0.95 - 4 * Math.sqrt((0.95 * 0.05) / n));
		expect(inside / n).toBeLessThan(0.95 + 4 * Math.sqrt((0.95 * 0.05) / n));
	});

	// The circular coverage function (Rice's distribution; Marcum's Q with the offset and the radius): its series of
	// Poisson weights and gamma shares, P = Σ e^(−d²/2) (d²/2)^k / k! · (1 − e^(−R²/2) Σ_{j ≤ k} (R²/2)^j / j!).
	test("a round spread off the pole: the series of the circular coverage function, to 1e-6", () => {
		const series = (radius: number, offset: number): number => {
			const [x, y] = [radius ** 2 / 2, offset ** 2 / 2];
			let [weight, term, tail, sum] = [Math.exp(-y), Math.exp(-x), Math.exp(-x), 0];
			for (let k = 0; k < 400; k++) {
				sum += weight * (1 - tail);
				weight *= y / (k + 1);
				term *= x / (k + 1);
				tail += term;
			}
			return sum;
		};
		// 1 − Q₁(1, 1) as it is tabled.
		expect(series(1, 1)).toBeCloseTo(1 - 0.7328798, 6);
		let worst = 0;
		for (const sigma of [0.1, 0.7, 3]) {
			const round = { alongAlong: sigma ** 2, alongAcross: 0, acrossAcross: sigma ** 2 };
			for (const offset of [0.01, 0.3, 1, 2.5, 6, 12]) {
				for (const turn of [0, 40, 90, 200]) {
					const along = offset * sigma * Math.cos((turn * Math.PI) / 180);
					const bias = { along, across: offset * sigma * Math.sin((turn * Math.PI) / 180) };
					for (const share of [0.5, 0.95, 0.99]) {
						const radius = radiusHolding(share, round, bias);
						worst = Math.max(worst, Math.abs(series(radius / sigma, offset) - share));
					}
				}
			}
		}
		expect(worst).toBeLessThan(1e-6);
	});

	test("a flat or oblique spread off the pole: a sum over a grid, and 200 000 draws each", () => {
		const n = 200_000;
		for (const [major, minor, tilt, along, across] of [
			[1, 0.3, 0, 0, 2],
			[1, 0.3, 0, 2, 0],
			[1, 0.02, 35, 0.5, -1],
			[0.4, 0.35, -70, -3, 1],
			[2, 0.5, 60, 0.2, 0.1],
			[0.02, 0.01, 20, 0, 4],
		] as const) {
			const [s, c] = [Math.sin((tilt * Math.PI) / 180), Math.cos((tilt * Math.PI) / 180)];
			const covariance = {
				alongAlong: (major * c) ** 2 + (minor * s) ** 2,
				alongAcross: (major ** 2 - minor ** 2) * s * c,
				acrossAcross: (major * s) ** 2 + (minor * c) ** 2,
			};
			const radius = radiusHolding(0.95, covariance, { along, across });
			// The density summed over a grid in the ellipse's own axes, by the midpoint rule.
			const cells = 2000;
			const [u0, v0] = [along * c + across * s, across * c - along * s];
			let held = 0;
			for (let i = 0; i < cells; i++) {
				const u = (((i + 0.5) / cells) * 2 - 1) * 6;
				for (let j = 0; j < cells; j++) {
					const v = (((j + 0.5) / cells) * 2 - 1) * 6;
					if (Math.hypot(u0 + major * u, v0 + minor * v) < radius) held += Math.exp(-(u * u + v * v) / 2);
				}
			}
			expect(Math.abs((held * (12 / cells) ** 2) / (2 * Math.PI) - 0.95)).toBeLessThan(6e-5);
			const next = normals(7);
			let inside = 0;
			for (let i = 0; i < n; i++) {
				const [u, v] = [major * next(), minor * next()];
				if (Math.hypot(along + u * c - v * s, across + u * s + v * c) < radius) inside++;
			}
			expect(Math.abs(inside / n - 0.95)).toBeLessThan(4 * Math.sqrt((0.95 * 0.05) / n));
		}
	});

	test("a bias without a spread is the radius; one a thousandth of the spread changes nothing", () => {
		expect(radiusHolding(0.95, { alongAlong: 0, alongAcross: 0, acrossAcross: 0 }, { along: 3, across: -4 })).toBe(5);
		const flat = { alongAlong: 1, alongAcross: 0, acrossAcross: 0.09 };
		const [on, off] = [radiusHolding(0.95, flat), radiusHolding(0.95, flat, { along: 0.002, across: 0 })];
		expect(Math.abs(on - off)).toBeLessThan(5e-5);
	});
});

describe("drift", () => {
	const seconds = 1;
	/** Drift of a star at hour angle and declination by exact rotation: arcseconds a second north, and west times cos δ. */
	function simulated(
		latitude: number,
		hourAngle: number,
		declination: number,
		along: number,
		across: number,
	): [number, number] {
		const np = dir(0, latitude);
		const meridian = spin([-1, 0, 0], -(90 - declination), np);
		const star = spin(np, -hourAngle, spin([1, 0, 0], 0, meridian));
		const axis = axisVector(latitude, { along, across }) as [number, number, number];
		const moved = driftOf(latitude, axis, star, seconds);
		const up = [np[0] - star[0] * dot(np, star), np[1] - star[1] * dot(np, star), np[2] - star[2] * dot(np, star)] as [
			number,
			number,
			number,
		];
		const north = up.map((v) => v / Math.hypot(...up)) as [number, number, number];
		const west = cross(north, star);
		const change = moved.map((v, i) => v - (star[i] as number)) as [number, number, number];
		const toArcsec = (180 * 3600) / Math.PI / seconds;
		return [dot(change, north) * toArcsec, dot(change, west) * toArcsec * -1];
	}
	const dot = (a: readonly number[], b: readonly number[]) => a.reduce((s, v, i) => s + v * (b[i] as number), 0);
	const cross = (a: [number, number, number], b: [number, number, number]): [number, number, number] => [
		a[1] * b[2] - a[2] * b[1],
		a[2] * b[0] - a[0] * b[2],
		a[0] * b[1] - a[1] * b[0],
	];

	test("in declination and along the parallel, both hemispheres", () => {
		for (const latitude of [39, -33]) {
			for (const hourAngle of [-90, -40, 0, 25, 90, 150]) {
				for (const declination of [-30, 0, 40]) {
					for (const [along, across] of [
						[1 / 60, 0],
						[0, 1 / 60],
						[0.01, -0.02],
					] as const) {
						const formula = declinationDrift(latitude, hourAngle);
						const parallel = parallelDrift(latitude, hourAngle, declination);
						const [north, west] = simulated(latitude, hourAngle, declination, along, across);
						expect(formula.along * along + formula.across * across).toBeCloseTo(north, 5);
						expect(Math.abs(parallel.along * along + parallel.across * across)).toBeCloseTo(Math.abs(west), 5);
					}
				}
			}
		}
	});

	test("check values: 1′ in the best place is 0.262516″ a minute; φ = 39°, ΔZ = +1′ on the meridian −0.204013", () => {
		expect(declinationDrift(-33, -90).along * (1 / 60) * 60).toBeCloseTo(-0.262516, 5);
		expect(declinationDrift(39, 0).across * (Math.cos((39 * Math.PI) / 180) / 60) * 60).toBeCloseTo(-0.204013, 5);
		expect(declinationDrift(-33, 0).across * (Math.cos((33 * Math.PI) / 180) / 60) * 60).toBeCloseTo(-0.220165, 5);
	});

	test("rules of the trade: meridian star drifts north → axis too far west in the north, east in the south; east star drifts north → axis too high in the north, too low in the south", () => {
		expect(declinationDrift(40, 0).across).toBeLessThan(0);
		expect(declinationDrift(-40, 0).across).toBeLessThan(0);
		expect(declinationDrift(40, -90).along).toBeGreaterThan(0);
		expect(declinationDrift(-40, -90).along).toBeLessThan(0);
	});

	test("two stars: amplification 1 / |sin(H₂ − H₁)|", () => {
		const at = (hourAngle: number) => ({
			along: Math.cos((hourAngle * Math.PI) / 180),
			across: -Math.sin((hourAngle * Math.PI) / 180),
		});
		const size = (pair: ReturnType<typeof solvePair>) =>
			Math.hypot(...(pair ?? []).flatMap(({ along, across }) => [along, across]));
		expect(size(solvePair(at(0), at(90)))).toBeCloseTo(Math.SQRT2, 9);
		expect(size(solvePair(at(-30), at(30)))).toBeCloseTo(Math.SQRT2 / Math.sin(Math.PI / 3), 9);
		expect(solvePair(at(0), at(0.5))).toBeUndefined();
	});
});

describe("trails", () => {
	// A camera at the pole of the residual turn's equator sees the full turn; small field, no air.
	const shot = {
		camera: {
			focalLength: 24,
			fNumber: 2,
			sensor: [0.02, 0.02] as const,
			pixelPitch: 5.9,
			projection: "rectilinear" as const,
		},
		vertical: false,
		aim: { azimuth: 0, altitude: 39.0001 },
		spot: { latitude: 39, longitude: 0, elevation: 0, air: { pressure: 0, temperature: 10 } },
		rate: 1,
	};
	const scale = 50.70676;

	test("residual turn: Φ = 4 asin(sin(ε/2) sin(θ/2)); 1° over 180 s is 47.252″, 0.5° over 120 s 15.751″", () => {
		for (const [error, seconds, arcsec] of [
			[0.1, 300, 7.87532616],
			[0.25, 180, 11.8131321],
			[0.5, 120, 15.7508682],
			[1, 60, 15.7507559],
			[1, 180, 47.2519663],
		] as const) {
			// Near the pole a star stands about 90° from the residual axis and moves by the whole turn.
			const trail = trailFor(trailsOf(held(shot), seconds), { along: 0, across: error });
			expect(trail * scale).toBeCloseTo(arcsec, 1);
			expect((trail * scale) / arcsec).toBeCloseTo(1, 3);
		}
	});

	test("allowed time: 24 mm, 5.9 µm, 1°, 1 px → 193.161 s", () => {
		const trails = (seconds: number) => trailFor(trailsOf(held(shot), seconds), { along: 0, across: 1 });
		expect(trails(193.161)).toBeCloseTo(1, 2);
		expect(axisErrorAllowed(trailsOf(held(shot), 193.161), 1)).toBeCloseTo(1, 2);
	});

	test("chance, quantile and longest exposure agree with draws of the exact trail over the ellipse", () => {
		const wide = {
			...shot,
			camera: { ...shot.camera, sensor: [36, 24] as const },
			aim: { azimuth: 150, altitude: 40 },
		};
		const spread = { covariance: { alongAlong: 0.5, alongAcross: 0.2, acrossAcross: 1.2 } };
		const trails = trailsOf(held(wide), 120);
		const next = normals(11);
		const a = Math.sqrt(spread.covariance.alongAlong);
		const b = spread.covariance.alongAcross / a;
		const c = Math.sqrt(spread.covariance.acrossAcross - b * b);
		const drawn = Array.from({ length: 20_000 }, () => {
			const [u, v] = [next(), next()];
			return trailFor(trails, { along: a * u, across: b * u + c * v });
		}).sort((x, y) => x - y);
		for (const share of [0.5, 0.9, 0.95]) {
			const quantile = trailQuantile(trails, spread, share);
			expect(quantile / (drawn[Math.floor(share * drawn.length)] as number)).toBeCloseTo(1, 1);
			expect(drawn.filter((trail) => trail <= quantile).length / drawn.length).toBeCloseTo(share, 1);
			expect(chanceWithin(trails, spread, quantile)).toBeCloseTo(share, 3);
		}
		const longest = longestExposure(held(wide), spread, 1.5, 0.9);
		expect(chanceWithin(trailsOf(held(wide), longest), spread, 1.5)).toBeGreaterThanOrEqual(0.9);
		expect(chanceWithin(trailsOf(held(wide), longest * 1.02), spread, 1.5)).toBeLessThan(0.9);
	});

	test("half rate: sky and ground trail alike, half of an untracked star's trail", () => {
		const equator = { ...shot, spot: { ...shot.spot, latitude: 0 }, aim: { azimuth: 90, altitude: 50 } };
		const half = trailFor(trailsOf(held({ ...equator, rate: 0.5 }), 60), { along: 0, across: 0 });
		const still = trailFor(trailsOf(held({ ...equator, rate: 0 }), 60), { along: 0, across: 0 });
		expect(half / still).toBeCloseTo(0.5, 3);
	});

	test("periodic error: at most 2A sin(πt / P), 2A from a period on; cos δ of it at a declination", () => {
		const periodicError = { amplitude: 40 / 3600, period: 600 };
		const equator = { ...shot, aim: { azimuth: 180, altitude: 51 } };
		const swings = (t: number, aim = equator.aim) =>
			[...driveTrails(trailsOf(held({ ...equator, aim, periodicError }), t))]
				.map((one) => one * scale)
				.sort((a, b) => a - b);
		const most = (t: number, aim = equator.aim) => swings(t, aim).at(-1) ?? 0;
		expect(most(120) / (2 * 40 * Math.sin(Math.PI * 0.2))).toBeCloseTo(1, 2);
		expect(most(300) / 80).toBeCloseTo(1, 2);
		expect(swings(600).map((one) => one / 80)).toEqual(swings(600).map(() => expect.closeTo(1, 3)));
		expect(swings(2000)[0]).toBeCloseTo(80, 0);
		expect(most(120, { azimuth: 180, altitude: 21 }) / most(120)).toBeCloseTo(Math.cos(Math.PI / 6), 3);
	});

	test("on every other frame the drive does √½ of the most of a short exposure, and so with an axis on the pole", () => {
		const periodicError = { amplitude: 40 / 3600, period: 600 };
		let worst = 0;
		for (const t of [5, 30, 60, 120, 200, 290]) {
			const trails = trailsOf(held({ ...shot, aim: { azimuth: 180, altitude: 51 }, periodicError }), t);
			// Drawn phases, the excursion walked second by second.
			const next = normals(3);
			const drawn = Array.from({ length: 4001 }, (_, i) => {
				const phase = (2 * Math.PI * (i + (next() > 0 ? 0.3 : 0.7))) / 4001;
				let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
				for (let k = 0; k <= 200; k++) {
					const turned = 40 * Math.sin(phase + (2 * Math.PI * t * k) / 200 / 600);
					low = Math.min(low, turned);
					high = Math.max(high, turned);
				}
				return high - low;
			}).sort((a, b) => a - b);
			for (const share of [0.5, 0.95]) {
				const exact = drawn[Math.floor(share * drawn.length)] as number;
				worst = Math.max(worst, Math.abs((driveTrail(trails, share) * scale) / exact - 1));
				const onPole = { covariance: { alongAlong: 0, alongAcross: 0, acrossAcross: 0 } };
				const quantile = trailQuantile(trails, onPole, share);
				expect(chanceWithin(trails, onPole, quantile)).toBeCloseTo(share, 2);
			}
			if (t === 5) expect(driveTrail(trails, 0.5) / driveTrail(trails, 1)).toBeCloseTo(Math.SQRT1_2, 2);
		}
		console.info(`the drive alone, median and 95th percentile: worst ${(worst * 100).toFixed(2)} %`);
		expect(worst).toBeLessThan(0.01);
	});

	test("the median trail does not wander with the exposure: all phases and axes, walked", () => {
		const periodicError = { amplitude: 20 / 3600, period: 600 };
		let worst = 0;
		for (const spread of [0.02, 0.1, 0.3])
			for (const t of [60, 250, 400]) {
				const trails = trailsOf(held({ ...shot, aim: { azimuth: 180, altitude: 51 }, periodicError }), t);
				const middle = (count: number) => Array.from({ length: count }, (_, i) => (i + 0.5) / count);
				const drawn = middle(501)
					.flatMap((phase) =>
						middle(9).flatMap((way) =>
							middle(10).map((u) => {
								const radius = spread * Math.sqrt(-2 * Math.log(1 - u));
								const [along, across] = [Math.cos(2 * Math.PI * way), 0.5 * Math.sin(2 * Math.PI * way)];
								const error = { along: radius * along, across: radius * across };
								return walkedTrail(trails, error, periodicError, t, 2 * Math.PI * phase);
							}),
						),
					)
					.sort((x, y) => x - y);
				const covariance = { alongAlong: spread ** 2, alongAcross: 0, acrossAcross: spread ** 2 / 4 };
				const off = trailQuantile(trails, { covariance }, 0.5) / (drawn[drawn.length >> 1] as number) - 1;
				worst = Math.max(worst, Math.abs(off));
			}
		console.info(`median trails with a drive's error: worst ${(worst * 100).toFixed(2)} %`);
		expect(worst).toBeLessThan(0.01);
	});

	test("differential refraction matters low down only", () => {
		const air = { pressure: 1010, temperature: 10 };
		const at = (altitude: number) =>
			trailFor(trailsOf(held({ ...shot, spot: { ...shot.spot, air }, aim: { azimuth: 90, altitude } }), 240), {
				along: 0,
				across: 0,
			}) * scale;
		expect(at(60)).toBeLessThan(2.5);
		expect(at(8)).toBeGreaterThan(15);
	});
});

/** The trail of a lone star in a frame's middle, its way walked moment by moment: the farthest two apart. */
function walkedTrail(
	{ fixed, perAlong, perAcross, perDrive, frame }: Trails,
	{ along, across }: { readonly along: number; readonly across: number },
	{ amplitude, period }: { readonly amplitude: number; readonly period: number },
	t: number,
	phase: number,
): number {
	const star = frame.stars.reduce((best, { weight }, i) => (weight > (frame.stars[best]?.weight ?? 0) ? i : best), 0);
	const of = (all: Float64Array, k: number): number => all[2 * star + k] as number;
	const drift = [0, 1].map((k) => of(fixed, k) + along * of(perAlong, k) + across * of(perAcross, k));
	const places = Array.from({ length: 25 }, (_, i) => {
		const swung = amplitude * (Math.sin(phase + (2 * Math.PI * t * i) / 24 / period) - Math.sin(phase));
		return [0, 1].map((k) => (i / 24) * (drift[k] as number) + swung * of(perDrive, k)) as [number, number];
	});
	let most = 0;
	for (const [x, y] of places) for (const [u, v] of places) most = Math.max(most, (x - u) ** 2 + (y - v) ** 2);
	return Math.sqrt(most);
}

describe("the pole star beside the pole", () => {
	// As one faces the pole: at hour angle H the star is D cos H above it, and to its left (north) or right (south) when west of the meridian.
	test.each([
		[46, "Polaris", 1],
		[-33, "sigma Octantis", -1],
	] as const)("at latitude %d, %s, through a day", (latitude, name, side) => {
		for (let hour = 0; hour < 24; hour += 3) {
			const at = `${String((hour + 12) % 24).padStart(2, "0")}:00`;
			const evaluation = evaluateText(
				planWith({
					site: `name: A\nlatitude: ${latitude}\nlongitude: 20\ntimezone: Etc/UTC\npressure: 400 hPa`,
					night: "date: 2027-03-08",
					method: `kind: pole-sighting\nstar: ${name}\nat: "${at}"`,
				}),
			);
			const content = evaluation.methods[0]?.value?.content ?? {};
			const body = findBody(name);
			const setUp = evaluation.tonight && poleSighting.setUp(content, evaluation.tonight);
			if (!setUp?.poleStar || setUp.at === undefined || !body || !evaluation.tonight) throw new Error("no set-up");
			const { hourAngle, declination } = equatorialPlace(body, evaluation.tonight.spot, setUp.at);
			const distance = 90 - Math.abs(declination);
			const { up, right, clockUpright, clockInverted } = setUp.poleStar;
			expect(up).toBeCloseTo(distance * Math.cos((hourAngle * Math.PI) / 180), 2);
			expect(right).toBeCloseTo(-side * distance * Math.sin((hourAngle * Math.PI) / 180), 2);
			const wanted = ((((side * -hourAngle) / 30) % 12) + 12) % 12;
			expect(Math.abs(((clockUpright - wanted + 18) % 12) - 6)).toBeLessThan(0.02);
			expect((clockInverted - clockUpright + 12) % 12).toBeCloseTo(6, 9);
		}
	});
});

describe("methods by name", () => {
	test("every kind has its method, and says what it needs", () => {
		for (const { kind, words } of ALL_METHODS) {
			expect(methodOf(kind).kind).toBe(kind);
			expect(told(words.needs()).length).toBeGreaterThan(10);
			expect(told(words.about()).length).toBeGreaterThan(60);
		}
		expect(later(39, pole(39), 1000)).toEqual([
			expect.closeTo(pole(39)[0], 12),
			expect.closeTo(pole(39)[1], 12),
			expect.closeTo(pole(39)[2], 12),
		]);
	});
});
