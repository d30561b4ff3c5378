/** The values of a site: the pole, the compass, the zone, landmarks. */
import { poleBearing } from "../../alignment/axis-error.ts";
import { seenPole } from "../../alignment/pole.ts";
import type { MagneticField } from "../../earth/magnetism.ts";
import type { SightedLandmark } from "../../methods/tonight.ts";
import { degrees } from "../../notation/angle.ts";
import { compassPoint } from "../../notation/bearing.ts";
import { type PathOf, type Value, valuesFor } from "../../notation/value.ts";
import { turn } from "../../sky/vector.ts";
import { sentences, told } from "../../text/sentence.ts";
import type { SiteContent } from "./keys.ts";
import type { EvaluatedSite } from "./site.ts";

const words = sentences("value.site", {
	north: "north",
	south: "south",
	usualExtinction: "By the site's elevation (common practice): 0.2 mag at sea level, 0.12 mag from 2500 m.",
	asInPlan: "As the plan says.",
	inView: "in view",
	inHaze: "in view, in the haze at {altitude}",
	noSkyline: "not given: taken as flat, at 0°",
	outside: "hidden: outside every opening",
	obstructed: "hidden: behind `{name}`",
	below: "hidden: {angle} below the skyline",
	anyModel: "World Magnetic Model",
	found: "Found from the coordinates.",
	asWritten: "As the plan says; the coordinates lie in {zone}.",
	geodesic: "Geodesic on WGS 84 (Karney 2013).",
	measured: "As measured from the spot.",
});

export const SITE_VALUES = valuesFor<PathOf<SiteContent>>()("site", {
	"pole-altitude": {
		is: "angle",
		places: 2,
		label: "Pole altitude",
		how: "Altitude of the celestial {which} pole: as many degrees as the latitude.",
		at: ["latitude", ""],
	},
	"pole-altitude-apparent": {
		is: "angle",
		places: 2,
		label: "Pole altitude as seen",
		how: "With refraction (Sæmundsson).",
		at: ["latitude"],
	},
	"pole-bearing": {
		is: "bearing",
		label: "Pole bearing",
		how: "The celestial {which} pole lies true {which}.",
		at: ["latitude", ""],
	},
	"pole-skyline": {
		is: "angle",
		label: "Skyline under the pole",
		how: "Altitude of the skyline at the pole's bearing.",
		at: ["skyline"],
	},
	"pole-view": {
		is: "text",
		label: "Pole",
		how: "Whether the pole, lifted by refraction, is above the skyline, in an opening and behind no obstruction.",
		at: ["latitude", "skyline", "openings", ""],
	},
	extinction: {
		is: "number",
		unit: "mag",
		places: 2,
		label: "Extinction per air mass",
		how: "{how}",
		at: ["extinction", "elevation"],
	},
	"magnetic-declination": {
		is: "side",
		plus: "east",
		minus: "west",
		label: "Magnetic declination",
		how: `{model} at the night's date; the ± is the model's own error (report eq. 43), not that of iron nearby. East
			is positive.`,
		at: ["latitude", "longitude", ""],
	},
	"magnetic-horizontal": {
		is: "number",
		unit: "nT",
		places: 0,
		label: "Horizontal magnetic field",
		how: "A compass is sluggish below 6000 nT and useless below 2000 nT.",
		at: ["latitude", "longitude"],
	},
	"pole-compass-bearing": {
		is: "magnetic",
		label: "Compass reading of the pole's bearing",
		how: "True bearing minus the magnetic declination.",
		at: ["latitude", "longitude", ""],
	},
	timezone: { is: "text", label: "Time zone", how: "{how}", at: ["timezone", "longitude", ""] },
	"landmark-bearing": { is: "bearing", label: "{name}: bearing ({point})", how: "{how}", at: ["landmarks"] },
	"landmark-compass-bearing": {
		is: "magnetic",
		label: "{name}: compass reading",
		how: "True bearing minus the magnetic declination.",
		at: ["landmarks"],
	},
	"landmark-altitude": {
		is: "angle",
		places: 2,
		label: "{name}: altitude as seen",
		how: "Earth's curvature and standard terrestrial refraction (k = 0.13) included.",
		at: ["landmarks"],
	},
	"landmark-distance": {
		is: "number",
		unit: "m",
		places: 0,
		label: "{name}: distance",
		how: "Along the Earth's surface (WGS 84).",
		at: ["landmarks"],
	},
});

