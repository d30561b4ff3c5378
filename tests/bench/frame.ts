/** Writes a JPEG of 24 or 60 megapixels of the sky over a sample's site, by the tests' own camera: run by bench.mjs. */
import { writeFileSync } from "node:fs";
import { chance, render, type Scene } from "../frames/camera.ts";
import { exifClock, exifOf, jpegOf } from "../frames/files.ts";

const [file = "", width = "6000"] = process.argv.slice(2);
const random = chance(1);
const scene: Scene = {
	latitude: -32.4123,
	longitude: -54.3622,
	pressure: 950,
	temperature: 10,
	at: Date.UTC(2027, 5, 5, 23, 30),
	exposure: 0,
	azimuth: 150,
	altitude: 45,
	roll: 20,
	focal: 24,
	sensorWidth: 36,
	width: Number(width),
	height: (Number(width) * 2) / 3,
	k1: -0.01,
	k2: 0.002,
	axisRight: 0,
	axisUp: 0,
	light: 60_000,
	seed: Math.floor(1e6 * random()),
};
writeFileSync(file, jpegOf(scene, render(scene), 92, exifOf(exifClock(scene.at, -3), 1, 24)));
