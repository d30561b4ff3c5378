import { Command, InvalidArgumentError } from "commander";
import { aimPoint } from "../../shared/alignment/pointer.ts";
import { clockOf, isoText } from "../../shared/earth/zone.ts";
import { evaluate } from "../../shared/evaluate/evaluate.ts";
import { bearingBodies, sweepPairs } from "../../shared/methods/other-marks.ts";
import { guideStars } from "../../shared/methods/square-laser/guide-stars.ts";
import { DEFAULT_OFFSET, DEFAULT_REACH } from "../../shared/methods/square-laser/square-laser.ts";
import { degrees } from "../../shared/notation/angle.ts";
import { bearingWithPoint } from "../../shared/notation/bearing.ts";
import { CannotRun, readText } from "../files.node.ts";
import { joinedPlan } from "../library.node.ts";
import { paint } from "../terminal.node.ts";

interface Options {
	readonly json?: boolean;
	readonly faintest: number;
	readonly twilight?: boolean;
	readonly reach?: number;
}

const number = (text: string): number => {
	const value = Number(text);
	if (!Number.isFinite(value)) throw new InvalidArgumentError("It must be a number.");
	return value;
};

export const starsCommand = (): Command =>
	new Command("stars")
		.description(
			"Lists the stars that pass the laser's aim point tonight: in view, in the dark, during the stay; the best first. For a plan that takes a bearing from the sky, or sweeps, bodies and pairs too.",
		)
		.argument("<file>", "a plan file")
		.option("--json", "print JSON")
		.option("--faintest <magnitude>", "faintest star to list", number, 4.5)
		.option("--twilight", "list bright stars in twilight too")
		.option("--reach <degrees>", "how far from the aim point a star may pass (default: the method's, else 1)", number)
		.addHelpText("after", "\nExample:\n  lodebook stars samples/roofless-chapel.lode.yaml --faintest 3.5")
		.action((path: string, options: Options) => {
			const { methods, tonight, night } = evaluate(joinedPlan(path, readText(path)));
			if (!tonight || !night)
				throw new CannotRun(
					`${path}: the site's coordinates and the night's date are needed; lodebook check says what is wrong with them`,
				);
			// A plan whose first method is another one is asked for a square laser at a right angle.
			const method = methods.map(({ value }) => value?.content).find((cell) => cell?.kind === "square-laser");
			const aim = aimPoint(tonight.spot.latitude, method?.offset ?? DEFAULT_OFFSET);
			const uncertainty = method?.uncertainty;
			const kinds = new Set(methods.flatMap(({ value }) => value?.method.kind ?? []));
			const bodies = kinds.has("sky-bearing") ? bearingBodies(uncertainty ? { uncertainty } : {}, tonight) : [];
			const sweep = methods.map(({ value }) => value?.content).find((cell) => cell?.kind === "star-sweep");
			const pairs = sweep
				? sweepPairs(
						sweep.uncertainty ? { uncertainty: sweep.uncertainty } : {},
						tonight,
						sweep.offset ?? DEFAULT_OFFSET,
						sweep.reach ?? DEFAULT_REACH,
					)
				: [];
			const stars = guideStars(aim, tonight, {
				reach: options.reach ?? method?.reach ?? DEFAULT_REACH,
				faintest: options.faintest,
				twilight: options.twilight ?? false,
			});
			if (options.json) {
				const record = {
					aim: { altitude: aim.altitude, bearing: aim.azimuth },
					stars: stars.map(({ star, best, from, until, direction, miss, clearance, neighbour }) => ({
						name: star.name,
						hip: star.hip,
						magnitude: star.magnitude,
						best: isoText(night.zone, best),
						from: isoText(night.zone, from),
						until: isoText(night.zone, until),
						altitude: direction.altitude,
						bearing: direction.azimuth,
						miss,
						aboveSkyline: clearance,
						neighbour: neighbour
							? { name: neighbour.star.name, magnitude: neighbour.star.magnitude, separation: neighbour.separation }
							: null,
					})),
					...(kinds.has("sky-bearing")
						? {
								bodies: bodies.map(({ name, at, direction, radius95 }) => ({
									name,
									at: isoText(night.zone, at),
									altitude: direction.altitude,
									bearing: direction.azimuth,
									axisError95: radius95,
								})),
							}
						: {}),
					...(sweep
						? {
								pairs: pairs.map(({ names, at, spread, radius95 }) => ({
									names,
									at: isoText(night.zone, at),
									spread,
									axisError95: radius95,
								})),
							}
						: {}),
				};
				process.stdout.write(`${JSON.stringify(record, null, 2)}\n`);
				return;
			}
			const clock = (t: number): string => clockOf(night.zone, t);
			const lines = [`Aim point: ${degrees(aim.altitude)} high at ${bearingWithPoint(aim.azimuth)}\n\n`];
			if (stars.length === 0)
				lines.push(
					`No star passes it in view, in the dark and during the stay.${options.twilight ? "" : " With --twilight bright stars in twilight are listed too."}\n`,
				);
			else
				lines.push(
					paint(
						`${"star".padEnd(24)}${"mag".padStart(5)}${"best".padStart(8)}${"within reach".padStart(15)}${"altitude".padStart(10)}${"bearing".padStart(10)}${"miss".padStart(8)}\n`,
						"dim",
					),
				);
			for (const { star, best, from, until, direction, miss, neighbour } of stars) {
				lines.push(
					`${star.name.padEnd(24)}${star.magnitude.toFixed(1).padStart(5)}${clock(best).padStart(8)}${`${clock(from)}–${clock(until)}`.padStart(15)}${degrees(direction.altitude).padStart(10)}${`${direction.azimuth.toFixed(1)}°`.padStart(10)}${degrees(miss, 2).padStart(8)}${neighbour ? `  mind ${neighbour.star.name}, ${degrees(neighbour.separation)} away` : ""}\n`,
				);
			}
			if (bodies.length > 0) {
				lines.push("\nBodies to take a bearing from:\n");
				for (const { name, at, direction, radius95 } of bodies)
					lines.push(
						`${name.padEnd(24)}${clock(at).padStart(8)}  ${degrees(direction.altitude)} high at ${bearingWithPoint(direction.azimuth)}, leaves ${degrees(radius95)} (95 %)\n`,
					);
			}
			if (pairs.length > 0) {
				lines.push("\nPairs for a sweep:\n");
				for (const { names, at, spread, radius95 } of pairs)
					lines.push(
						`${names.join(" and ").padEnd(40)}${clock(at).padStart(8)}  ${degrees(spread, 0)} of turn apart, leaves ${degrees(radius95)} (95 %)\n`,
					);
			}
			process.stdout.write(lines.join(""));
		});
