/**
 * What the view from the spot and the all-sky chart say at an instant, for who cannot see them. The page's script says
 * it with the same function that said it first.
 */
import { turn } from "../../sky/vector.ts";
import { between, type PanoramaFrame, seenAt } from "./sky-paths.ts";

export interface SkySays {
	/** Sentences with `{clock}` and `{targets}` to be filled in. */
	readonly view: string;
	readonly chart: string;
	/** A target's, with `{name}`, `{altitude}` and `{bearing}`, and of one that is not up. */
	readonly up: string;
	readonly down: string;
	readonly targets: readonly SaidTarget[];
}

export interface SaidTarget {
	readonly name: string;
	/** Its course without refraction: time, hour angle and declination, degrees. */
	readonly course: readonly (readonly [at: number, hourAngle: number, declination: number])[];
}

/** `clock`: the time as it is told. */
export function saidAt(
	{ view, chart, up, down, targets }: SkySays,
	frame: PanoramaFrame,
	clock: string,
	at: number,
): { readonly view: string; readonly chart: string } {
	const said = targets.map(({ name, course }) => {
		const { azimuth, altitude } = courseAt(frame, course, at);
		return altitude < 0
			? filled(down, { name })
			: filled(up, { name, altitude: `${altitude.toFixed(1)}°`, bearing: `${threeFigures(azimuth)}°` });
	});
	const values = { clock, targets: said.join("") };
	return { view: filled(view, values), chart: filled(chart, values) };
}

/** `004.5`. */
const threeFigures = (bearing: number): string =>
	((Math.round(turn(bearing) * 10) / 10) % 360).toFixed(1).padStart(5, "0");

/** What is put in is not searched again, whatever a name holds. */
const filled = (sentence: string, values: Readonly<Record<string, string>>): string =>
	sentence.replace(/\{(\w+)\}/g, (braced, name: string) => values[name] ?? braced);

function courseAt(
	frame: PanoramaFrame,
	course: SaidTarget["course"],
	at: number,
): { readonly azimuth: number; readonly altitude: number } {
	const [from, until] = [course[0]?.[0] ?? at, course.at(-1)?.[0] ?? at];
	// A place between two of hour angle and declination, as between two of bearing and altitude.
	const place = between(course, Math.min(Math.max(at, from), until));
	const sidereal = frame.sidereal + (at - frame.at) * frame.siderealRate;
	return seenAt(frame, [sidereal - (place?.azimuth ?? 0), place?.altitude ?? 0], at);
}
