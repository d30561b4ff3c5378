/** What follows from the site: the pole, the magnetic field, the landmarks, the zone. */

import { poleBearing } from "../../alignment/axis-error.ts";
import { type MagneticField, magneticField } from "../../earth/magnetism.ts";
import { sightline } from "../../earth/sightline.ts";
import { type EpochMs, isZone, zoneAt } from "../../earth/zone.ts";
import type { SightedLandmark } from "../../methods/method.ts";
import { seenPole } from "../../methods/pole-sighting/pole-sighting.ts";
import { degrees } from "../../notation/angle.ts";
import { compassPoint } from "../../notation/bearing.ts";
import type { Spot } from "../../sky/place.ts";
import { standardPressure } from "../../sky/refraction.ts";
import { type Cover, coverOf, hiddenBy, type Opening } from "../../sky/skyline.ts";
import { turn } from "../../sky/vector.ts";
import type { SiteContent } from "../kinds.ts";
import { angleValue, bearingValue, numberValue, textValue, type Value } from "../value.ts";

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
	return { content: cell, spot, zone, zoneThere, cover, poleHidden: hiddenBy(cover, seenPole({ spot })) };
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

/** Figures of a site: the pole, the compass, landmarks. */
export function siteValues(
	site: EvaluatedSite,
	field: MagneticField | undefined,
	landmarks: readonly SightedLandmark[],
): readonly Value[] {
	const { spot, cover, zone, zoneThere, poleHidden } = site;
	const pole = Math.abs(spot.latitude);
	const bearing = poleBearing(spot.latitude);
	const seen = seenPole(site);
	const which = spot.latitude >= 0 ? "north" : "south";
	const declination = field?.declination;
	const spread = field?.declinationSpread;
	return [
		angleValue(
			{
				id: "site.pole-altitude",
				label: "Pole altitude",
				how: `Altitude of the celestial ${which} pole: the latitude's size.`,
				at: ["latitude", ""],
			},
			pole,
			2,
		),
		angleValue(
			{
				id: "site.pole-altitude-apparent",
				label: "Pole altitude as seen",
				how: "With refraction (Sæmundsson).",
				at: ["latitude"],
			},
			seen.altitude,
			2,
		),
		bearingValue(
			{
				id: "site.pole-bearing",
				label: "Pole bearing",
				how: `The celestial ${which} pole lies true ${which}.`,
				at: ["latitude", ""],
			},
			bearing,
		),
		angleValue(
			{
				id: "site.pole-skyline",
				label: "Skyline under the pole",
				how: "Height of the skyline at the pole's bearing.",
				at: ["skyline"],
			},
			cover.skylineAt(bearing),
		),
		textValue(
			{
				id: "site.pole-view",
				label: "Pole",
				how: "Whether the pole, as refraction lifts it, stands above the skyline and in an opening.",
				at: ["latitude", "skyline", "openings", ""],
			},
			poleHidden === undefined
				? "in view"
				: poleHidden === "roof"
					? "hidden: outside every opening"
					: `hidden: ${degrees(cover.skylineAt(bearing) - seen.altitude)} below the skyline`,
		),
		angleValue(
			{
				id: "site.magnetic-declination",
				label: "Magnetic declination",
				how: `${field?.model ?? "World Magnetic Model"} at the night's date; ± is the model's own error (report eq. 43), not that of iron nearby. East positive.`,
				plusMinus: spread,
				at: ["latitude", "longitude", ""],
			},
			declination,
			2,
		),
		numberValue(
			{
				id: "site.magnetic-horizontal",
				label: "Horizontal magnetic field",
				how: "A compass is sluggish under 6000 nT and useless under 2000 nT.",
				at: ["latitude", "longitude"],
			},
			field?.horizontal,
			"nT",
			0,
		),
		bearingValue(
			{
				id: "site.pole-compass-bearing",
				label: "Compass reading of the pole's bearing",
				how: "True bearing less magnetic declination.",
				plusMinus: spread,
				at: ["latitude", "longitude", ""],
			},
			declination === undefined ? undefined : turn(bearing - declination),
			"magnetic",
		),
		textValue(
			{
				id: "site.timezone",
				label: "Time zone",
				how:
					zone === zoneThere ? "Found from the coordinates." : `As the plan says; the coordinates lie in ${zoneThere}.`,
				at: ["timezone", "longitude", ""],
			},
			zone,
		),
		...landmarks.flatMap((landmark, index) =>
			landmarkValues(landmark, declination, placeOfLandmark(site, landmark.name, index)),
		),
	];
}

const placeOfLandmark = ({ content: cell }: EvaluatedSite, name: string, index: number): string =>
	`landmarks.${Math.max(cell.landmarks?.findIndex((landmark) => landmark.name === name) ?? index, 0)}`;

function landmarkValues(
	{ name, bearing, altitude, distance, located }: SightedLandmark,
	declination: number | undefined,
	path: string,
): readonly Value[] {
	const at = [path, `${path}.name`, `${path}.latitude`, `${path}.longitude`, `${path}.bearing`];
	const how = located ? "Geodesic on WGS 84 (Karney 2013)." : "As measured from the stand.";
	return [
		bearingValue(
			{ id: "site.landmark-bearing", label: `${name}: bearing (${compassPoint(bearing)})`, of: name, how, at },
			bearing,
		),
		bearingValue(
			{
				id: "site.landmark-compass-bearing",
				label: `${name}: compass reading`,
				of: name,
				how: "True bearing less magnetic declination.",
				at,
			},
			declination === undefined ? undefined : turn(bearing - declination),
			"magnetic",
		),
		angleValue(
			{
				id: "site.landmark-altitude",
				label: `${name}: altitude as seen`,
				of: name,
				how: "Earth's curvature and standard terrestrial refraction (k = 0.13) included.",
				at: [...at, `${path}.elevation`, `${path}.altitude`],
			},
			altitude,
			2,
		),
		...(located
			? [
					numberValue(
						{ id: "site.landmark-distance", label: `${name}: distance`, of: name, how: "Along the ellipsoid.", at },
						distance,
						"m",
						0,
					),
				]
			: []),
	];
}
