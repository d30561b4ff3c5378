/**
 * Frames of our own exact camera (`camera.ts`), measured: places, roll, lens and axis against what they were made with,
 * whatever the format; what is no frame of the sky, or one of another, is said and never answered. Longer runs:
 * LODEBOOK_FRAMES=300, LODEBOOK_FALSE=10000, LODEBOOK_RENDERED=30 (of each lens and hemisphere), LODEBOOK_SEED=n.
 */
import { describe, expect, test } from "vitest";
import { readTrails } from "../../shared/frames/drawn-out.ts";
import { findSpots, type Picture } from "../../shared/frames/find-stars.ts";
import { identify, logTail } from "../../shared/frames/identify.ts";
import { pixelOf, plainMap, rayAt } from "../../shared/frames/lens-map.ts";
import { readPhoto } from "../../shared/frames/read-picture.ts";
import { readFrame, solveFrames } from "../../shared/frames/solve.ts";
import { skyOver } from "../../shared/frames/star-sky.ts";
import { axisBetween, solvedPlace } from "../../shared/frames/where.ts";
import { toVector } from "../../shared/sky/horizontal.ts";
import { chance, render, type Scene, starsOf, truth } from "./camera.ts";
import { exifClock, exifOf, jpegOf, pngOf, tiffOf } from "./files.ts";
import { angle, dir, R } from "./vectors.ts";

const SEED = Number(process.env.LODEBOOK_SEED ?? 1);
const FRAMES = Number(process.env.LODEBOOK_FRAMES ?? 20);
const RENDERED = Number(process.env.LODEBOOK_RENDERED ?? 1);
const FALSE = Number(process.env.LODEBOOK_FALSE ?? 60);
const FOCAL_LENGTHS = [14, 24, 50, 85, 135] as const;
const AIR = { pressure: 1000, temperature: 10 };
const siteAt = (latitude: number) => ({ latitude, longitude: 10, elevation: 0, air: AIR });

/** A scene somewhere under the night. */
function sceneOf(
	focal: number,
	latitude: number,
	width: number,
	random: () => number,
	more: Partial<Scene> = {},
): Scene {
	return {
		latitude,
		longitude: 10,
		...AIR,
		at: Date.UTC(2027, 0, 1) + Math.floor(365 * 86_400_000 * random()),
		exposure: 0,
		azimuth: 360 * random(),
		altitude: 30 + 30 * random(),
		roll: 360 * random() - 180,
		focal: focal * (0.985 + 0.03 * random()),
		sensorWidth: 36,
		width,
		height: (width * 2) / 3,
		k1: -0.02 + 0.04 * random(),
		k2: 0.004,
		axisRight: (0.003 * random() - 0.0015) * width,
		axisUp: (0.003 * random() - 0.0015) * width,
		light: (60_000 * focal) / 24,
		seed: Math.floor(1e6 * random()),
		...more,
	};
}

const pictureOf = (scene: Scene): Picture => ({
	width: scene.width,
	height: scene.height,
	light: render(scene),
	step: 1,
});
const lensOf = (scene: Scene, focal: number) =>
	plainMap("rectilinear", scene.width, scene.height, (focal * scene.width) / scene.sensorWidth);

/** Errors of a solved frame: of its middle in pixels, of its roll in degrees, of the lens where it is worst of the focal length. */
function errorsOf(scene: Scene, solved: NonNullable<ReturnType<typeof solveFrames>>) {
	const [frame] = solved.frames;
	if (!frame) throw new Error("no frame");
	const wanted = truth(scene);
	const place = solvedPlace(siteAt(scene.latitude), scene.at, frame.attitude, solved.map);
	const off = angle(
		dir(90 - wanted.rightAscension, wanted.declination),
		dir(90 - place.rightAscension, place.declination),
	);
	const perPixel = Math.atan(scene.sensorWidth / scene.width / scene.focal) / R;
	const roll = Math.abs(((wanted.positionAngle - place.positionAngle + 540) % 360) - 180);
	return {
		place: off / perPixel,
		roll,
		focal: Math.abs((solved.map.focal * scene.sensorWidth) / scene.width / scene.focal - 1),
	};
}

