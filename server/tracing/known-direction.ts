/** What a mark in a photo is said to be, as a direction: landmarks, the sky at the photo's time, the pole, the horizon. */
import { seenPole } from "../../shared/alignment/pole.ts";
import { type EpochMs, instantsOf } from "../../shared/earth/zone.ts";
import type { Evaluation } from "../../shared/evaluate/evaluate.ts";
import { lazily } from "../../shared/memory/memory.ts";
import { readBearing } from "../../shared/notation/bearing.ts";
import { readClockTime } from "../../shared/notation/clock.ts";
import { readDate } from "../../shared/notation/date.ts";
import { readQuantity } from "../../shared/notation/quantity.ts";
import { sunAltitude } from "../../shared/sky/night.ts";
import { allNames, apparentDirection, findBody } from "../../shared/sky/place.ts";
import { starAt, starColumns } from "../../shared/sky/stars.ts";
import { turn } from "../../shared/sky/vector.ts";
import { nearestWord } from "../../shared/text/nearest.ts";
import { type Phrase, sentences, texts } from "../../shared/text/sentence.ts";

const names = texts("tracing.names", { horizon: "level horizon", pole: "celestial pole" });

const words = sentences("tracing.mark", {
	empty: "Say what it is.",
	unknown: `\`{what}\` is not a landmark of the plan, a star, a planet, the Sun, the Moon, \`level horizon\` or
		\`celestial pole\`. A direction of your own is a bearing and an altitude: \`134°M, 2.5°\`.{nearest}`,
	nearest: " Did you mean `{name}`?",
	noTime: "{name} moves: it needs the photo's date and time.",
	noSite: "The plan has no site with coordinates that can be read.",
	below: "At that time {name} was below the horizon.",
	noDeclination: "A magnetic bearing needs the magnetic declination, which is not known here.",
	altitude: "The altitude of `{what}` must be between −90° and 90°.",
});

/** Degrees; of some things one of the two alone is known. */
export interface KnownDirection {
	readonly name: string;
	readonly bearing: number | undefined;
	readonly altitude: number | undefined;
}

/** What a mark is, or why that cannot be said. `at`: when the photo was taken. */
export function knownDirection(what: string, evaluation: Evaluation, at: EpochMs | undefined): KnownDirection | Phrase {
	const { site } = evaluation;
	const name = what.trim();
	if (name === "") return words.empty();
	if (!site) return words.noSite();
	const said = name.toLowerCase();
	if (said === names.horizon || said === "horizon") return { name: names.horizon, bearing: undefined, altitude: 0 };
	if (said === names.pole || said === "pole") {
		const { azimuth, altitude } = seenPole(site.spot);
		return { name: names.pole, bearing: azimuth, altitude };
	}
	const landmark = landmarkDirection(said, evaluation);
	if (landmark) return landmark;
	const typed = typedDirection(name, evaluation);
	if (typed) return typed;
	const body = findBody(name);
	if (!body || body.type === "arch") {
		const near = nearestWord(name, [...namesOf(evaluation), ...allNames()]);
		return words.unknown({ what: name, nearest: near === undefined ? "" : words.nearest({ name: near }) });
	}
	if (at === undefined) return words.noTime({ name: body.name });
	const { azimuth, altitude } = apparentDirection(body, site.spot, at);
	return altitude < LOWEST ? words.below({ name: body.name }) : { name: body.name, bearing: azimuth, altitude };
}

/** A body whose middle is a little below the horizon may still be seen from a height. */
const LOWEST = -3;

const namesOf = ({ site }: Evaluation): readonly string[] =>
	(site?.content.landmarks ?? []).flatMap(({ name }) => (name === undefined ? [] : [name]));

/** A landmark whose own height is not in the plan has a bearing alone. */
function landmarkDirection(said: string, { site, landmarks }: Evaluation): KnownDirection | undefined {
	const sighted = landmarks.find(({ name }) => name.toLowerCase() === said);
	const entry = site?.content.landmarks?.find(({ name }) => name === sighted?.name);
	if (!sighted || !entry) return undefined;
	const computed = sighted.located && entry.elevation !== undefined ? sighted.altitude : undefined;
	return { name: sighted.name, bearing: sighted.bearing, altitude: entry.altitude ?? computed };
}

/** `134°M, 2.5°`: a bearing and an altitude. */
function typedDirection(text: string, { field }: Evaluation): KnownDirection | Phrase | undefined {
	const [, first = "", second = ""] = /^([^,;\s]+)\s*[,;\s]\s*(\S+)$/.exec(text) ?? [];
	const bearing = readBearing(first);
	const plain = /^[-−+]?\d+(?:\.\d+)?$/.test(second) ? `${second.replace("−", "-")}°` : second.replace("−", "-");
	const altitude = readQuantity(plain, "angle");
	if (!bearing || !altitude.ok) return undefined;
	if (Math.abs(altitude.value) > 90) return words.altitude({ what: text });
	if (bearing.north === "magnetic" && !field) return words.noDeclination();
	const declination = bearing.north === "magnetic" ? (field?.declination ?? 0) : 0;
	return { name: text, bearing: turn(bearing.degrees + declination), altitude: altitude.value };
}

/** `2027-06-05 18:12:30` of the site's clock; undefined where it cannot be read, or no clock there shows it. */
export function photoTime(text: string, zone: string): EpochMs | undefined {
	const [, day = "", clock = ""] = /^\s*(\S+)[\sT]+(\S+)\s*$/.exec(text) ?? [];
	const date = readDate(day);
	const seconds = readClockTime(clock);
	return date && seconds !== undefined ? instantsOf(zone, date, seconds)[0] : undefined;
}

/** Stars that a photo is sure to show. */
const BRIGHT = 2;
/** Degrees of the Sun below the horizon from which on bright stars show. Common practice, no source. */
const STARS_FROM = -6;

/** What can be said of a mark: what never moves, then what was up when the photo was taken. */
export function offers(evaluation: Evaluation, at: EpochMs | undefined): readonly string[] {
	const { site } = evaluation;
	const still = [...namesOf(evaluation), names.horizon, names.pole];
	if (!site || at === undefined) return still;
	const isUp = (name: string): boolean => {
		const body = findBody(name);
		return body !== undefined && apparentDirection(body, site.spot, at).altitude > 0;
	};
	const bodies = ["Sun", "Moon", "Venus", "Jupiter", "Mars", "Saturn"].filter(isUp);
	return [...still, ...bodies, ...(sunAltitude(site.spot, at) < STARS_FROM ? brightNames().filter(isUp) : [])];
}

/** Names of the brightest stars, the brightest first. */
const brightNames = lazily(() =>
	[...starColumns().magnitude.keys()]
		.filter((index) => (starColumns().magnitude[index] as number) < BRIGHT)
		.map(starAt)
		.sort((a, b) => a.magnitude - b.magnitude)
		.map(({ name }) => name),
);
