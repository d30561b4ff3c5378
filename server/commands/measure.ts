import { readFileSync, statSync } from "node:fs";
import { basename } from "node:path";
import { Command, InvalidArgumentError } from "commander";
import { dateOfClock } from "../../shared/cells/night/night.ts";
import { addDays, instantOf, isoText, wallClock } from "../../shared/earth/zone.ts";
import { evaluate } from "../../shared/evaluate/evaluate.ts";
import { logEntryText } from "../../shared/measure/log-entry.ts";
import type { GivenFrame, Measured } from "../../shared/measure/measure.ts";
import { logHeading, problemPhrase, tellMeasured } from "../../shared/measure/tell.ts";
import { readClockTime } from "../../shared/notation/clock.ts";
import { jsonText } from "../../shared/outputs/json/json.ts";
import { wrapped } from "../../shared/outputs/text/layout.ts";
import { sentences, told } from "../../shared/text/sentence.ts";
import { shown } from "../../shared/text/shown.ts";
import { CannotRun, reading, readText } from "../files.node.ts";
import { HELP } from "../help-words.ts";
import { joinedPlan } from "../library.node.ts";
import { paint, say } from "../terminal.node.ts";
import { writeOutput } from "../write-file.node.ts";

const words = sentences("command.measure", {
	about: `Measures frames of the night sky: finds their stars, says where each frame looked and how its stars trailed, and from
		two frames of one run, or from before and after a turn of the plate, how far the tracker's axis is off and which way to
		turn it. Nothing of a photo is kept, and it goes nowhere.`,
	plan: "the plan they belong to: its site, night, lens and targets",
	frames: "JPEG, PNG or TIFF files of one camera and lens, whole and not turned",
	lens: "the plan's lens they were taken with (default: the one nearest to the focal length in the file, else the first)",
	target: "the plan's target they belong to (default: the one whose frames run at that time)",
	at: "clock time at which each shutter opened, one for each frame, for files that do not say it",
	exposure: "exposure of each frame in seconds, where the files do not say it",
	ahead: "seconds by which the camera's clock is ahead of the true time",
	untracked: "the camera stood still",
	svg: "write a picture of what was found on the first frame",
	clock: "Write a clock time such as 21:30 or 21:30:15.",
	seconds: "Write seconds, such as 60.",
	count: "give --at once for each frame: {frames} frames, {times} times",
	exits: "0 at least one frame was measured, 1 the stars of none were identified, 2 something could not be read.",
	notFile: "{path}: it is not a file",
	large: "{path}: it has {size} MB; at most {limit} MB are read",
	reading: "{path}: finding its stars …",
	samePicture: "--svg: nothing to draw, the stars of no frame were identified",
});

interface Options {
	readonly lens?: string;
	readonly target?: string;
	readonly at?: readonly number[];
	readonly exposure?: number;
	readonly clockAhead?: number;
	readonly untracked?: boolean;
	readonly svg?: string;
	readonly json?: boolean;
}

const seconds = (text: string): number => {
	const value = Number(text.replace(/\s*s$/, "").replace("−", "-"));
	if (!Number.isFinite(value) || text.trim() === "" || Math.abs(value) > 86_400)
		throw new InvalidArgumentError(told(words.seconds()));
	return value;
};
const clock = (text: string, before: readonly number[] | undefined): readonly number[] => {
	const value = readClockTime(text);
	if (value === undefined) throw new InvalidArgumentError(told(words.clock()));
	return [...(before ?? []), value];
};

export const measureCommand = (): Command =>
	new Command("measure")
		.description(told(words.about()))
		.argument("<plan>", told(words.plan()))
		.argument("<frame...>", told(words.frames()))
		.option("--lens <name>", told(words.lens()))
		.option("--target <name>", told(words.target()))
		.option("--at <clock>", told(words.at()), clock)
		.option("--exposure <seconds>", told(words.exposure()), seconds)
		.option("--clock-ahead <seconds>", told(words.ahead()), seconds)
		.option("--untracked", told(words.untracked()))
		.option("--svg <file>", told(words.svg()))
		.option("--json", HELP.json)
		.addHelpText(
			"after",
			`
${HELP.example}
  lodebook measure plan.lode.yaml first.jpg second.jpg

${HELP.exitStatus}
  ${told(words.exits())}`,
		)
		.action(async (path: string, frames: readonly string[], options: Options) => {
			const evaluation = evaluate(joinedPlan(path, readText(path)));
			const { readPhoto, MOST_BYTES } = await import("../../shared/frames/read-picture.ts");
			const { measure } = await import("../../shared/measure/measure.ts");
			const { site, night } = evaluation;
			const times = options.at ?? [];
			if (times.length > 0 && times.length !== frames.length)
				throw new CannotRun(told(words.count({ frames: frames.length, times: times.length })));
			const given: GivenFrame[] = [];
			for (const [i, frame] of frames.entries()) {
				const time = times[i];
				const opened =
					time !== undefined && site && night ? instantOf(site.zone, dateOfClock(night.date, time), time) : undefined;
				given.push({
					name: basename(frame),
					photo: () => readPhoto(bytesOf(frame, MOST_BYTES)),
					...(opened !== undefined && { opened }),
					...(options.exposure !== undefined && { exposure: options.exposure }),
				});
			}
			const { lens, target, clockAhead, untracked } = options;
			const measured = await measure(
				evaluation,
				given,
				{
					...(lens !== undefined && { lens }),
					...(target !== undefined && { target }),
					...(clockAhead !== undefined && { clockAhead }),
					...(untracked && { untracked }),
				},
				(name) => process.stderr.isTTY && say(told(words.reading({ path: name }))),
			);
			if ("code" in measured) throw new CannotRun(told(problemPhrase(measured)));
			const isKnown = measured.frames.some(({ solved }) => solved);
			process.stdout.write(options.json ? jsonText(recordOf(measured)) : textOf(measured));
			if (options.svg !== undefined) {
				if (!isKnown) throw new CannotRun(told(words.samePicture()));
				const { framePicture } = await import("../../shared/measure/picture.ts");
				const first = measured.frames.findIndex(({ solved }) => solved);
				const photo = await readPhoto(bytesOf(frames[first] ?? "", MOST_BYTES));
				if (!("code" in photo)) writeOutput(options.svg, framePicture(measured, first, photo.picture), path);
			}
			if (!isKnown) process.exitCode = 1;
		});

