/** Coasts at 1:110 million (Natural Earth, public domain, by way of world-atlas): outlines of land, degrees. */
import world from "world-atlas/land-110m.json" with { type: "json" };

type Point = readonly [longitude: number, latitude: number];

/** TopoJSON: arcs are steps on a grid; a ring names its arcs, one that is walked backwards as ~its place. */
interface Topology {
	readonly transform: { readonly scale: Point; readonly translate: Point };
	readonly arcs: readonly (readonly Point[])[];
	readonly objects: { readonly land: { readonly geometries: readonly { readonly arcs: readonly number[][][] }[] } };
}

/** Rings of land, each with its last point at its first. Longitudes run on over the meridian of 180°. */
export function coasts(): readonly (readonly Point[])[] {
	const { transform, arcs, objects } = world as unknown as Topology;
	const { scale, translate } = transform;
	const lines = arcs.map((arc) => {
		let [x, y] = [0, 0];
		return arc.map(([dx, dy]): Point => {
			x += dx;
			y += dy;
			return [x * scale[0] + translate[0], y * scale[1] + translate[1]];
		});
	});
	const lineOf = (place: number): readonly Point[] =>
		place >= 0 ? (lines[place] ?? []) : [...(lines[~place] ?? [])].reverse();
	return objects.land.geometries
		.flatMap(({ arcs: polygons }) => polygons.flat())
		.map((ring) => runningOn(ring.flatMap((place, i) => (i === 0 ? lineOf(place) : lineOf(place).slice(1)))));
}

function runningOn(ring: readonly Point[]): readonly Point[] {
	let before = ring[0]?.[0] ?? 0;
	return ring.map(([longitude, latitude]): Point => {
		before = longitude + 360 * Math.round((before - longitude) / 360);
		return [before, latitude];
	});
}