describe("stars of a list are identified", () => {
	test(`blind and from the plan's expectation, half of what was found being wrong: ${FRAMES} skies`, {
		timeout: 600_000,
	}, () => {
		const random = chance(SEED);
		const failed: string[] = [];
		for (let i = 0; i < FRAMES; i++) {
			const focal = FOCAL_LENGTHS[i % 5] as number;
			const scene = sceneOf(focal, i % 2 ? 46 : -32.4, 6000, random);
			const inside = starsOf(scene).filter(
				({ path: [at = [9999, 0]] }) => Math.abs(at[0]) < 3000 && Math.abs(at[1]) < 2000,
			);
			const found = inside.map(({ magnitude, path: [at = [0, 0]] }) => ({
				magnitude: magnitude + 0.4 * (random() + random() - 1),
				right: at[0] + 0.2 * (random() - 0.5),
				up: at[1] + 0.2 * (random() - 0.5),
			}));
			for (const { magnitude } of inside.slice(0, 400))
				found.push({ magnitude: magnitude - 0.3, right: 6000 * (random() - 0.5), up: 4000 * (random() - 0.5) });
			found.sort((a, b) => a.magnitude - b.magnitude);
			const sky = skyOver(siteAt(scene.latitude), scene.at);
			const lens = lensOf(scene, focal);
			const blind = identify(found, sky, lens);
			const direction = toVector({ azimuth: scene.azimuth + 12, altitude: scene.altitude - 15 });
			const near = identify(found, sky, lens, { near: { direction, within: 30 } });
			for (const one of [blind, near]) {
				const wrong = one?.matches.filter(({ found: k, star }) => {
					const entry = found[k];
					return !entry || Math.abs(entry.magnitude - (sky.magnitudes[star] as number)) > 2.5;
				}).length;
				if (!one || (wrong ?? 0) > 0.2 * one.matches.length) failed.push(`${focal} mm, sky ${i}`);
			}
		}
		// A frame of a long lens may show too few stars to magnitude 6.
		expect(failed.filter((one) => !one.startsWith("135"))).toEqual([]);
		expect(failed.length).toBeLessThanOrEqual(0.02 * 2 * FRAMES + 1);
		if (failed.length > 0) process.stdout.write(`not identified: ${failed.join(", ")}\n`);
	});

	test(`spots without a sky are never identified: ${FALSE} frames`, { timeout: 3_600_000 }, () => {
		const random = chance(SEED + 1000);
		const sky = skyOver(siteAt(46), Date.UTC(2027, 5, 5, 22));
		let accepted = 0;
		let nearest = 0;
		for (let i = 0; i < FALSE; i++) {
			const focal = FOCAL_LENGTHS[i % 5] as number;
			const count = 20 + Math.floor(280 * random());
			// Every other frame has them in clumps, as a lit wall has.
			const clumps = Array.from({ length: 5 }, () => [6000 * (random() - 0.5), 4000 * (random() - 0.5)] as const);
			const found = Array.from({ length: count }, (_, k) => {
				const [x, y] = (i % 2 && k % 2 ? clumps[k % 5] : undefined) ?? [
					6000 * (random() - 0.5),
					4000 * (random() - 0.5),
				];
				const inClump = i % 2 && k % 2 ? 300 : 0;
				return { right: x + inClump * (random() - 0.5), up: y + inClump * (random() - 0.5) };
			});
			const answer =
				identify(found, sky, plainMap("rectilinear", 6000, 4000, (focal * 6000) / 36), {
					near: { direction: toVector({ azimuth: 360 * random(), altitude: 45 }), within: 30 },
				}) ??
				(i % 5 === 0 ? identify(found, sky, plainMap("rectilinear", 6000, 4000, (focal * 6000) / 36)) : undefined);
			if (answer) accepted++;
			nearest = Math.min(nearest, answer?.logChance ?? 0);
		}
		process.stdout.write(`${accepted} of ${FALSE} frames without a sky were taken for one\n`);
		expect(accepted).toBe(0);
	});

	test("the tail of a binomial distribution", () => {
		// Fair coins: 10 or more heads of 20, and 15 or more (tables of the binomial distribution).
		expect(10 ** logTail(20, 10, 0.5)).toBeCloseTo(0.588099, 5);
		expect(10 ** logTail(20, 15, 0.5)).toBeCloseTo(0.020695, 5);
		expect(logTail(5, 6, 0.5)).toBe(Number.NEGATIVE_INFINITY);
	});

	test("a ray falls on a pixel and comes back", () => {
		const map = { ...plainMap("rectilinear", 6000, 4000, 4000), k1: -0.04, k2: 0.01, axisRight: 12, axisUp: -7 };
		for (const [x, y] of [
			[0, 0],
			[2999, 1999],
			[-2500, 300],
		] as const) {
			const at = pixelOf(map, rayAt(map, x, y));
			expect(at?.[0]).toBeCloseTo(x, 4);
			expect(at?.[1]).toBeCloseTo(y, 4);
		}
	});
});

