import { Command, InvalidArgumentError, Option } from "commander";
import { isByTheSea } from "../../shared/cells/site/site.ts";
import { type CalendarDate, WEEKDAYS, type Weekday } from "../../shared/earth/calendar.ts";
import { addDays, clockOf, isoText, wallClock } from "../../shared/earth/zone.ts";
import { evaluate } from "../../shared/evaluate/evaluate.ts";
import { bestOfWeeks, type NightChoice, nightsOf, ranked } from "../../shared/evaluate/nights.ts";
import { type NightWritten, writeNight } from "../../shared/findings/night-edits.ts";
import { nameOfCell } from "../../shared/methods/methods.ts";
import { dateText, readDate } from "../../shared/notation/date.ts";
import { minutesText } from "../../shared/notation/duration.ts";
import { answerText } from "../../shared/outputs/json/json.ts";
import { lowWaterUnknown, usableText, weekdayText } from "../../shared/outputs/nights.ts";
import { firstValue, type Plan } from "../../shared/plan/plan.ts";
import { applyEdits } from "../../shared/text/edits.ts";
import { listText } from "../../shared/text/list.ts";
import { sentences, told } from "../../shared/text/sentence.ts";
import { shown } from "../../shared/text/shown.ts";
import { CannotRun, type ReadPlanFile, readPlanFile } from "../files.node.ts";
import { HELP } from "../help-words.ts";
import { joinedPlan } from "../library.node.ts";
import { paint } from "../terminal.node.ts";
import { replaceFile } from "../write-file.node.ts";

const words = sentences("command.nights", {
	markAt: "{mark} at {time} ({method})",
	evening: "evening",
	usable: "usable",
	span: "from–until",
	moon: "Moon",
	alignOn: "align on",
	notUsable: "not usable",
	mustBeDate: "It must be a date such as 2027-06-05.",
	mustBeWhole: "It must be a whole number.",
	mustBeDays: "It must be days such as fri,sat (of {days}).",
	comparesNightsSeason:
		"Compares the nights of a season for a plan: how long each is usable after the alignment (dark and moonless, on site, a target in view), and what to align on. The best night of each new-moon week comes first.",
	planFileIts: "a plan file; its date and the clock times of its frames are ignored",
	firstEveningDefault: "first evening (default: the plan's date, or today)",
	lastEveningDefault: "last evening (default: a year later)",
	onlyTheseEvenings: "only these evenings, for example fri,sat",
	printJsonBy: "print JSON, by date, each night with its rank",
	listEveryUsable: "list every usable night, those of each new-moon week that are not its best after the others",
	listAtMost: "list at most this many",
	writeThisEvening:
		"write this evening into the plan, with a guide star and times that work; nothing is written where that would bring a new error or warning",
	thatNightCannot: "{path}: that night cannot be computed",
	noneTheseNights: "None of these nights is usable: {why}.",
	bestEachNew: "The best of each new-moon week; --all lists {count} more.",
	planNumber: "In the plan, number {rank} of {count}:",
	neverDarkWhile: "it is never dark while you are on site",
	moonUpEvery: "the Moon is up in every dark hour on site",
	noTargetPlan: "no target of the plan is above the skyline while it is dark and moonless",
	noMethodPlan: "no method of the plan works on them",
	counted: "Usable for: {targets}.",
	tallestBar: "the tallest bar is {most}",
	eveningWasWritten: "{path}: the evening of {date} was written. Usable: {minutes}.",
	writtenWith: "{path}: the evening of {date} was written, with {mark} at {time}. Usable: {minutes}.",
});

