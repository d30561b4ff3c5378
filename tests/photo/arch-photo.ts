/**
 * A photo of a free-standing arch, rendered by the camera of `shared/optics`, pixel by pixel, and the eyes that find its
 * edges in the picture alone.
 */
import { encode } from "fast-png";
import { rayOf } from "../../shared/optics/camera.ts";
import { levelAxes } from "../../shared/photo/attitude.ts";
import { toDirection } from "../../shared/sky/horizontal.ts";
import { isWithin, outlineOf, type SkyPoint } from "../../shared/sky/outline.ts";
import { skylineOf } from "../../shared/sky/skyline.ts";
import { halfTurn } from "../../shared/sky/vector.ts";

/** 24 mm on 36 × 24 mm. */
export const PHOTO = { width: 3000, height: 2000, focalLength: 24, sensor: 36 } as const;
const SCALE = (PHOTO.width * PHOTO.focalLength) / PHOTO.sensor;
const AIM = { bearing: 205, altitude: 28, roll: 6 } as const;

export const OUTLINE: readonly SkyPoint[] = [
	[186, 4],
	[187, 25],
	[198, 41],
	[214, 42],
	[224, 26],
	[225, 5],
];
export const WINDOW: readonly SkyPoint[] = [
	[192, 8],
	[193, 22],
	[201, 33],
	[211, 33],
	[218, 21],
	[219, 8.5],
];
export const GROUND: readonly SkyPoint[] = [
	[0, 5],
	[172, 2],
	[181, 6.5],
	[190, 3.5],
	[228, 3],
	[236, 8],
	[245, 4],
];

/** Things of known direction. */
export const CAIRN: SkyPoint = [178, 9];
export const TOWER: SkyPoint = [233, 12];

/** Where the photo shows a direction: level coordinates turned by bearing, altitude and roll one after the other. */
export function placeOf([bearing, altitude]: SkyPoint): readonly [x: number, y: number] {
	const rad = Math.PI / 180;
	const [b, a] = [(bearing - AIM.bearing) * rad, altitude * rad];
	const [right, ahead, up] = [Math.cos(a) * Math.sin(b), Math.cos(a) * Math.cos(b), Math.sin(a)];
	const [c, s] = [Math.cos(AIM.altitude * rad), Math.sin(AIM.altitude * rad)];
	const [forward, over] = [ahead * c + up * s, up * c - ahead * s];
	const [rc, rs] = [Math.cos(AIM.roll * rad), Math.sin(AIM.roll * rad)];
	return [
		PHOTO.width / 2 + (SCALE * (right * rc - over * rs)) / forward,
		PHOTO.height / 2 - (SCALE * (right * rs + over * rc)) / forward,
	];
}

const COLOURS = { sky: [20, 32, 52], ground: [58, 66, 50], rock: [122, 92, 66], lamp: [255, 240, 190] } as const;
type Colour = keyof typeof COLOURS;
const LAMP = 5;

export interface ArchPhoto {
	readonly png: Uint8Array;
	/** What colour a pixel has. */
	readonly at: (x: number, y: number) => Colour;
}

/** Renders it; `stars` are lamps of the sky. */
export function archPhoto(stars: readonly SkyPoint[]): ArchPhoto {
	const { width, height } = PHOTO;
	// Held clockwise: the right side of the camera goes down.
	const axes = levelAxes(AIM.bearing, AIM.altitude, -AIM.roll);
	const [outline, window, ground] = [outlineOf(OUTLINE), outlineOf(WINDOW), skylineOf(GROUND)];
	const lamps = [CAIRN, TOWER, ...stars].map(placeOf);
	const names = Object.keys(COLOURS) as Colour[];
	const seen = new Uint8Array(width * height);
	const data = new Uint8Array(3 * width * height);
	for (let y = 0; y < height; y++)
		for (let x = 0; x < width; x++) {
			const ray = rayOf({ projection: "rectilinear", focalLength: SCALE }, x + 0.5 - width / 2, height / 2 - y - 0.5);
			const parts = [ray[0], -ray[1], ray[2]] as const;
			const [east, north, up] = [0, 1, 2].map((k) =>
				axes.reduce((sum, axis, i) => sum + (axis[k] as number) * (parts[i] as number), 0),
			) as [number, number, number];
			const direction = toDirection([east, north, up]);
			const isLamp = lamps.some(([lx, ly]) => Math.hypot(x + 0.5 - lx, y + 0.5 - ly) < LAMP);
			const colour: Colour = isLamp
				? "lamp"
				: isWithin(outline, direction) && !isWithin(window, direction)
					? "rock"
					: direction.altitude < ground.skylineAt(direction.azimuth)
						? "ground"
						: "sky";
			const at = y * width + x;
			seen[at] = names.indexOf(colour);
			data.set(COLOURS[colour], 3 * at);
		}
	return {
		png: encode({ width, height, data, channels: 3, depth: 8 }),
		at: (x, y) => names[seen[y * width + x] as number] as Colour,
	};
}

