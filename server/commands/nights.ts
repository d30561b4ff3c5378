import { Command, InvalidArgumentError, Option } from "commander";
import { type CalendarDate, WEEKDAYS, type Weekday } from "../../shared/earth/calendar.ts";
import { wallClock } from "../../shared/earth/zone.ts";
import { evaluate } from "../../shared/evaluate/evaluate.ts";
import type { WantedFraming } from "../../shared/evaluate/framings.ts";
import { bestOfWeeks, type NightChoice, nightsOf } from "../../shared/evaluate/nights.ts";
import { type NightWritten, writeNight } from "../../shared/findings/night-edits.ts";
import { dateText, readDate } from "../../shared/notation/date.ts";
import { minutesText } from "../../shared/notation/duration.ts";
import { nightClock } from "../../shared/outputs/clock.ts";
import { answerText } from "../../shared/outputs/json/json.ts";
import { lowWaterUnknown } from "../../shared/outputs/nights.ts";
import type { Plan } from "../../shared/plan/plan.ts";
import { applyEdits } from "../../shared/text/edits.ts";
import { listText } from "../../shared/text/list.ts";
import { sentences, told } from "../../shared/text/sentence.ts";
import { shown } from "../../shared/text/shown.ts";
import { CannotRun, isFolder, type ReadPlanFile, readPlanFile } from "../files.node.ts";
import { findPlans } from "../find-plans.node.ts";
import { HELP } from "../help-words.ts";
import { jobsOption } from "../jobs-option.node.ts";
import { joinedPlan } from "../library.node.ts";
import { forMany } from "../many.node.ts";
import { framedText, nightColumns, nightsRecord, rankOf, type Season, seasonOf, whyNone } from "../season.node.ts";
import { paint, say } from "../terminal.node.ts";
import { replaceFile } from "../write-file.node.ts";

const words = sentences("command.nights", {
	evening: "evening",
	usable: "usable",
	span: "from–until",
	moon: "Moon",
	alignOn: "align on",
	shower: "shower",
	notUsable: "not usable",
	mustBeDate: "It must be a date such as 2027-06-05.",
	mustBeWhole: "It must be a whole number.",
	mustBeDays: "It must be days such as fri,sat (of {days}).",
	comparesNightsSeason:
		"Compares the nights of a season for a plan: how long each is usable after the alignment (dark and moonless, on site, a target in view), and what to align on. The best night of each new-moon week comes first.",
	planFileIts:
		"plan files, or folders that are searched for *.lode.yaml; their dates and the clock times of their frames are ignored",
	writeOne: "--write is for one plan: name its file.",
	noLodeYaml: "no *.lode.yaml file in {paths}",
	titled: "{path}  {title}",
	firstEveningDefault: "first evening (default: the plan's date, or today)",
	lastEveningDefault: "last evening (default: a year later)",
	mustBeBearings: "It must be two true bearings in degrees, such as 170-190, clockwise from the first to the second.",
	mustBeAltitude: "It must be an altitude in degrees, such as 15.",
	onlyOfTarget: "count only the target of this name",
	onlyAtBearings: "count only the time while a target is between two bearings, for example 170-190",
	onlyAbove: "count only the time while a target is above an altitude, for example 15",
	onlyWhole: "count only the time while the Milky Way's arch is whole from foot to foot",
	onlyWithGround: "count only the time while a level frame shows a whole target with ground under it",
	onlyTheseEvenings: "only these evenings, for example fri,sat",
	printJsonBy: "print JSON, by date, each night with its rank",
	listEveryUsable: "list every usable night, those of each new-moon week that are not its best after the others",
	listAtMost: "list at most this many",
	writeThisEvening: `write this evening into the plan, with a guide star and times that work; nothing is written if that would
			cause a new error or warning`,
	thatNightCannot: "{path}: that night cannot be computed",
	noneTheseNights: "None of these nights is usable: {why}.",
	noNewMoonWeek:
		"No new-moon week has a night worth going out for. Of the others these are the best; --all lists {count} more.",
	bestEachNew: "The best of each new-moon week; --all lists {count} more.",
	planNumber: "In the plan, number {rank} of {count}:",
	counted: "Usable for: {targets}.",
	tallestBar: "the tallest bar is {most}",
	eveningWasWritten: "{path}: the evening of {date} was written. Usable: {minutes}.",
	writtenWith: "{path}: the evening of {date} was written, with {mark} at {time}. Usable: {minutes}.",
});