/** Below this altitude the air takes two magnitudes of a star and more, degrees. Common practice, no source. */
const IN_HAZE = 5;

/** Values of a site: the pole, the compass, landmarks. */
export function siteValues(
	site: EvaluatedSite,
	field: MagneticField | undefined,
	landmarks: readonly SightedLandmark[],
): readonly Value[] {
	const { spot, cover, zone, zoneThere, poleHidden } = site;
	const bearing = poleBearing(spot.latitude);
	const seen = seenPole(spot);
	const which = spot.latitude >= 0 ? words.north() : words.south();
	const { declination, declinationSpread: plusMinus } = field ?? {};
	const values = SITE_VALUES;
	const view =
		poleHidden === undefined
			? seen.altitude < IN_HAZE
				? words.inHaze({ altitude: degrees(seen.altitude) })
				: words.inView()
			: poleHidden === "roof"
				? words.outside()
				: typeof poleHidden === "object"
					? words.obstructed({ name: poleHidden.name })
					: words.below({ angle: degrees(cover.skylineAt(bearing) - seen.altitude) });
	return [
		values["pole-altitude"](Math.abs(spot.latitude), { fill: { which } }),
		values["pole-altitude-apparent"](seen.altitude),
		values["pole-bearing"](bearing, { fill: { which } }),
		values["pole-skyline"](site.content.skyline && cover.skylineAt(bearing), { otherwise: told(words.noSkyline()) }),
		values["pole-view"](told(view)),
		values.extinction(site.extinction, {
			fill: { how: site.content.extinction === undefined ? words.usualExtinction() : words.asInPlan() },
		}),
		values["magnetic-declination"](declination, {
			plusMinus,
			fill: { model: field?.model ?? words.anyModel() },
		}),
		values["magnetic-horizontal"](field?.horizontal),
		values["pole-compass-bearing"](declination === undefined ? undefined : turn(bearing - declination), { plusMinus }),
		values.timezone(zone, {
			fill: { how: zone === zoneThere ? words.found() : words.asWritten({ zone: zoneThere }) },
		}),
		...landmarks.flatMap((landmark, index) =>
			landmarkValues(landmark, declination, pathOf(site, landmark.name, index)),
		),
	];
}

const pathOf = ({ content }: EvaluatedSite, name: string, index: number): number =>
	Math.max(content.landmarks?.findIndex((landmark) => landmark.name === name) ?? index, 0);

function landmarkValues(
	{ name, bearing, altitude, distance, located }: SightedLandmark,
	declination: number | undefined,
	index: number,
): readonly Value[] {
	const path = `landmarks.${index}` as const;
	const at: readonly PathOf<SiteContent>[] = [
		path,
		`${path}.name`,
		`${path}.latitude`,
		`${path}.longitude`,
		`${path}.bearing`,
	];
	const higher: typeof at = [...at, `${path}.elevation`, `${path}.altitude`];
	const of = name;
	const how = located ? words.geodesic() : words.measured();
	const values = SITE_VALUES;
	return [
		values["landmark-bearing"](bearing, { of, at, fill: { name, point: compassPoint(bearing), how } }),
		values["landmark-compass-bearing"](declination === undefined ? undefined : turn(bearing - declination), {
			of,
			at,
			fill: { name },
		}),
		values["landmark-altitude"](altitude, { of, at: higher, fill: { name } }),
		...(located ? [values["landmark-distance"](distance, { of, at, fill: { name } })] : []),
	];
}