describe("pictures are measured", () => {
	test.each(FOCAL_LENGTHS)(
		"at %i mm, with ground, a satellite, hot pixels and glow",
		{ timeout: 3_600_000 },
		(focal) => {
			const all: (readonly [latitude: number, more: number])[] = Array.from({ length: RENDERED }, (_, i) =>
				[46, -32.4].map((latitude) => [latitude, 1000 * i] as const),
			).flat();
			// Frames whose solved lens moved so far that their own fit lost its stars, when it began where it had been.
			if (focal === 135) all.push([-32.4, 8000], [-32.4, 14_000]);
			const worst = { place: 0, roll: 0, focal: 0, not: 0 };
			for (const [latitude, more] of all) {
				const random = chance(SEED + focal + more + (latitude > 0 ? 0 : 1));
				const scene = sceneOf(focal, latitude, focal < 20 ? 2400 : 1800, random, {
					roll: 40 * random() - 20,
					exposure: 4,
					ground: (bearing) => 12 + 8 * Math.sin(bearing / 15),
					hotPixels: 100,
					satellites: 1,
				});
				const lens = lensOf(scene, focal);
				const read = readFrame(pictureOf(scene), scene.at, siteAt(latitude), lens, {});
				// A frame of a long lens may hold too few stars to magnitude 6; the first of each lens is known to hold enough.
				if (more > 0 && !read.known) {
					worst.not++;
					continue;
				}
				expect(read.known, `${focal} mm at ${latitude}°`).toBeDefined();
				const solved = solveFrames([read], lens);
				if (!solved) throw new Error("not solved");
				const errors = errorsOf(scene, solved);
				for (const what of ["place", "roll", "focal"] as const) worst[what] = Math.max(worst[what], errors[what]);
				process.stdout.write(
					`${focal} mm at ${latitude}°: place ${errors.place.toFixed(3)} px, roll ${errors.roll.toFixed(4)}°, focal length ${(100 * errors.focal).toFixed(3)} %, ${solved.frames[0]?.stars.length} stars\n`,
				);
				expect(errors.place).toBeLessThan(0.2);
				expect(errors.roll).toBeLessThan(0.02);
				expect(errors.focal).toBeLessThan(0.001);
			}
			if (RENDERED > 1)
				process.stdout.write(
					`${focal} mm, ${2 * RENDERED} frames: ${worst.not} not identified; worst place ${worst.place.toFixed(3)} px, roll ${worst.roll.toFixed(4)}°, focal length ${(100 * worst.focal).toFixed(3)} %\n`,
				);
			expect(worst.not).toBeLessThanOrEqual(RENDERED / 2);
		},
	);

	test("the axis from two frames 15 minutes apart at 24 mm", { timeout: 300_000 }, () => {
		const random = chance(SEED + 7);
		for (const [latitude, along, across] of [
			[46, 0.6, -1.1],
			[-32.4, -0.4, 0.76],
		] as const) {
			const at = Date.UTC(2027, 5, 5, 23);
			const base = sceneOf(24, latitude, 3000, random, {
				at,
				framedAt: at,
				exposure: 60,
				roll: 5,
				tracker: { along, across, periodic: { amplitude: 40 / 3600, period: 600, phase: 70 } },
				ground: (bearing) => 8 + 6 * Math.sin(bearing / 15),
			});
			const scenes = [base, { ...base, at: at + 900_000, seed: 5 }];
			const lens = lensOf(base, 24);
			const solved = solveFrames(
				scenes.map((scene) => readFrame(pictureOf(scene), scene.at, siteAt(latitude), lens, {})),
				lens,
			);
			const [first, second] = solved?.frames ?? [];
			if (!solved || !first || !second) throw new Error("not solved");
			const axis = axisBetween(siteAt(latitude), solved.map, first, second);
			if (!axis) throw new Error("no axis");
			const [a, c] = [axis.error.along - along, axis.error.across - across];
			process.stdout.write(`axis at ${latitude}°: off by ${a.toFixed(3)}° along, ${c.toFixed(3)}° across\n`);
			expect(Math.hypot(a, c)).toBeLessThan(0.05);
			expect(Math.abs(a)).toBeLessThan(4 * Math.sqrt(axis.covariance.alongAlong) + 0.005);
			expect(Math.abs(c)).toBeLessThan(4 * Math.sqrt(axis.covariance.acrossAcross) + 0.005);
		}
	});

	test("round stars have no trails, whatever chance does to them", { timeout: 300_000 }, () => {
		const random = chance(SEED + 21);
		const longest: number[] = [];
		for (let i = 0; i < 6; i++) {
			const scene = sceneOf([14, 24, 50][i % 3] as number, i % 2 ? 46 : -32.4, 4000, random, { exposure: 0 });
			const lens = lensOf(scene, [14, 24, 50][i % 3] as number);
			const site = siteAt(scene.latitude);
			const solved = solveFrames([readFrame(pictureOf(scene), scene.at, site, lens, {})], lens);
			const [frame] = solved?.frames ?? [];
			if (!solved || !frame) throw new Error("not solved");
			const { usual, long } = readTrails(frame, solved.map, site, 0, 1);
			expect(usual).toBeLessThan(0.5);
			longest.push(long);
		}
		process.stdout.write(`longest trails of round stars: ${longest.map((one) => one.toFixed(1)).join(", ")} px\n`);
		expect(Math.max(...longest)).toBeLessThan(2);
	});

	test("trails: their length, and the axis of one frame up to its sense", { timeout: 300_000 }, () => {
		const at = Date.UTC(2027, 5, 5, 23);
		const scene = sceneOf(24, 46, 3000, chance(SEED + 9), {
			at,
			framedAt: at,
			exposure: 540,
			azimuth: 150,
			altitude: 45,
			roll: 0,
			tracker: { along: 2, across: -3 },
		});
		const lens = lensOf(scene, 24);
		const solved = solveFrames([readFrame(pictureOf(scene), at, siteAt(46), lens, {})], lens);
		const [frame] = solved?.frames ?? [];
		if (!solved || !frame) throw new Error("not solved");
		const { axis, usual } = readTrails(frame, solved.map, siteAt(46), 540, 1);
		const lengths = starsOf(scene)
			.filter(({ magnitude, path: [p = [9999, 0]] }) => magnitude < 5 && Math.abs(p[0]) < 1500 && Math.abs(p[1]) < 1000)
			.map(({ path }) => {
				const [p, q] = [path[0] ?? [0, 0], path.at(-1) ?? [0, 0]];
				return Math.hypot(p[0] - q[0], p[1] - q[1]);
			})
			.sort((a, b) => a - b);
		const true1 = lengths[lengths.length >> 1] as number;
		process.stdout.write(
			`trail ${usual.toFixed(2)} px, true ${true1.toFixed(2)}; axis ${axis?.error.along.toFixed(2)} ${axis?.error.across.toFixed(2)} ± ${Math.sqrt(axis?.covariance.alongAlong ?? 0).toFixed(2)} ${Math.sqrt(axis?.covariance.acrossAcross ?? 0).toFixed(2)}\n`,
		);
		expect(Math.abs(usual - true1)).toBeLessThan(0.15 * true1 + 0.2);
		if (!axis) throw new Error("no axis");
		const sense = Math.sign(axis.error.along * 2 + axis.error.across * -3);
		const off = [sense * axis.error.along - 2, sense * axis.error.across + 3];
		expect(Math.abs(off[0] ?? 9)).toBeLessThan(4 * Math.sqrt(axis.covariance.alongAlong));
		expect(Math.abs(off[1] ?? 9)).toBeLessThan(4 * Math.sqrt(axis.covariance.acrossAcross));
	});

	test("the same from JPEG of three qualities, PNG and TIFF", { timeout: 300_000 }, async () => {
		const scene = sceneOf(24, 46, 1500, chance(SEED + 11), { exposure: 4, roll: 3, hotPixels: 50 });
		const light = render(scene);
		const exif = exifOf(exifClock(scene.at, 1), 4, 24);
		const files: readonly (readonly [string, Uint8Array])[] = [
			...[60, 80, 95].map((quality) => [`JPEG ${quality}`, jpegOf(scene, light, quality, exif)] as const),
			...([8, 16] as const).flatMap(
				(depth) =>
					[
						[`PNG ${depth}`, pngOf(scene, light, depth)],
						[`TIFF ${depth}`, tiffOf(scene, light, depth)],
					] as const,
			),
			// 16 bits that hold 8 in their high half, 8 twice, or 12 in their low end.
			...(
				[
					["8 high", (one: number) => one & 0xff00],
					["8 twice", (one: number) => (one >> 8) * 257],
					["12 low", (one: number) => one >> 4],
				] as const
			).flatMap(([name, kept]) => {
				const other = light.map(kept);
				return [
					[`PNG of ${name}`, pngOf(scene, other, 16)],
					[`TIFF of ${name}`, tiffOf(scene, other, 16)],
				] as const;
			}),
		];
		const lens = lensOf(scene, 24);
		for (const [name, bytes] of files) {
			const photo = await readPhoto(bytes);
			if ("code" in photo) throw new Error(`${name}: ${JSON.stringify(photo)}`);
			if (name.startsWith("JPEG"))
				expect(photo.written).toEqual({
					clock: Math.floor((scene.at + 3_600_000) / 1000) * 1000,
					offset: undefined,
					exposure: 4,
					focalLength: 24,
				});
			const solved = solveFrames([readFrame(photo.picture, scene.at, siteAt(46), lens, {})], lens);
			expect(solved, name).toBeDefined();
			if (solved) expect(errorsOf(scene, solved).place, name).toBeLessThan(0.2);
		}
	});
});