interface Options {
	readonly from?: CalendarDate;
	readonly until?: CalendarDate;
	readonly weekday?: ReadonlySet<Weekday>;
	readonly target?: string;
	readonly bearing?: readonly [from: number, until: number];
	readonly above?: number;
	readonly wholeArch?: boolean;
	readonly withGround?: boolean;
	readonly json?: boolean;
	readonly all?: boolean;
	readonly best?: number;
	readonly write?: CalendarDate;
	readonly jobs?: number;
}

const date = (text: string): CalendarDate => {
	const read = readDate(text);
	if (!read) throw new InvalidArgumentError(told(words.mustBeDate()));
	return read;
};

const whole = (text: string): number => {
	if (!/^\d{1,4}$/.test(text)) throw new InvalidArgumentError(told(words.mustBeWhole()));
	return Number(text);
};

const bearings = (text: string): readonly [number, number] => {
	const [, from, until] = /^(\d{1,3}(?:\.\d+)?)\D{1,3}?(\d{1,3}(?:\.\d+)?)°?$/.exec(text.trim()) ?? [];
	const read = [Number(from), Number(until)] as const;
	if (!read.every((one) => one >= 0 && one <= 360)) throw new InvalidArgumentError(told(words.mustBeBearings()));
	return read;
};

const altitude = (text: string): number => {
	const read = /^-?\d{1,2}(?:\.\d+)?°?$/.test(text.trim()) ? Number.parseFloat(text) : Number.NaN;
	if (!(read >= -90 && read <= 90)) throw new InvalidArgumentError(told(words.mustBeAltitude()));
	return read;
};

/** Undefined where all of the usable time counts. */
function wantedOf({ target, bearing, above, wholeArch, withGround }: Options): WantedFraming | undefined {
	const wanted = { target, bearings: bearing, above, wholeArch, withGround };
	return Object.values(wanted).some((one) => one !== undefined) ? wanted : undefined;
}

const weekdays = (text: string): ReadonlySet<Weekday> => {
	const days = text.split(",").map((one) => one.trim().toLowerCase());
	const known = WEEKDAYS.filter((day) => days.includes(day));
	if (days.length !== known.length)
		throw new InvalidArgumentError(told(words.mustBeDays({ days: WEEKDAYS.join(", ") })));
	return new Set(known);
};

/** Several of them, between commas: what completions offer is one. */
function daysOption(): Option {
	const option = new Option("--weekday <days>", told(words.onlyTheseEvenings())).argParser(weekdays);
	option.argChoices = [...WEEKDAYS];
	return option;
}

export const nightsCommand = (): Command =>
	new Command("nights")
		.description(told(words.comparesNightsSeason()))
		.argument("<path...>", told(words.planFileIts()))
		.option("--from <date>", told(words.firstEveningDefault()), date)
		.option("--until <date>", told(words.lastEveningDefault()), date)
		.addOption(daysOption())
		.option("--target <name>", told(words.onlyOfTarget()))
		.option("--bearing <from-until>", told(words.onlyAtBearings()), bearings)
		.option("--above <degrees>", told(words.onlyAbove()), altitude)
		.option("--whole-arch", told(words.onlyWhole()))
		.option("--with-ground", told(words.onlyWithGround()))
		.option("--json", told(words.printJsonBy()))
		.option("--all", told(words.listEveryUsable()))
		.option("--best <number>", told(words.listAtMost()), whole)
		.addOption(
			new Option("--write <date>", told(words.writeThisEvening()))
				.argParser(date)
				.conflicts([
					"json",
					"from",
					"until",
					"weekday",
					"all",
					"best",
					"jobs",
					"target",
					"bearing",
					"above",
					"wholeArch",
					"withGround",
				]),
		)
		.addOption(jobsOption())
		.addHelpText(
			"after",
			`\n${HELP.examples}\n  lodebook nights samples/roofless-chapel.lode.yaml --from 2027-04-01 --until 2027-09-30 --weekday fri,sat\n  lodebook nights samples/gannet-cave.lode.yaml --bearing 170-190 --with-ground\n  lodebook nights samples/slate-quarry-arch.lode.yaml --whole-arch\n  lodebook nights samples/roofless-chapel.lode.yaml --write 2027-07-04`,
		)
		.action(async (paths: string[], options: Options) => {
			const [path] = paths;
			if (paths.length === 1 && path !== undefined && !isFolder(path)) {
				ofOne(path, options);
				return;
			}
			if (options.write) throw new InvalidArgumentError(told(words.writeOne()));
			await ofMany(paths, options);
		});