function bytesOf(path: string, limit: number): Uint8Array {
	const kind = reading(path, () => statSync(path));
	if (!kind.isFile()) throw new CannotRun(told(words.notFile({ path })));
	if (kind.size > limit)
		throw new CannotRun(told(words.large({ path, size: Math.ceil(kind.size / 1e6), limit: limit / 1e6 })));
	return reading(path, () => readFileSync(path));
}

/** The evening of an instant: after midnight it is still that of the day before. */
function eveningOf(zone: string, at: number) {
	const { date, secondsOfDay } = wallClock(zone, at);
	return secondsOfDay < 43_200 ? addDays(date, -1) : date;
}

function textOf(measured: Measured): string {
	const parts = tellMeasured(measured).map(
		({ heading, lines }) =>
			`${paint(shown(told(heading)), "bold")}\n${lines.map((line) => `  ${wrapped(shown(told(line))).replaceAll("\n", "\n  ")}\n`).join("")}`,
	);
	const { axis, zone } = measured;
	if (axis)
		parts.push(
			`${paint(told(logHeading()), "bold")}\n${logEntryText(zone, eveningOf(zone, axis.entries[0].at), axis.entries)}`,
		);
	return parts.join("\n");
}

function recordOf({ frames, map, rms, axis, zone, lens }: Measured): object {
	const iso = (at: number): string => isoText(zone, at);
	return {
		version: 1,
		lens: lens.name,
		frames: frames.map(({ name, at, exposure, target, wanted, read, solved }) => ({
			name,
			at: iso(at),
			exposure: exposure ?? null,
			target: target?.name ?? null,
			wanted: wanted ?? null,
			spots: read.found.spots.length,
			identified: solved !== undefined,
			...(solved && {
				stars: solved.frame.stars.length,
				rms: solved.frame.known.rms,
				logChance: solved.frame.known.logChance,
				azimuth: solved.middle.azimuth,
				altitude: solved.middle.altitude,
				roll: solved.roll,
				rightAscension: solved.place.rightAscension,
				declination: solved.place.declination,
				positionAngle: solved.place.positionAngle,
				off: solved.off ?? null,
				trail: solved.trails.usual,
				trailLong: solved.trails.long,
				trailUntracked: solved.still ?? null,
				limit: solved.limit ?? null,
				sharp: solved.sharp ?? null,
				axis: solved.trails.axis ?? null,
				trails: solved.frame.stars.map(({ name: star, spot }, i) => ({
					star,
					right: spot.right,
					up: spot.up,
					length: solved.trails.drawn[i]?.length ?? 0,
				})),
			}),
		})),
		solvedLens: map
			? {
					focalLength: (map.focal * Math.max(...lens.camera.sensor)) / Math.max(map.width, map.height),
					axisRight: map.axisRight,
					axisUp: map.axisUp,
					k1: map.k1,
					k2: map.k2,
					rms: rms ?? null,
				}
			: null,
		axis: axis
			? {
					from: axis.from,
					turn: axis.turn,
					along: axis.error.along,
					across: axis.error.across,
					covariance: axis.covariance,
					tilt: axis.tilt,
					tiltSpread: axis.tiltSpread,
					pan: axis.pan,
					panSpread: axis.panSpread,
					total: axis.total,
					budget: axis.budget ?? null,
					inside: axis.budget === undefined ? null : axis.total <= axis.budget,
					allows: axis.allows ?? null,
					log: logEntryText(zone, eveningOf(zone, axis.entries[0].at), axis.entries),
				}
			: null,
	};
}