describe("what is no frame of stars", () => {
	test("clouds, a wall and noise have no stars that are identified", { timeout: 120_000 }, () => {
		const random = chance(SEED + 13);
		const [width, height] = [1500, 1000];
		const clouds = new Uint16Array(width * height);
		for (let i = 0; i < clouds.length; i++) {
			const [x, y] = [i % width, Math.floor(i / width)];
			clouds[i] =
				12_000 + 6000 * Math.sin(x / 70 + 2 * Math.sin(y / 40)) + 3000 * Math.cos(y / 23 + x / 91) + 900 * random();
		}
		const bricks = clouds.map((one, i) => (i % 61 < 4 || Math.floor(i / width) % 37 < 4 ? 3000 : one));
		for (const light of [clouds, bricks, new Uint16Array(width * height), clouds.map(() => 65_535 * random())]) {
			const read = readFrame(
				{ width, height, light, step: 1 },
				1.8e12,
				siteAt(46),
				plainMap("rectilinear", width, height, 1000),
				{},
			);
			expect(read.known).toBeUndefined();
		}
		expect(findSpots({ width, height, light: new Uint16Array(width * height), step: 1 }).spots).toEqual([]);
	});

	test("hostile files end in a message", { timeout: 120_000 }, async () => {
		const scene = sceneOf(24, 46, 300, chance(3), {});
		const light = new Uint16Array(300 * 200).fill(9000);
		const good = [jpegOf(scene, light, 80), pngOf(scene, light, 16), tiffOf(scene, light, 8)];
		const random = chance(SEED + 17);
		for (const file of good) {
			expect("code" in (await readPhoto(file))).toBe(false);
			for (let i = 0; i < 60; i++) {
				const broken = file.slice(0, i % 3 === 0 ? Math.floor(file.length * random()) : file.length);
				for (let k = 0; k < 8 && i % 3 > 0; k++)
					broken[Math.floor((i % 2 ? 200 : broken.length) * random())] = Math.floor(256 * random());
				// Either it is read, or what is wrong is told: nothing is thrown.
				const answer = await readPhoto(broken);
				if ("code" in answer) expect(answer.code).toMatch(/^[a-z-]+$/);
			}
		}
		expect(await readPhoto(new Uint8Array(0))).toEqual({ code: "unknown-format" });
		expect(await readPhoto(new TextEncoder().encode("plan:\n  title: no photo\n"))).toEqual({ code: "unknown-format" });
		const jpeg = good[0] as Uint8Array;
		expect(await readPhoto(jpeg.subarray(0, jpeg.length - 300))).toEqual({
			code: "unreadable",
			why: "it ends too early",
		});
		// Passes over the picture take time though there is nothing in them.
		const pass = jpeg.subarray(jpeg.findIndex((one, i) => one === 0xff && jpeg[i + 1] === 0xda)).subarray(0, 14);
		const passes = Uint8Array.from([
			...jpeg.subarray(0, jpeg.length - 2),
			...Array.from({ length: 200 }, () => [...pass]).flat(),
			0xff,
			0xd9,
		]);
		expect(await readPhoto(passes)).toMatchObject({
			code: "unreadable",
			why: expect.stringMatching(/more than 100 times/),
		});
		// A size that is claimed and not there.
		const large = good[1]?.slice() as Uint8Array;
		new DataView(large.buffer).setUint32(16, 100_000);
		new DataView(large.buffer).setUint32(20, 100_000);
		expect(await readPhoto(large)).toEqual({ code: "too-large", width: 100_000, height: 100_000 });
	});
});