type Place = readonly [x: number, y: number];

/** The arch's outer edge as one sees it. */
export const rockEdge = ({ at }: ArchPhoto): readonly Place[] => {
	for (let y = 0; ; y++)
		for (let x = 0; x < PHOTO.width; x++)
			if (at(x, y) === "rock") return edgeOf((px, py) => at(px, py) === "rock", x, y);
};

/** The edge of its window, found from a place in it upwards. */
export const windowEdge = ({ at }: ArchPhoto): readonly Place[] => {
	const [x, y] = placeOf([205, 20]).map(Math.round) as [number, number];
	let top = y;
	while (at(x, top - 1) !== "rock") top--;
	return edgeOf((px, py) => at(px, py) !== "rock", x, top);
};

/** Once around what is inside, along the edges of pixels, from a pixel that has nothing inside above it; clockwise. */
function edgeOf(isInside: (x: number, y: number) => boolean, startX: number, startY: number): readonly Place[] {
	const inside = (x: number, y: number): boolean =>
		x >= 0 && y >= 0 && x < PHOTO.width && y < PHOTO.height && isInside(x, y);
	const places: Place[] = [];
	let [x, y, dx, dy] = [startX, startY, 1, 0];
	do {
		places.push([x, y]);
		[x, y] = [x + dx, y + dy];
		// The two pixels ahead, to the left and to the right of the way.
		const ahead = (side: -1 | 1): boolean => inside(x + (dx - side * dy - 1) / 2, y + (dy + side * dx - 1) / 2);
		if (ahead(-1)) [dx, dy] = [dy, -dx];
		else if (!ahead(1)) [dx, dy] = [-dy, dx];
	} while (x !== startX || y !== startY);
	return places;
}

/** The ground's edge over a stretch of columns. */
export function groundEdge({ at }: ArchPhoto, from: number, until: number): readonly Place[] {
	const found: Place[] = [];
	for (let x = from; x < until; x += 4) {
		let y = 0;
		while (y < PHOTO.height && at(x, y) !== "ground") y++;
		if (y > 0 && y < PHOTO.height && at(x, y - 1) === "sky") found.push([x + 0.5, y]);
	}
	return found;
}

/** How far a direction is from a line of others, degrees. */
export function fromLine([bearing, altitude]: SkyPoint, line: readonly SkyPoint[], closed: boolean): number {
	const wide = Math.cos((altitude * Math.PI) / 180);
	let least = Number.POSITIVE_INFINITY;
	for (const [i, a] of line.entries()) {
		const b = line[i + 1] ?? (closed ? line[0] : undefined);
		if (!b) break;
		const [dx, dy] = [halfTurn(b[0] - a[0]) * wide, b[1] - a[1]];
		const [ex, ey] = [halfTurn(bearing - a[0]) * wide, altitude - a[1]];
		const part = Math.max(0, Math.min(1, (ex * dx + ey * dy) / (dx * dx + dy * dy || 1)));
		least = Math.min(least, Math.hypot(ex - part * dx, ey - part * dy));
	}
	return least;
}

/** How far two lines are from each other where they are farthest: each corner of either from the other. */
export const apartAtMost = (a: readonly SkyPoint[], b: readonly SkyPoint[]): number =>
	Math.max(...a.map((point) => fromLine(point, b, true)), ...b.map((point) => fromLine(point, a, true)));

/** A plan of the place: its site knows cairn and tower by their directions, a chimney on the tower by its bearing alone. */
export const ARCH_PLAN = `# A free-standing arch above a beach that nobody has heard of.
plan:
  title: The arch from the beach
  format: 1
---
site:
  name: Sandpiper arch
  latitude: 32.4 S
  longitude: 54.3 W
  elevation: 12 m
  timezone: America/Montevideo
  skyline: [[0, 5], [90, 3], [270, 6]]
  landmarks:
    - { name: cairn, bearing: ${CAIRN[0]}°, altitude: ${CAIRN[1]}° }
    - { name: far tower, bearing: ${TOWER[0]}°, altitude: ${TOWER[1]}° }
    - { name: chimney, bearing: ${TOWER[0]}° }
---
night: { date: 2027-06-05, arrive: "17:00", leave: "02:00" }
---
lens: { name: wide, focal-length: 24 mm, f-number: 2, sensor: full-frame, pixels: 6000 x 4000 }
---
tracker: { head: geared }
---
method: { kind: square-laser, guide-star: eta Virginis, at: "20:01" }
---
targets:
  - name: core
    aim: galactic-centre
    at: "23:00"
    exposure: 60 s
`;
