/** What follows from the site: the pole, the magnetic field, the landmarks, the zone. */

import { seenPole } from "../../alignment/pole.ts";
import { type MagneticField, magneticField } from "../../earth/magnetism.ts";
import { sightline } from "../../earth/sightline.ts";
import { type EpochMs, isZone, zoneAt } from "../../earth/zone.ts";
import type { SightedLandmark } from "../../methods/tonight.ts";
import {
	type Cover,
	coveredBy,
	coverOf,
	type Hider,
	hiddenBy,
	type Obstruction,
	type Opening,
} from "../../sky/cover.ts";
import { usualExtinction } from "../../sky/extinction.ts";
import { outlineOf, type SkyPoint } from "../../sky/outline.ts";
import type { Spot } from "../../sky/place.ts";
import { standardPressure } from "../../sky/refraction.ts";
import { turn } from "../../sky/vector.ts";
import { sentences, told } from "../../text/sentence.ts";
import type { SiteContent } from "./keys.ts";

const words = sentences("cells.site", { opening: "opening", obstruction: "obstruction" });

export interface EvaluatedSite {
	readonly content: SiteContent;
	readonly spot: Spot;
	/** What the air takes of a star's light, magnitudes for each air mass. */
	readonly extinction: number;
	/** The zone in use: the cell's if it exists, else the one found from the coordinates. */
	readonly zone: string;
	/** The zone the coordinates lie in. */
	readonly zoneThere: string;
	readonly cover: Cover;
	/** What hides the pole, if anything. */
	readonly poleHidden: Hider | undefined;
}

/** Undefined while the coordinates cannot be read. */
export function evaluateSite(cell: SiteContent | undefined): EvaluatedSite | undefined {
	if (cell?.latitude === undefined || cell.longitude === undefined) return undefined;
	const elevation = cell.elevation ?? 0;
	const spot: Spot = {
		latitude: cell.latitude,
		longitude: cell.longitude,
		elevation,
		air: { pressure: cell.pressure ?? standardPressure(elevation), temperature: cell.temperature ?? 10 },
	};
	const zoneThere = zoneAt(cell.latitude, cell.longitude);
	const openings = cell.openings?.flatMap(({ name, outline }): readonly Opening[] =>
		isArea(outline) ? [{ name: name ?? told(words.opening()), outline: outlineOf(outline) }] : [],
	);
	const obstructions = cell.obstructions?.flatMap(({ name, outline, window }): readonly Obstruction[] =>
		isArea(outline)
			? [
					{
						name: name ?? told(words.obstruction()),
						outline: outlineOf(outline),
						window: isArea(window) ? outlineOf(window) : undefined,
					},
				]
			: [],
	);
	const cover = coverOf(cell.skyline, openings, obstructions);
	const zone = cell.timezone !== undefined && isZone(cell.timezone) ? cell.timezone : zoneThere;
	const extinction = cell.extinction ?? usualExtinction(elevation);
	return { content: cell, spot, extinction, zone, zoneThere, cover, poleHidden: hiddenBy(cover, seenPole(spot)) };
}

const isArea = (outline: readonly SkyPoint[] | undefined): outline is readonly SkyPoint[] =>
	outline !== undefined && outline.length >= 3;

/** The magnetic field at the site in the middle of the night. */
export const fieldOf = ({ spot }: EvaluatedSite, at: EpochMs): MagneticField | undefined =>
	magneticField(spot.latitude, spot.longitude, spot.elevation, at);

/** The landmarks whose line of sight is known. */
export function sightLandmarks(
	{ content: cell, spot, cover }: EvaluatedSite,
	field: MagneticField | undefined,
): readonly SightedLandmark[] {
	return (cell.landmarks ?? []).flatMap((landmark): SightedLandmark[] => {
		const { name, latitude, longitude, elevation, bearing, altitude, lit = false } = landmark;
		if (name === undefined) return [];
		if (latitude !== undefined && longitude !== undefined) {
			const line = sightline(spot, { latitude, longitude, elevation: elevation ?? spot.elevation });
			// What was measured from the site was seen from there.
			const unseen = altitude === undefined && bearing === undefined && isHidden(cover, line);
			return [{ name, lit, located: true, unseen, ...line, altitude: altitude ?? line.altitude }];
		}
		if (bearing === undefined) return [];
		const trueBearing = bearing.north === "true" ? bearing.degrees : turn(bearing.degrees + (field?.declination ?? 0));
		const direction = { bearing: trueBearing, altitude: altitude ?? 0 };
		return [{ name, lit, located: false, unseen: false, ...direction, distance: Number.NaN }];
	});
}

/** A skyline that is higher by less may be an error of its measurement, degrees. Common practice, no source. */
const WORTH_SAYING = 1;

function isHidden(cover: Cover, { bearing, altitude }: Pick<SightedLandmark, "bearing" | "altitude">): boolean {
	const direction = { azimuth: bearing, altitude };
	return coveredBy(cover, direction) !== undefined || cover.skylineAt(bearing) - altitude >= WORTH_SAYING;
}

const SHORES: ReadonlySet<string> = new Set(["sea-cave", "shore"]);

/** Whether the tide reaches it. */
export const isByTheSea = (site: EvaluatedSite | undefined): boolean =>
	site?.content.place?.some((place) => SHORES.has(place)) ?? false;
