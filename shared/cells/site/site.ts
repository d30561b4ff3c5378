/** What follows from the site: the pole, the magnetic field, the landmarks, the zone. */

import { seenPole } from "../../alignment/pole.ts";
import { type MagneticField, magneticField } from "../../earth/magnetism.ts";
import { sightline } from "../../earth/sightline.ts";
import { type EpochMs, isZone, zoneAt } from "../../earth/zone.ts";
import type { SightedLandmark } from "../../methods/tonight.ts";
import type { Spot } from "../../sky/place.ts";
import { standardPressure } from "../../sky/refraction.ts";
import { type Cover, coverOf, hiddenBy, type Opening } from "../../sky/skyline.ts";
import { turn } from "../../sky/vector.ts";
import type { SiteContent } from "./keys.ts";

export interface EvaluatedSite {
	readonly content: SiteContent;
	readonly spot: Spot;
	/** The zone in use: the cell's if it exists, else the one found from the coordinates. */
	readonly zone: string;
	/** The zone the coordinates lie in. */
	readonly zoneThere: string;
	readonly cover: Cover;
	/** What hides the pole, if anything. */
	readonly poleHidden: "horizon" | "skyline" | "roof" | undefined;
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
	const openings = cell.openings
		?.filter(
			(opening): opening is { name?: string; outline: NonNullable<typeof opening.outline> } =>
				(opening.outline?.length ?? 0) >= 3,
		)
		.map(({ name, outline }): Opening => ({ name: name ?? "opening", outline }));
	const cover = coverOf(cell.skyline, openings);
	const zone = cell.timezone !== undefined && isZone(cell.timezone) ? cell.timezone : zoneThere;
	return { content: cell, spot, zone, zoneThere, cover, poleHidden: hiddenBy(cover, seenPole(spot)) };
}

/** The magnetic field at the site in the middle of the night. */
export const fieldOf = ({ spot }: EvaluatedSite, at: EpochMs): MagneticField | undefined =>
	magneticField(spot.latitude, spot.longitude, spot.elevation, at);

/** The landmarks whose line of sight is known. */
export function sightLandmarks(
	{ content: cell, spot }: EvaluatedSite,
	field: MagneticField | undefined,
): readonly SightedLandmark[] {
	return (cell.landmarks ?? []).flatMap((landmark): SightedLandmark[] => {
		const { name, latitude, longitude, elevation, bearing, altitude } = landmark;
		if (name === undefined) return [];
		if (latitude !== undefined && longitude !== undefined) {
			return [
				{ name, located: true, ...sightline(spot, { latitude, longitude, elevation: elevation ?? spot.elevation }) },
			];
		}
		if (bearing === undefined) return [];
		const trueBearing = bearing.north === "true" ? bearing.degrees : turn(bearing.degrees + (field?.declination ?? 0));
		return [{ name, located: false, bearing: trueBearing, distance: Number.NaN, altitude: altitude ?? 0 }];
	});
}
