import { Command, InvalidArgumentError } from "commander";
import { Temporal } from "temporal-polyfill";
import { magneticField } from "../../shared/earth/magnetism.ts";
import { degrees } from "../../shared/notation/angle.ts";
import { bearingWithPoint } from "../../shared/notation/bearing.ts";
import { cometProblem } from "../../shared/notation/comet.ts";
import { kindName, objectName, objectOf, objectText } from "../../shared/notation/sky-object.ts";
import { answerText } from "../../shared/outputs/json/json.ts";
import { rows } from "../../shared/outputs/text/layout.ts";
import { magnitudeAt } from "../../shared/sky/brightness.ts";
import { cometState, dayOfElements } from "../../shared/sky/comet.ts";
import { isCometLine, readCometLine } from "../../shared/sky/comet-line.ts";
import { daysSinceJ2000, frameAt } from "../../shared/sky/frame.ts";
import { airlessDirection, allNames, equatorialPlace, findBody, type Spot } from "../../shared/sky/place.ts";
import { apparentAltitude, standardPressure } from "../../shared/sky/refraction.ts";
import { turn } from "../../shared/sky/vector.ts";
import { nearestWord } from "../../shared/text/nearest.ts";
import { sentences, told } from "../../shared/text/sentence.ts";
import { CannotRun } from "../files.node.ts";
import { HELP } from "../help-words.ts";
import { coordinate, metres } from "./place-options.ts";

const words = sentences("command.locate", {
	writeMomentIso: "Write a moment in ISO 8601 with its offset: 2027-06-05T20:01:00-03:00 or 2027-06-05T23:01:00Z.",
	tellsWhereStar: `Shows where a star, a planet, the Moon, the Sun, an object such as M42, a constellation or a comet is, seen
			from a place at a moment.`,
	northPositiveOr: "degrees, north positive, or with N or S, such as 46.5 N",
	eastPositiveOr: "degrees, east positive, or with E or W, such as 8.5 E",
	aboveSeaLevel: "above sea level, metres or with a unit",
	isoWithOffset: "ISO 8601 with offset or Z (default: now)",
	bothNeeded: "--latitude and --longitude belong together: write both, or neither.",
	needsPlace: "Where the {name} is among the stars depends on the place: --latitude and --longitude are needed.",
	noPlace: "For bearing and altitude add --latitude and --longitude, and --at for another time than now.",
	unknown: "no star to magnitude 6, planet, object or constellation is called '{name}'",
	unknownMeant: "no star to magnitude 6, planet, object or constellation is called '{name}'; did you mean {nearest}?",
	outsideTablesSky: "{year} is outside the years for which the sky is computed, 1900 to 2100",
	whatItIs: "what it is",
	comet:
		"comet, {away} from the Sun in the sky, {fromSun} au from the Sun, {fromEarth} au from Earth, moves {motion}″ a minute",
	cometMagnitude: "{magnitude} by its elements; comets are often brighter or fainter by a magnitude or more",
	altitudeWithoutRefraction: "altitude without refraction",
	altitudeAsSeen: "altitude as seen",
	noneNoMagnetic: "none: no magnetic model for that year",
	rightAscensionDate: "right ascension of date",
	declinationDate: "declination of date",
});

interface Options {
	readonly latitude?: number;
	readonly longitude?: number;
	readonly elevation: number;
	readonly at?: number;
	readonly json?: boolean;
}

function instant(text: string): number {
	try {
		return Temporal.Instant.from(text).epochMilliseconds;
	} catch {
		throw new InvalidArgumentError(told(words.writeMomentIso()));
	}
}

