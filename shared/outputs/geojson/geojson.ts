/**
 * The site, its landmarks, the lines of sight to them, and rays for what is known by its bearing alone, as GeoJSON
 * (RFC 7946): longitude, latitude, elevation; WGS 84.
 */
import { axisVector } from "../../alignment/axis-error.ts";
import { goneFrom } from "../../earth/sightline.ts";
import { isoText } from "../../earth/zone.ts";
import type { Evaluation } from "../../evaluate/evaluate.ts";
import { dateText } from "../../notation/date.ts";
import { firstValue } from "../../plan/plan.ts";
import { windowsOf } from "../../sky/cover.ts";
import { toDirection } from "../../sky/horizontal.ts";
import { turn } from "../../sky/vector.ts";
import { sentences } from "../../text/sentence.ts";
import { jsonText } from "../json/json.ts";
import type { Output } from "../output.ts";

const words = sentences("output.geojson", {
	exported: "Map (GeoJSON)",
	help: "print the site, landmarks, lines of sight, and rays to pole, axis, targets and openings as GeoJSON (RFC 7946)",
	unknown: "geodata needs the site's coordinates",
});

export const geojson: Output = {
	name: "geojson",
	title: words.exported(),
	option: "--geojson",
	mediaType: "application/geo+json",
	extension: "geojson",
	of: {
		plan: {
			help: words.help(),
			make({ evaluation }) {
				const data = geodata(evaluation);
				return data ? jsonText(data) : { why: words.unknown() };
			},
		},
	},
};

type Position = readonly number[];

interface Feature {
	readonly type: "Feature";
	readonly geometry:
		| { readonly type: "Point"; readonly coordinates: Position }
		| { readonly type: "LineString"; readonly coordinates: readonly Position[] };
	readonly properties: Readonly<Record<string, string | number | null>>;
}

export interface FeatureCollection {
	readonly type: "FeatureCollection";
	readonly features: readonly Feature[];
}

/** How far a ray is drawn, metres: over the edge of what a map of the site shows. Nothing has to be there. */
const RAY = 10_000;

/** Undefined while the site's coordinates are not known. Lines that would cross the date line are left out (RFC 7946, 3.1.9). */
export function geodata(evaluation: Evaluation): FeatureCollection | undefined {
	const { plan, site, landmarks, field } = evaluation;
	if (!site) return undefined;
	const { spot } = site;
	const cell = firstValue(plan, "site");
	const here: Position = [spot.longitude, spot.latitude, spot.elevation];
	const features: Feature[] = [
		{
			type: "Feature",
			geometry: { type: "Point", coordinates: here },
			properties: { kind: "stand", name: cell?.name ?? null, magneticDeclination: field?.declination ?? null },
		},
	];
	for (const { name, bearing, distance, altitude, located } of landmarks) {
		const entry = cell?.landmarks?.find((one) => one.name === name);
		// Of a measured bearing there is no place to draw.
		if (!located || entry?.latitude === undefined || entry.longitude === undefined) continue;
		const there: Position =
			entry.elevation === undefined
				? [entry.longitude, entry.latitude]
				: [entry.longitude, entry.latitude, entry.elevation];
		features.push({
			type: "Feature",
			geometry: { type: "Point", coordinates: there },
			properties: { kind: "landmark", name, altitude },
		});
		if (Math.abs(entry.longitude - spot.longitude) <= 180)
			features.push({
				type: "Feature",
				geometry: { type: "LineString", coordinates: [here, there] },
				properties: { kind: "sight-line", name, bearing, distance, altitude },
			});
	}
	for (const { bearing, ...properties } of raysOf(evaluation)) {
		const end = goneFrom(spot, bearing, RAY);
		if (Math.abs(end.longitude - spot.longitude) > 180) continue;
		features.push({
			type: "Feature",
			geometry: { type: "LineString", coordinates: [here, [end.longitude, end.latitude]] },
			properties: { kind: "ray", ...properties, bearing },
		});
	}
	return { type: "FeatureCollection", features };
}

interface Ray {
	/** What it leads to. */
	readonly of: "pole" | "axis" | "target" | "opening" | "landmark";
	readonly name: string | null;
	/** True, degrees. */
	readonly bearing: number;
	/** Degrees: of a target and a landmark as seen, of the pole and the axis without refraction; null of an edge of an opening. */
	readonly altitude: number | null;
	/** The moment it holds for; null where it always does. */
	readonly at: string | null;
}

/** The pole, the axis as the log found it last without a doubt, the targets at their first and last frame, both edges of each opening, landmarks without a place. */
function* raysOf({ site, log, night, targets, landmarks }: Evaluation): Iterable<Ray> {
	if (!site) return;
	const { spot, cover, zone } = site;
	const pole = toDirection(axisVector(spot.latitude, { along: 0, across: 0 }));
	yield { of: "pole", name: null, bearing: pole.azimuth, altitude: pole.altitude, at: null };
	// Nothing is built on the numbers of an evening that is in doubt.
	const evening = log?.value?.evenings.findLast(({ found, doubt }) => found !== undefined && doubt === undefined);
	if (evening?.found) {
		const { azimuth, altitude } = toDirection(axisVector(spot.latitude, evening.found.error));
		yield { of: "axis", name: dateText(evening.date), bearing: azimuth, altitude, at: null };
	}
	for (const target of targets?.value ?? []) {
		if (!target) continue;
		const { from, until } = target.series;
		for (const moment of until > from ? [from, until] : [from]) {
			const { azimuth, altitude } = target.directionAt(moment);
			const at = isoText(night?.zone ?? zone, moment);
			yield { of: "target", name: target.name, bearing: azimuth, altitude, at };
		}
	}
	for (const { name, outline } of windowsOf(cover))
		for (const bearing of new Set(outline.span.map((edge) => turn(edge))))
			yield { of: "opening", name: name ?? null, bearing, altitude: null, at: null };
	for (const { name, located, bearing, altitude } of landmarks)
		if (!located) yield { of: "landmark", name, bearing, altitude, at: null };
}