interface Options {
	readonly from?: CalendarDate;
	readonly until?: CalendarDate;
	readonly weekday?: ReadonlySet<Weekday>;
	readonly json?: boolean;
	readonly all?: boolean;
	readonly best?: number;
	readonly write?: CalendarDate;
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

const weekdays = (text: string): ReadonlySet<Weekday> => {
	const days = text.split(",").map((one) => one.trim().toLowerCase());
	const known = WEEKDAYS.filter((day) => days.includes(day));
	if (days.length !== known.length)
		throw new InvalidArgumentError(told(words.mustBeDays({ days: WEEKDAYS.join(", ") })));
	return new Set(known);
};

export const nightsCommand = (): Command =>
	new Command("nights")
		.description(told(words.comparesNightsSeason()))
		.argument("<file>", told(words.planFileIts()))
		.option("--from <date>", told(words.firstEveningDefault()), date)
		.option("--until <date>", told(words.lastEveningDefault()), date)
		.option("--weekday <days>", told(words.onlyTheseEvenings()), weekdays)
		.option("--json", told(words.printJsonBy()))
		.option("--all", told(words.listEveryUsable()))
		.option("--best <number>", told(words.listAtMost()), whole)
		.addOption(
			new Option("--write <date>", told(words.writeThisEvening()))
				.argParser(date)
				.conflicts(["json", "from", "until", "weekday", "all", "best"]),
		)
		.addHelpText(
			"after",
			`\n${HELP.examples}\n  lodebook nights samples/roofless-chapel.lode.yaml --from 2027-04-01 --until 2027-09-30 --weekday fri,sat\n  lodebook nights samples/roofless-chapel.lode.yaml --write 2027-07-04`,
		)
		.action((path: string, options: Options) => {
			const file = readPlanFile(path);
			const plan = joinedPlan(path, file.text);
			if (options.write) {
				write(file, plan, nightOn(path, plan, options.write));
				return;
			}
			const present = firstValue(plan, "night")?.date;
			const start =
				options.from ?? present ?? wallClock(Intl.DateTimeFormat().resolvedOptions().timeZone, Date.now()).date;
			const outcome = nightsOf(plan, start, options.until ?? addDays(start, 364), options.weekday);
			if (!outcome.ok) throw new CannotRun(`${path}: ${told(outcome.why)}`);
			const season: Season = {
				nights: collect(outcome.nights, outcome.count),
				present: present && chosenNight(plan, present),
				bySea: isByTheSea(evaluate(plan).site),
			};
			process.stdout.write(options.json ? answerText(nightsRecord(season)) : nightsText(season, options));
		});

/** What is compared. */
interface Season {
	/** By date. */
	readonly nights: readonly NightChoice[];
	/** That of the date that the plan has. */
	readonly present: NightChoice | undefined;
	readonly bySea: boolean;
}

function chosenNight(plan: Plan, evening: CalendarDate): NightChoice | undefined {
	const outcome = nightsOf(plan, evening, evening);
	return outcome.ok ? [...outcome.nights][0] : undefined;
}

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

export function nightsRecord({ nights, present }: Pick<Season, "nights" | "present">) {
	const ranks = new Map(ranked(nights).map((night, index) => [night, index + 1]));
	const best = new Set(bestOfWeeks(nights).best);
	return {
		nights: nights.map((choice) => ({
			...nightRecord(choice),
			bestOfNewMoonWeek: best.has(choice),
			rank: ranks.get(choice) ?? null,
		})),
		present: present ? { ...nightRecord(present), rank: rankOf(present, nights) } : null,
	};
}

function nightRecord({ date: evening, night, windows, targets, minutes, method, aligns, marks }: NightChoice) {
	const iso = (at: number): string => isoText(night.zone, at);
	const [first, last] = [windows[0], windows.at(-1)];
	return {
		date: dateText(evening),
		weekday: weekdayText(evening),
		minutes,
		targets,
		first: first ? iso(first.from) : null,
		last: last ? iso(last.until) : null,
		windows: windows.map(({ from, until }) => ({ from: iso(from), until: iso(until) })),
		moonIllumination: night.sky.moonIllumination * 100,
		guideStars: marks.map(({ name, at, direction, miss }) => ({
			name,
			at: iso(at),
			altitude: direction?.altitude ?? null,
			bearing: direction?.azimuth ?? null,
			miss: miss ?? null,
		})),
		method: method?.kind ?? null,
		aligns,
	};
}

/** Which place a night has among others, from 1. */
const rankOf = (one: NightChoice, nights: readonly NightChoice[]): number =>
	ranked([...nights.filter(({ date: evening }) => dateText(evening) !== dateText(one.date)), one]).indexOf(one) + 1;

function nightsText({ nights, present, bySea }: Season, { all = false, best: most }: Options): string {
	const { best, others } = bestOfWeeks(nights);
	const out = [calendarPicture(nights), "\n"];
	if (best.length === 0) return `${out.join("")}${told(words.noneTheseNights({ why: whyNone(nights) }))}\n`;
	out.push(paint(row([words.evening(), words.usable(), words.span(), words.moon(), words.alignOn()].map(told)), "dim"));
	out.push(...(all ? [...best, ...others] : best).slice(0, most).map((choice) => row(nightColumns(choice))));
	if (!all && others.length > 0) out.push(paint(`${told(words.bestEachNew({ count: others.length }))}\n`, "dim"));
	if (present)
		out.push(
			`\n${told(words.planNumber({ rank: rankOf(present, nights), count: nights.length }))}\n`,
			row(
				present.minutes < 1 ? [...nightColumns(present).slice(0, 1), told(words.notUsable())] : nightColumns(present),
			),
		);
	const counted = nights[0]?.targets ?? [];
	if (counted.length > 0)
		out.push(`\n${told(words.counted({ targets: shown(listText(counted.slice(0, MOST_COUNTED))) }))}\n`);
	if (bySea) out.push(`\n${lowWaterUnknown()}\n`);
	return out.join("");
}

/** More names are not listed. */
const MOST_COUNTED = 8;

function nightColumns(choice: NightChoice): readonly string[] {
	const { date: evening, night, minutes, method, marks } = choice;
	const mark = marks[0];
	const aligning =
		mark === undefined
			? nameOfCell(method)
			: told(words.markAt({ mark: mark.name, time: clockOf(night.zone, mark.at), method: nameOfCell(method) }));
	return [
		`${dateText(evening)} ${weekdayText(evening)}`,
		minutesText(minutes),
		usableText(choice),
		`${(night.sky.moonIllumination * 100).toFixed(0)} %`,
		shown(aligning),
	];
}

const row = ([evening = "", usable = "", when = "", moon = "", aligning = ""]: readonly string[]): string =>
	`${`${evening.padEnd(16)}${usable.padStart(11)}  ${when.padEnd(30)}${moon.padStart(5)}  ${aligning}`.trimEnd()}\n`;

function whyNone(nights: readonly NightChoice[]): string {
	if (nights.every(({ night }) => night.dark.length === 0)) return told(words.neverDarkWhile());
	if (nights.every(({ night }) => night.moonless.length === 0)) return told(words.moonUpEvery());
	if (nights.every(({ windows }) => windows.length === 0)) return told(words.noTargetPlan());
	return told(words.noMethodPlan());
}

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
	return `${paint(scale, "dim")}\n${[...months].map(([month, row]) => `${month}  ${row.join("")}\n`).join("")}${paint(told(words.tallestBar({ most: minutesText(most) })), "dim")}\n`;
}

function write(file: ReadPlanFile, plan: Plan, choice: NightChoice): void {
	const written: NightWritten = writeNight(plan, choice, (text) => evaluate(joinedPlan(file.path, text)));
	if (!written.ok) throw new CannotRun(`${file.path}: ${told(written.why)}`);
	replaceFile(file, applyEdits(file.text, written.edits));
	const { mark } = written;
	const said = { path: shown(file.path), date: dateText(choice.date), minutes: minutesText(choice.minutes) };
	process.stderr.write(
		`${told(mark ? words.writtenWith({ ...said, mark: shown(mark.name), time: clockOf(choice.night.zone, mark.at) }) : words.eveningWasWritten(said))}\n`,
	);
}