const today = (): CalendarDate => wallClock(Intl.DateTimeFormat().resolvedOptions().timeZone, Date.now()).date;

function ofOne(path: string, options: Options): void {
	const file = readPlanFile(path);
	const plan = joinedPlan(path, file.text);
	if (options.write) {
		write(file, plan, nightOn(path, plan, options.write));
		return;
	}
	const season = seasonOf(path, plan, { ...options, wanted: wantedOf(options), today: today() }, collect);
	process.stdout.write(options.json ? answerText(nightsRecord(season)) : nightsText(season, options));
}

/** How many nights are listed where no new-moon week has one. */
const OF_A_SEASON = 12;
/** How many nights of each plan are listed among those of others. */
const OF_EACH = 3;

async function ofMany(paths: readonly string[], options: Options): Promise<void> {
	const { from, until, weekday, json, all, best, jobs } = options;
	const { plans, skipped, failed } = findPlans(paths);
	const unread = [...failed];
	const outcomes = await forMany(
		"nights",
		plans,
		{ from, until, weekday, wanted: wantedOf(options), today: today() },
		jobs,
	);
	const found = outcomes.flatMap((outcome, place) => {
		if ("failed" in outcome) unread.push(outcome.failed);
		return "made" in outcome && outcome.made ? [{ path: plans[place] ?? "", ...outcome.made }] : [];
	});
	for (const message of [...skipped, ...unread]) say(message);
	if (found.length === 0 && unread.length === 0)
		throw new CannotRun(told(words.noLodeYaml({ paths: paths.join(", ") })));
	if (json) process.stdout.write(answerText({ plans: found.map(({ path, record }) => ({ path, ...record })) }));
	else
		process.stdout.write(
			found
				.map(({ path, title, rows, others, none }) => {
					const listed = (all ? [...rows, ...others] : rows).slice(0, best ?? (all ? undefined : OF_EACH));
					const said = none === undefined ? head(rows[0]) + listed.map(row).join("") : noneText(none);
					return `${paint(told(words.titled({ path, title })), "bold")}\n${said}`;
				})
				.join("\n"),
		);
	if (unread.length > 0) process.exitCode = 2;
}

/** `like`: a row, whose last column is empty where the plan has no meteor shower. */
function head([, , , , , showers = ""]: readonly string[] = []): string {
	const columns = [words.evening(), words.usable(), words.span(), words.moon(), words.alignOn()];
	return paint(row([...columns, ...(showers ? [words.shower()] : [])].map(told)), "dim");
}

const noneText = (why: string): string => `${told(words.noneTheseNights({ why }))}\n`;

function nightOn(path: string, plan: Plan, evening: CalendarDate): NightChoice {
	const outcome = nightsOf(plan, evening, evening);
	if (!outcome.ok) throw new CannotRun(`${path}: ${told(outcome.why)}`);
	const [night] = outcome.nights;
	if (!night) throw new CannotRun(told(words.thatNightCannot({ path })));
	return night;
}

/** Takes the nights one by one, with a bar on a terminal. */
function collect(nights: Iterable<NightChoice>, count: number): readonly NightChoice[] {
	const found: NightChoice[] = [];
	const shown = process.stderr.isTTY === true;
	const width = 30;
	for (const night of nights) {
		found.push(night);
		if (!shown || found.length % 20 !== 0) continue;
		const done = Math.round((found.length / count) * width);
		process.stderr.write(`\r  ${"━".repeat(done)}${" ".repeat(width - done)} ${found.length} of ${count} nights`);
	}
	if (shown) process.stderr.write(`\r${" ".repeat(width + 40)}\r`);
	return found;
}

