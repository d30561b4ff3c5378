import { readFileSync, statSync } from "node:fs";
import { basename } from "node:path";
import { Command, InvalidArgumentError } from "commander";
import { dateOfClock } from "../../shared/cells/night/night.ts";
import { instantOf } from "../../shared/earth/zone.ts";
import { evaluate } from "../../shared/evaluate/evaluate.ts";
import { driveEdits } from "../../shared/measure/drive-edits.ts";
import { lensEdits } from "../../shared/measure/lens-edits.ts";
import { isInLog, logEdits, logEntry, logEntryText } from "../../shared/measure/log-entry.ts";
import type { GivenFrame, Measured } from "../../shared/measure/measure.ts";
import { measuredRecord } from "../../shared/measure/record.ts";
import { solvedLens } from "../../shared/measure/solved-lens.ts";
import { isImpossible, logHeading, problemPhrase, tellMeasured } from "../../shared/measure/tell.ts";
import { type Bearing, readBearing } from "../../shared/notation/bearing.ts";
import { readClockTime } from "../../shared/notation/clock.ts";
import { answerText } from "../../shared/outputs/json/json.ts";
import { wrapped } from "../../shared/outputs/text/layout.ts";
import type { Plan } from "../../shared/plan/plan.ts";
import { applyEdits, type TextEdit } from "../../shared/text/edits.ts";
import { sentences, told } from "../../shared/text/sentence.ts";
import { shown } from "../../shared/text/shown.ts";
import { CannotRun, reading, readPlanFile, readText } from "../files.node.ts";
import { HELP } from "../help-words.ts";
import { joinedPlan } from "../library.node.ts";
import { paint, say } from "../terminal.node.ts";
import { replaceFile, writeOutput } from "../write-file.node.ts";

const words = sentences("command.measure", {
	about: `Measures frames of the night sky: finds their stars, says where each frame pointed and how far its stars
		trailed; and from two frames of one run, or from one before and one after a turn of the plate, how far the
		tracker's axis is off and which way to turn it. No photo is kept or sent anywhere.`,
	plan: "the plan they belong to: its site, night, lens and targets",
	frames: "JPEG, PNG or TIFF files of one camera and lens, not cropped and not rotated",
	lens: "the plan's lens they were taken with (default: the one nearest to the focal length in the file, else the first)",
	target: "the plan's target they belong to (default: the one whose frames run at that time)",
	at: "clock time at which a shutter opened, for files that do not say it: once for each frame, as --at 21:00 --at 21:15",
	exposure: "exposure of each frame in seconds, where the files do not say it",
	ahead: "seconds by which the camera's clock is ahead of the true time",
	facing:
		"bearing at which the middle of the first frame looked, true, or by compass as 125M, as well as you know it: tells how far the camera's clock is off",
	bearing: "Write a bearing from 0 to 360, such as 143.5, or 143°M by a compass.",
	untracked: "the camera was not on a running tracker",
	svg: "write a picture of what was found on the first frame",
	clock: "Write a clock time such as 21:30 or 21:30:15.",
	seconds: "Write seconds, such as 60.",
	count: `give --at once for each frame, such as --at 21:00 --at 21:15: there are {frames} frames and {times} times. Anything else after --at and its time is taken for a frame`,
	exits: "0 at least one frame was measured, 1 the stars of none were identified, 2 something could not be read.",
	notFile: "{path}: it is not a file",
	large: "{path}: it has {size} MB; at most {limit} MB are read",
	reading: "{path}: finding its stars …",
	write: "write the two frames that give the axis into the plan's log",
	writeDrive: "write the periodic error that a series gives into the plan's tracker",
	writeLens: "write the focal length and distortion found from the stars into the plan's lens",
	fewStars: "--write-lens: nothing to write, the frames have too few stars to find the lens's distortion",
	noLens: "{path} is not written: it has no lens cell of its own called {lens}",
	lensWritten: "{path}: focal length and distortion are now in the lens cell.",
	noSwing: "--write-drive: nothing to write, these frames show no periodic error",
	noTracker: "{path} is not written: it has no tracker cell of its own to add a key to",
	driveWritten: "{path}: the periodic error is now in the tracker cell.",
	inLog: "--write: nothing to write, the log of {path} has these two frames already",
	impossible: "--write: nothing is written, since clock times, night, site or lens cannot be right (see above)",
	noAxis: "--write: nothing to write, the axis needs two frames between which the camera turned",
	notWritten: "{path} is not written: an entry cannot be added to its log as it is written; add it by hand",
	written: "{path}: the two frames are now in the log.",
	samePicture: "--svg: nothing to draw, the stars of no frame were identified",
});

interface Options {
	readonly lens?: string;
	readonly target?: string;
	readonly at?: readonly number[];
	readonly exposure?: number;
	readonly clockAhead?: number;
	readonly facing?: Bearing;
	readonly untracked?: boolean;
	readonly svg?: string;
	readonly write?: boolean;
	readonly writeDrive?: boolean;
	readonly writeLens?: boolean;
	readonly json?: boolean;
}

