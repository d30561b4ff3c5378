/** How bright a body is: V magnitudes. */
import { Body, Illumination } from "astronomy-engine";
import type { EpochMs } from "../earth/zone.ts";
import { Kept } from "../memory/memory.ts";
import { cometMagnitude } from "./comet.ts";
import { astroTime } from "./frame.ts";
import type { SkyBody } from "./place.ts";

/** V magnitude of a body at an instant; undefined for a mere place in the sky and for an object without one. Planets, Moon and Sun: astronomy-engine. */
export function magnitudeAt(body: SkyBody, at: EpochMs): number | undefined {
	switch (body.type) {
		case "star":
			return body.star.magnitude;
		case "planet":
			return Illumination(body.body, astroTime(at)).mag;
		case "sun":
			return Illumination(Body.Sun, astroTime(at)).mag;
		case "moon":
			return Illumination(Body.Moon, astroTime(at)).mag;
		case "fixed":
			return body.object?.magnitude;
		case "comet":
			return cometMagnitude(body.elements, at);
		case "pole":
		case "arch":
			return undefined;
	}
}

const DAY_MS = 86_400_000;
const newDays = (): Kept<number, number> => new Kept(1000);
/** By planet and day. */
const planets = new Kept<Body, Kept<number, number>>(20);

/**
 * V magnitude of what may be too faint to find, a planet's at the nearest noon (it changes by some hundredths in a
 * day); undefined for the Sun and the Moon.
 */
export function brightness(body: SkyBody, at: EpochMs): number | undefined {
	if (body.type === "star") return body.star.magnitude;
	if (body.type === "fixed") return body.object?.magnitude;
	if (body.type !== "planet") return undefined;
	return planets
		.of(body.body, newDays)
		.of(Math.round(at / DAY_MS), (day) => Illumination(body.body, astroTime(day * DAY_MS)).mag);
}