function nightsText(season: Season, { all = false, best: most }: Options): string {
	const { nights, present, bySea } = season;
	const { best, others } = bestOfWeeks(nights);
	const out = [calendarPicture(nights), "\n"];
	const usable = [...best, ...others];
	if (usable.length === 0) return `${out.join("")}${noneText(whyNone(season))}`;
	const listed = all ? usable : best.length > 0 ? best : others.slice(0, OF_A_SEASON);
	const more = usable.length - listed.length;
	const rows = listed.slice(0, most).map((choice) => nightColumns(choice, season));
	out.push(head(rows[0]), ...rows.map(row));
	if (more > 0)
		out.push(paint(`${told(words[best.length > 0 ? "bestEachNew" : "noNewMoonWeek"]({ count: more }))}\n`, "dim"));
	if (present) {
		const [evening = "", , , , , showers = ""] = nightColumns(present, season);
		out.push(
			`\n${told(words.planNumber({ rank: rankOf(present, nights), count: nights.length }))}\n`,
			row(
				present.minutes < 1 ? [evening, told(words.notUsable()), "", "", "", showers] : nightColumns(present, season),
			),
		);
	}
	const counted = nights[0]?.targets ?? [];
	if (counted.length > 0)
		out.push(`\n${told(words.counted({ targets: shown(listText(counted.slice(0, MOST_COUNTED))) }))}\n`);
	const framed = framedText(season);
	if (framed) out.push(`${counted.length > 0 ? "" : "\n"}${framed}\n`);
	if (bySea) out.push(`\n${lowWaterUnknown()}\n`);
	return out.join("");
}

/** More names are not listed. */
const MOST_COUNTED = 8;

const row = ([
	evening = "",
	usable = "",
	when = "",
	moon = "",
	aligning = "",
	showers = "",
]: readonly string[]): string => {
	const near = showers && `${showers.padEnd(SHOWER_WIDTH)}  `;
	return `${`${evening.padEnd(16)}${usable.padStart(11)}  ${when.padEnd(36)}${moon.padStart(5)}  ${near}${aligning}`.trimEnd()}\n`;
};

/** Of the column for meteor showers, where the plan has some. */
const SHOWER_WIDTH = 36;

/** A row a month, a column a day: the taller the bar, the longer the night is usable; a dot for one that is not. */
function calendarPicture(nights: readonly NightChoice[]): string {
	const most = Math.max(1, ...nights.map(({ minutes }) => minutes));
	const months = new Map<string, string[]>();
	for (const { date: evening, minutes } of nights) {
		const month = dateText(evening).slice(0, 7);
		const row = months.get(month) ?? Array.from({ length: 31 }, () => " ");
		row[evening.day - 1] = minutes < 1 ? "·" : ("▁▂▃▄▅▆▇█"[Math.min(7, Math.floor((minutes / most) * 8))] ?? "█");
		months.set(month, row);
	}
	const scale = `         ${Array.from({ length: 31 }, (_, i) => ((i + 1) % 5 === 0 ? String(i + 1).padStart(2) : ""))
		.map((label, i) => ((i + 1) % 5 === 0 ? label : (i + 2) % 5 === 0 ? "" : " "))
		.join("")}`;
	const rows = [...months].map(([month, row]) => `${month}  ${row.join("")}\n`).join("");
	const tallest = nights.some(({ minutes }) => minutes >= 1)
		? `${paint(told(words.tallestBar({ most: minutesText(most) })), "dim")}\n`
		: "";
	return `${paint(scale, "dim")}\n${rows}${tallest}`;
}

function write(file: ReadPlanFile, plan: Plan, choice: NightChoice): void {
	const written: NightWritten = writeNight(plan, choice, (text) => evaluate(joinedPlan(file.path, text)));
	if (!written.ok) throw new CannotRun(`${file.path}: ${told(written.why)}`);
	replaceFile(file, applyEdits(file.text, written.edits));
	const { mark } = written;
	const said = { path: shown(file.path), date: dateText(choice.date), minutes: minutesText(choice.minutes) };
	process.stderr.write(
		`${told(mark ? words.writtenWith({ ...said, mark: shown(mark.name), time: nightClock(choice.night, mark.at) }) : words.eveningWasWritten(said))}\n`,
	);
}