const seconds = (text: string): number => {
	const value = Number(text.replace(/\s*s$/, "").replace("−", "-"));
	if (!Number.isFinite(value) || text.trim() === "" || Math.abs(value) > 86_400)
		throw new InvalidArgumentError(told(words.seconds()));
	return value;
};
const bearing = (text: string): Bearing => {
	const read = readBearing(text);
	if (!read) throw new InvalidArgumentError(told(words.bearing()));
	return read;
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
		.option("--facing <bearing>", told(words.facing()), bearing)
		.option("--untracked", told(words.untracked()))
		.option("--svg <file>", told(words.svg()))
		.option("--write", told(words.write()))
		.option("--write-drive", told(words.writeDrive()))
		.option("--write-lens", told(words.writeLens()))
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
			const file = options.write || options.writeDrive || options.writeLens ? readPlanFile(path) : undefined;
			const plan = joinedPlan(path, file?.text ?? readText(path));
			const evaluation = evaluate(plan);
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
			const { lens, target, clockAhead, facing, untracked } = options;
			const measured = await measure(
				evaluation,
				given,
				{
					...(lens !== undefined && { lens }),
					...(target !== undefined && { target }),
					...(clockAhead !== undefined && { clockAhead }),
					...(facing !== undefined && { facing }),
					...(untracked && { untracked }),
				},
				(name) => process.stderr.isTTY && say(told(words.reading({ path: name }))),
			);
			if ("code" in measured) throw new CannotRun(told(problemPhrase(measured)));
			const isKnown = measured.frames.some(({ solved }) => solved);
			process.stdout.write(options.json ? answerText(measuredRecord(measured)) : textOf(measured));
			if (options.svg !== undefined) {
				if (!isKnown) throw new CannotRun(told(words.samePicture()));
				const { framePicture } = await import("../../shared/measure/picture.ts");
				writeOutput(options.svg, framePicture(measured), path);
			}
			if (file) {
				const edits = [
					...(options.write ? axisEdits(path, plan, measured) : []),
					...(options.writeDrive ? swingEdits(path, plan, measured) : []),
					...(options.writeLens ? lensEditsOf(path, plan, measured) : []),
				];
				replaceFile(file, applyEdits(file.text, edits));
				if (options.write) say(told(words.written({ path: shown(path) })));
				if (options.writeDrive) say(told(words.driveWritten({ path: shown(path) })));
				if (options.writeLens) say(told(words.lensWritten({ path: shown(path) })));
			}
			if (!isKnown) process.exitCode = 1;
		});

function axisEdits(path: string, plan: Plan, { axis, zone, frames }: Measured): readonly TextEdit[] {
	if (!axis) throw new CannotRun(told(words.noAxis()));
	if (isImpossible(frames)) throw new CannotRun(told(words.impossible()));
	if (isInLog(plan, logEntry(zone, axis.entries))) throw new CannotRun(told(words.inLog({ path: shown(path) })));
	const edits = logEdits(plan, logEntry(zone, axis.entries));
	if (edits.length === 0) throw new CannotRun(told(words.notWritten({ path: shown(path) })));
	return edits;
}

function swingEdits(path: string, plan: Plan, { drive }: Measured): readonly TextEdit[] {
	if (!drive?.periodic) throw new CannotRun(told(words.noSwing()));
	const edits = driveEdits(plan, drive.periodic);
	if (edits.length === 0) throw new CannotRun(told(words.noTracker({ path: shown(path) })));
	return edits;
}

function lensEditsOf(path: string, plan: Plan, measured: Measured): readonly TextEdit[] {
	const solved = solvedLens(measured);
	if (!solved) throw new CannotRun(told(words.fewStars()));
	const edits = lensEdits(plan, solved);
	if (edits.length === 0) throw new CannotRun(told(words.noLens({ path: shown(path), lens: solved.lens })));
	return edits;
}

function bytesOf(path: string, limit: number): Uint8Array {
	const kind = reading(path, () => statSync(path));
	if (!kind.isFile()) throw new CannotRun(told(words.notFile({ path })));
	if (kind.size > limit)
		throw new CannotRun(told(words.large({ path, size: Math.ceil(kind.size / 1e6), limit: limit / 1e6 })));
	return reading(path, () => readFileSync(path));
}

function textOf(measured: Measured): string {
	const parts = tellMeasured(measured).map(
		({ heading, lines }) =>
			`${paint(shown(told(heading)), "bold")}\n${lines.map((line) => `  ${wrapped(shown(told(line))).replaceAll("\n", "\n  ")}\n`).join("")}`,
	);
	const { axis, zone } = measured;
	if (axis) parts.push(`${paint(told(logHeading()), "bold")}\n${logEntryText(logEntry(zone, axis.entries))}`);
	return parts.join("\n");
}
