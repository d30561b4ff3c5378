/** Radial distortion against the camera of `frames/camera.ts`, which shares no code with ours: Brown's polynomial, on its radial terms. */
import { describe, expect, test } from "vitest";
import { frameOf } from "../../shared/alignment/frame-stars.ts";
import { displacementsFor, trailsOf } from "../../shared/alignment/trail.ts";
import { type Camera, fieldAcross, pointOf, rayOf } from "../../shared/optics/camera.ts";
import { heldAt, pointAt, type Scene } from "../frames/camera.ts";
import { evaluateText } from "../plan-text.ts";
import { dir, spin, type V } from "./simulation.ts";

const scene = (k1: number, k2: number, latitude: number): Scene => ({
	latitude,
	longitude: 8,
	pressure: 0,
	temperature: 10,
	at: Date.UTC(2027, 5, 6),
	exposure: 0,
	azimuth: latitude > 0 ? 150 : 30,
	altitude: 40,
	roll: 4,
	focal: 14,
	sensorWidth: 36,
	width: 6000,
	height: 4000,
	k1,
	k2,
	tracker: { along: -0.4, across: 0.76 },
});
const cameraOf = (k1: number, k2: number, projection: Camera["projection"] = "rectilinear"): Camera => ({
	focalLength: 14,
	fNumber: 2,
	sensor: [36, 24],
	pixelPitch: 6,
	projection,
	distortion: { k1, k2, half: Math.hypot(36, 24) / 2 },
});
const TERMS = [
	[-0.04, 0.01],
	[-0.1, -0.015],
	[-0.1, 0.1],
	[0.2, 0.1],
	[0.03, -0.015],
] as const;

describe.each(TERMS)("k1 = %d, k2 = %d", (k1, k2) => {
	test("directions fall where the other camera has them", () => {
		const camera = cameraOf(k1, k2);
		const other = scene(k1, k2, 46);
		const straight: [V, V, V] = [
			[1, 0, 0],
			[0, 1, 0],
			[0, 0, 1],
		];
		for (const [x, y] of [
			[0, 0],
			[0.5, 0.1],
			[0.9, 0.7],
			[-1.1, 0.6],
		] as const) {
			const size = Math.hypot(x, y, 1);
			const ray: V = [x / size, y / size, 1 / size];
			const place = pointOf(camera, ray);
			const expected = pointAt(other, straight, ray);
			expect(place?.map((one) => (one * 6000) / 36)).toEqual(expected?.map((one) => expect.closeTo(one, 6)));
		}
	});

	test.each(["rectilinear", "equisolid", "equidistant"] as const)(
		"every place of a %s frame belongs to one direction",
		(projection) => {
			const camera = cameraOf(k1, k2, projection);
			let before = -2;
			for (let i = 0; i <= 40; i++) {
				const [right, up] = [(18 * i) / 40, (12 * i) / 40];
				const ray = rayOf(camera, right, up);
				expect(Math.hypot(...ray)).toBeCloseTo(1, 12);
				expect(pointOf(camera, ray)).toEqual([expect.closeTo(right, 9), expect.closeTo(up, 9)]);
				expect(-ray[2]).toBeGreaterThan(before);
				before = -ray[2];
			}
		},
	);

	test.each([46, -32.4])("trails over the frame at %d°, to a thousandth of a pixel", (latitude) => {
		const other = scene(k1, k2, latitude);
		const start = heldAt(other, other.at);
		const shot = {
			camera: cameraOf(k1, k2),
			vertical: false,
			attitude: { right: start[0], up: start[1], forward: start[2] },
			spot: { latitude, longitude: 8, elevation: 0, air: { pressure: 0, temperature: 10 } },
			sky: { isSky: () => true, bends: [] },
			sharpAbove: -90,
			rate: 1,
		};
		const frame = frameOf(shot);
		const seconds = 120;
		const trails = displacementsFor(trailsOf(frame, seconds), { along: -0.4, across: 0.76 });
		const end = heldAt(other, other.at + seconds * 1000);
		const turned = ((latitude >= 0 ? -1 : 1) * 15.0410686 * seconds) / 3600;
		let longest = 0;
		for (const [i, { point, sky }] of frame.stars.entries()) {
			const to = pointAt(other, end, spin(poleUp(latitude), turned, [...sky]));
			if (!to) throw new Error("the star has left the frame");
			const moved = [to[0] - (point[0] * 6000) / 36, to[1] - (point[1] * 6000) / 36] as const;
			longest = Math.max(longest, Math.hypot(...moved));
			expect(trails[i]).toEqual(moved.map((one) => expect.closeTo(one, 3)));
		}
		expect(longest).toBeGreaterThan(0.5);
	});
});

test("a plan's lens has it; a lens without has none; the field of view counts it", () => {
	const plan = (more: string): string =>
		`lens:\n  focal-length: 14 mm\n  sensor: full-frame\n  pixels: 6000 x 4000\n${more}`;
	const bent = evaluateText(plan("  distortion: { k1: -0.04, k2: 0.01 }\n")).lenses[0]?.value?.camera;
	expect(bent?.distortion).toEqual({ k1: -0.04, k2: 0.01, half: Math.hypot(36, 24) / 2 });
	expect(evaluateText(plan("")).lenses[0]?.value?.camera.distortion).toBeUndefined();
	expect(evaluateText(plan("  distortion: { k1: 0 }\n")).lenses[0]?.value?.camera.distortion).toBeUndefined();
	// Barrel distortion draws more of the sky on the same sensor.
	expect(bent && fieldAcross(bent, 36)).toBeGreaterThan(
		fieldAcross({ focalLength: 14, projection: "rectilinear" }, 36),
	);
});

/** The pole that is up: east, north, up. */
const poleUp = (latitude: number): V => dir(latitude >= 0 ? 0 : 180, Math.abs(latitude));
