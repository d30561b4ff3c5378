/** The stars as they are seen over a spot at an instant, refraction included, with the bright planets among them. */
import type { EpochMs } from "../earth/zone.ts";
import { magnitudeAt } from "../sky/brightness.ts";
import { frameNear, siderealRad } from "../sky/frame.ts";
import { toDirection, toLocal, toVector } from "../sky/horizontal.ts";
import { airlessDirection, findBody, type Spot } from "../sky/place.ts";
import { apparentAltitude } from "../sky/refraction.ts";
import { starAt, starColumns, starVector } from "../sky/stars.ts";
import { plus, RAD, type Vector } from "../sky/vector.ts";
import type { StarSky } from "./identify.ts";

/** Stars and planets over a spot: directions (east, north, up), the brightest first. */
export interface NamedSky extends StarSky {
	readonly nameOf: (star: number) => string;
}

/** Planets that are as bright as the stars of the table. */
const PLANETS = ["mercury", "venus", "mars", "jupiter", "saturn"] as const;
/** Speed of a point on Earth's equator over that of light. */
const DIURNAL_ABERRATION = 1.5505e-6;

/** The sky of an instant: also below the horizon, where a clock that is wrong may put what the frame shows. */
export function skyOver(spot: Spot, at: EpochMs): NamedSky {
	const { magnitude } = starColumns();
	const frame = frameNear(at);
	const lst = siderealRad(frame, at) + spot.longitude * RAD;
	const aberration: Vector = [DIURNAL_ABERRATION * Math.cos(spot.latitude * RAD), 0, 0];
	const entries: { readonly magnitude: number; readonly name: () => string; readonly local: Vector }[] = [];
	for (let i = 0; i < magnitude.length; i++)
		entries.push({
			magnitude: magnitude[i] as number,
			name: () => starAt(i).name,
			local: seen(plus(toLocal(starVector(i, frame), lst, spot.latitude), aberration), spot),
		});
	for (const name of PLANETS) {
		const body = findBody(name);
		const bright = body && magnitudeAt(body, at);
		if (!body || bright === undefined) continue;
		entries.push({
			magnitude: bright,
			name: () => body.name,
			local: seen(toVector(airlessDirection(body, spot, at)), spot),
		});
	}
	entries.sort((a, b) => a.magnitude - b.magnitude);
	const vectors = new Float64Array(3 * entries.length);
	const magnitudes = new Float64Array(entries.length);
	entries.forEach(({ magnitude: one, local }, i) => {
		vectors.set(local, 3 * i);
		magnitudes[i] = one;
	});
	return { vectors, magnitudes, nameOf: (star) => entries[star]?.name() ?? "" };
}

function seen(local: Vector, { air }: Spot): Vector {
	const { azimuth, altitude } = toDirection(local);
	return toVector({ azimuth, altitude: apparentAltitude(altitude, air) });
}
