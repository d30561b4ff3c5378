/** The site, its landmarks and the lines of sight as GeoJSON (RFC 7946): longitude, latitude, elevation; WGS 84. */

import type { Evaluation } from "../../evaluate/evaluate.ts";
import { firstValue } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { jsonText } from "../json/json.ts";
import type { Output } from "../output.ts";

const words = sentences("output.geojson", {
	exported: "Map (GeoJSON)",
	help: "print the site, landmarks and lines of sight as GeoJSON (RFC 7946)",
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

/** Undefined while the site's coordinates are not known. Lines that would cross the date line are left out (RFC 7946, 3.1.9). */
export function geodata({ plan, site, landmarks, field }: Evaluation): FeatureCollection | undefined {
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
		// Only a measured bearing: there is no place to draw.
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
	return { type: "FeatureCollection", features };
}
