import { Command, InvalidArgumentError } from "commander";
import { Temporal } from "temporal-polyfill";
import { magneticField } from "../../shared/earth/magnetism.ts";
import { degrees } from "../../shared/notation/angle.ts";
import { bearingWithPoint } from "../../shared/notation/bearing.ts";
import { jsonText } from "../../shared/outputs/json/json.ts";
import { rows } from "../../shared/outputs/text/layout.ts";
import { magnitudeAt } from "../../shared/sky/brightness.ts";
import { frameAt } from "../../shared/sky/frame.ts";
import { airlessDirection, BODY_NAMES, equatorialPlace, findBody, type Spot } from "../../shared/sky/place.ts";
import { apparentAltitude, standardPressure } from "../../shared/sky/refraction.ts";
import { starSpellings } from "../../shared/sky/stars.ts";
import { turn } from "../../shared/sky/vector.ts";
import { nearestWord } from "../../shared/text/nearest.ts";
import { CannotRun } from "../files.node.ts";
import { coordinate, metres } from "./place-options.ts";

interface Options {
	readonly latitude: number;
	readonly longitude: number;
	readonly elevation: number;
	readonly at: number;
	readonly json?: boolean;
}

function instant(text: string): number {
	try {
		return Temporal.Instant.from(text).epochMilliseconds;
	} catch {
		throw new InvalidArgumentError(
			"Write a moment in ISO 8601 with its offset: 2027-06-05T20:01:00-03:00 or 2027-06-05T23:01:00Z.",
		);
	}
}

export const locateCommand = (): Command =>
	new Command("locate")
		.description(
			"Tells where a star, a planet, the Moon, the Sun or the galactic centre is, seen from a place at a moment.",
		)
		.argument("<body>", "a star ('eta Virginis', 'eta Vir', Spica, 'HIP 60129'), sun, moon, a planet, galactic-centre")
		.requiredOption("--latitude <latitude>", "north positive, or with N or S", coordinate("latitude"))
		.requiredOption("--longitude <longitude>", "east positive, or with E or W", coordinate("longitude"))
		.option("--elevation <elevation>", "above sea level, metres or with a unit", metres("1450, '4750 ft'"), 0)
		.requiredOption("--at <instant>", "ISO 8601 with offset or Z", instant)
		.option("--json", "print JSON")
		.addHelpText(
			"after",
			"\nExample:\n  lodebook locate 'eta Virginis' --latitude -32.4123 --longitude -54.3622 --at 2027-06-05T20:01:00-03:00",
		)
		.action((name: string, { latitude, longitude, elevation, at, json }: Options) => {
			const body = findBody(name);
			if (!body) {
				const nearest = nearestWord(name, [...BODY_NAMES, ...starSpellings()]);
				throw new CannotRun(
					`no star to magnitude 6, planet or other body is called '${name}'${nearest ? `; did you mean ${nearest}?` : ""}`,
				);
			}
			const year = new Date(at).getUTCFullYear();
			if (year < 1900 || year > 2100)
				throw new CannotRun(`${year} is outside the tables of the sky, which cover 1900 to 2100`);
			const spot: Spot = {
				latitude,
				longitude,
				elevation,
				air: { pressure: standardPressure(elevation), temperature: 10 },
			};
			const frame = frameAt(at);
			const { azimuth, altitude } = airlessDirection(body, spot, at, frame);
			const { hourAngle, rightAscension, declination } = equatorialPlace(body, spot, at, frame);
			const field = magneticField(latitude, longitude, elevation, at);
			const record = {
				body: body.name,
				at: new Date(at).toISOString(),
				azimuth,
				altitude,
				apparentAltitude: apparentAltitude(altitude, spot.air),
				compassBearing: field ? turn(azimuth - field.declination) : null,
				hourAngle,
				rightAscension,
				declination,
				magnitude: magnitudeAt(body, at) ?? null,
			};
			if (json) process.stdout.write(jsonText(record));
			else {
				process.stdout.write(
					`${record.body} at ${record.at}\n${rows([
						["bearing, true", bearingWithPoint(azimuth)],
						["altitude without refraction", degrees(altitude, 3)],
						["altitude as seen", degrees(record.apparentAltitude, 3)],
						[
							"bearing, magnetic",
							record.compassBearing === null
								? "none: no magnetic model for that year"
								: bearingWithPoint(record.compassBearing),
						],
						["hour angle", degrees(hourAngle, 3)],
						["right ascension of date", degrees(rightAscension, 4)],
						["declination of date", degrees(declination, 4)],
						["magnitude", record.magnitude === null ? "none" : record.magnitude.toFixed(2)],
					])}`,
				);
			}
		});
