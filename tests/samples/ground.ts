/** The invented ground of the sample `below-the-headwall`, as an elevation tile: no such mountains stand there. */

/** The tile's south-west corner, by which its file is named, and the heights of a side: 3″. */
const [SOUTH, WEST, SIDE] = [41, 76, 1201];
export const TILE = "N41E076.hgt";

/** Where the plan's site is: 3″ and a little from a height of the grid. */
const SPOT = { latitude: 41.3342, longitude: 76.4183 };
const RAD = Math.PI / 180;
const METRES = 111_195;

/**
 * A valley floor at 2,650 m that falls to the south, a headwall of 1,200 m around its upper end, from west-north-west to
 * east-north-east, and a range 14 km to the south with a gap in it.
 */
function groundAt(latitude: number, longitude: number): number {
	const north = (latitude - SPOT.latitude) * METRES;
	const east = (longitude - SPOT.longitude) * METRES * Math.cos(SPOT.latitude * RAD);
	const away = Math.hypot(north, east);
	const bearing = Math.atan2(east, north);
	const floor = 2650 + 0.03 * Math.max(-6000, Math.min(6000, north));
	const aroundNorth = Math.max(0, Math.min(1, (2.1 - Math.abs(bearing)) / 0.7));
	const headwall = 1200 * step((away - 350) / 800) * step(aroundNorth) * (1 + 0.08 * Math.sin(11 * bearing));
	const range =
		700 *
		Math.exp(-(((north + 14_000) / 2500) ** 2)) *
		(1 + 0.35 * Math.sin(east / 1700) - 0.5 * Math.exp(-(((east + 4200) / 1500) ** 2)));
	const knoll = 120 * Math.exp(-(((north + 4100) / 250) ** 2) - ((east - 1900) / 250) ** 2);
	return floor + headwall + range + knoll;
}

/** From 0 to 1 without a corner. */
function step(part: number): number {
	const t = Math.max(0, Math.min(1, part));
	return t * t * (3 - 2 * t);
}

/** The bytes of the file. */
export function tileBytes(): Buffer {
	const bytes = Buffer.alloc(2 * SIDE * SIDE);
	for (let row = 0; row < SIDE; row++)
		for (let column = 0; column < SIDE; column++) {
			const ground = groundAt(SOUTH + 1 - row / (SIDE - 1), WEST + column / (SIDE - 1));
			bytes.writeInt16BE(Math.round(ground), 2 * (row * SIDE + column));
		}
	return bytes;
}