export const locateCommand = (): Command =>
	new Command("locate")
		.description(told(words.tellsWhereStar()))
		.argument(
			"<body>",
			"a star ('eta Virginis', 'eta Vir', Spica, 'HIP 60129'), sun, moon, a planet, galactic-centre, an object (M42, 'NGC 7000', 'omega Centauri'), a constellation, a comet by its line of orbital elements, as the Minor Planet Center publishes it",
		)
		.option("--latitude <latitude>", told(words.northPositiveOr()), coordinate("latitude"))
		.option("--longitude <longitude>", told(words.eastPositiveOr()), coordinate("longitude"))
		.option("--elevation <elevation>", told(words.aboveSeaLevel()), metres("1450, '4750 ft'"), 0)
		.option("--at <instant>", told(words.isoWithOffset()), instant)
		.option("--json", HELP.json)
		.addHelpText(
			"after",
			`\n${HELP.examples}\n  lodebook locate M42\n  lodebook locate 'eta Virginis' --latitude -32.4123 --longitude -54.3622 --at 2027-06-05T20:01:00-03:00`,
		)
		.action((name: string, { latitude, longitude, elevation, at = Date.now(), json }: Options) => {
			if ((latitude === undefined) !== (longitude === undefined))
				throw new InvalidArgumentError(told(words.bothNeeded()));
			const body = findBody(name);
			const line = isCometLine(name) ? readCometLine(name) : undefined;
			if (line && !line.ok) throw new CannotRun(told(cometProblem(line.problem)));
			if (!body) {
				const nearest = nearestWord(name, allNames());
				throw new CannotRun(told(nearest ? words.unknownMeant({ name, nearest }) : words.unknown({ name })));
			}
			const year = new Date(at).getUTCFullYear();
			if (year < 1900 || year > 2100) throw new CannotRun(told(words.outsideTablesSky({ year })));
			const place = latitude === undefined || longitude === undefined ? undefined : { latitude, longitude };
			if (!place && (body.type === "moon" || body.type === "arch"))
				throw new CannotRun(told(words.needsPlace({ name: body.name })));
			// From anywhere on Earth a planet or a comet has the same place among the stars within a hundredth of a degree.
			const spot: Spot = {
				...(place ?? { latitude: 0, longitude: 0 }),
				elevation,
				air: { pressure: standardPressure(elevation), temperature: 10 },
			};
			const frame = frameAt(at);
			const { hourAngle, rightAscension, declination } = equatorialPlace(body, spot, at, frame);
			const field = place && magneticField(place.latitude, place.longitude, elevation, at);
			const seen = place && airlessDirection(body, spot, at, frame);
			const object = objectOf(body);
			const comet = body.type === "comet" ? cometState(body.elements, at) : undefined;
			const record = {
				body: object ? objectName(object) : body.name,
				at: new Date(at).toISOString(),
				azimuth: seen?.azimuth ?? null,
				altitude: seen?.altitude ?? null,
				apparentAltitude: seen ? apparentAltitude(seen.altitude, spot.air) : null,
				compassBearing: seen && field ? turn(seen.azimuth - field.declination) : null,
				hourAngle: place ? hourAngle : null,
				rightAscension,
				declination,
				magnitude: magnitudeAt(body, at) ?? null,
				...(object && {
					kind: kindName(object),
					size: object.size,
					rightAscensionJ2000: object.rightAscension,
					declinationJ2000: object.declination,
				}),
				...(body.type === "comet" &&
					comet && {
						kind: "comet",
						sunDistance: comet.fromSun,
						earthDistance: comet.fromEarth,
						elongation: comet.elongation,
						motion: comet.motion,
						elementsAge: Math.abs(daysSinceJ2000(at) - dayOfElements(body.elements)),
					}),
			};
			if (json) process.stdout.write(answerText(record));
			else {
				process.stdout.write(
					`${record.body} at ${record.at}\n${rows([
						...(object ? [[told(words.whatItIs()), objectText(object)] as const] : []),
						...(comet
							? [
									[
										told(words.whatItIs()),
										told(
											words.comet({
												away: degrees(comet.elongation, 0),
												fromSun: comet.fromSun.toFixed(2),
												fromEarth: comet.fromEarth.toFixed(2),
												motion: comet.motion.toFixed(1),
											}),
										),
									] as const,
								]
							: []),
						...(seen
							? ([
									["bearing, true", bearingWithPoint(seen.azimuth)],
									[told(words.altitudeWithoutRefraction()), degrees(seen.altitude, 3)],
									[told(words.altitudeAsSeen()), degrees(apparentAltitude(seen.altitude, spot.air), 3)],
									[
										"bearing, magnetic",
										record.compassBearing === null
											? told(words.noneNoMagnetic())
											: bearingWithPoint(record.compassBearing),
									],
									["hour angle", degrees(hourAngle, 3)],
								] as const)
							: []),
						[told(words.rightAscensionDate()), degrees(rightAscension, place ? 4 : 2)],
						[told(words.declinationDate()), degrees(declination, place ? 4 : 2)],
						[
							"magnitude",
							record.magnitude === null
								? "none"
								: comet
									? told(words.cometMagnitude({ magnitude: record.magnitude.toFixed(1) }))
									: record.magnitude.toFixed(2),
						],
					])}${place ? "" : `${told(words.noPlace())}\n`}`,
				);
			}
		});
