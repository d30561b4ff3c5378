import { Command, InvalidArgumentError, Option } from "commander";
import type { CalendarDate } from "../../shared/earth/calendar.ts";
import { addDays, clockOf, isoText, wallClock } from "../../shared/earth/zone.ts";
import { type NightChoice, nightsOf, ranked } from "../../shared/evaluate/nights.ts";
import { nightEdits } from "../../shared/findings/night-edits.ts";
import { dateText, readDate } from "../../shared/notation/date.ts";
import { minutesText } from "../../shared/notation/duration.ts";
import { intervalText } from "../../shared/notation/interval.ts";
import { jsonText } from "../../shared/outputs/json/json.ts";
import { firstValue } from "../../shared/plan/plan.ts";
import { applyEdits } from "../../shared/text/edits.ts";
import { told } from "../../shared/text/sentence.ts";
import { shown } from "../../shared/text/shown.ts";
import { CannotRun, type ReadPlanFile, readPlanFile } from "../files.node.ts";
import { joinedPlan } from "../library.node.ts";
import { paint } from "../terminal.node.ts";
import { replaceFile } from "../write-file.node.ts";

interface Options {
	readonly from?: CalendarDate;
	readonly until?: CalendarDate;
	readonly json?: boolean;
	readonly best: number;
	readonly write?: CalendarDate;
}

const date = (text: string): CalendarDate => {
	const read = readDate(text);
	if (!read) throw new InvalidArgumentError("It must be a date such as 2027-06-05.");
	return read;
};

const whole = (text: string): number => {
	if (!/^\d{1,4}$/.test(text)) throw new InvalidArgumentError("It must be a whole number.");
	return Number(text);
};

export const nightsCommand = (): Command =>
	new Command("nights")
		.description(
			"Compares the nights of a season for a plan, the best first: how long it is dark and moonless with a target in view while you are on site, and what to align on.",
		)
		.argument("<file>", "a plan file; its date and the clock times of its frames are ignored")
		.option("--from <date>", "first evening (default: the plan's date, or today)", date)
		.option("--until <date>", "last evening (default: a year later)", date)
		.option("--json", "print JSON, by date, each night with its rank")
		.option("--best <number>", "how many of the best to list", whole, 10)
		.addOption(
			new Option("--write <date>", "write this evening into the plan, with a guide star and times that work")
				.argParser(date)
				.conflicts(["json", "from", "until"]),
		)
		.addHelpText(
			"after",
			"\nExamples:\n  lodebook nights samples/roofless-chapel.lode.yaml --from 2027-04-01 --until 2027-09-30\n  lodebook nights samples/roofless-chapel.lode.yaml --write 2027-07-04",
		)
		.action((path: string, options: Options) => {
			const file = readPlanFile(path);
			const plan = joinedPlan(path, file.text);
			const start =
				options.write ??
				options.from ??
				firstValue(plan, "night")?.date ??
				wallClock(Intl.DateTimeFormat().resolvedOptions().timeZone, Date.now()).date;
			const end = options.write ?? options.until ?? addDays(start, 364);
			const outcome = nightsOf(plan, start, end);
			if (!outcome.ok) throw new CannotRun(`${path}: ${told(outcome.why)}`);
			const nights = collect(outcome.nights, outcome.count);
			const [only] = nights;
			if (options.write) {
				if (!only) throw new CannotRun(`${path}: that night cannot be computed`);
				write(file, applyEdits(file.text, nightEdits(plan, only)), only);
			} else process.stdout.write(options.json ? jsonText(nightsRecord(nights)) : nightsText(nights, options.best));
		});

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

export function nightsRecord(nights: readonly NightChoice[]) {
	const ranks = new Map(ranked(nights).map((night, index) => [night, index + 1]));
	return {
		nights: nights.map((choice) => {
			const { date: evening, night, windows, minutes, method, aligns, marks } = choice;
			const iso = (at: number): string => isoText(night.zone, at);
			return {
				date: dateText(evening),
				minutes,
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
				rank: ranks.get(choice) ?? null,
			};
		}),
	};
}

function nightsText(nights: readonly NightChoice[], best: number): string {
	const useful = ranked(nights).filter(({ minutes }) => minutes >= 1);
	const out = [calendarPicture(nights), "\n"];
	if (useful.length === 0) return `${out.join("")}None of these nights is usable: ${whyNone(nights)}.\n`;
	out.push(
		paint(
			`${"evening".padEnd(16)}${"usable".padStart(11)}  ${"when".padEnd(24)}${"Moon".padStart(6)}  align on\n`,
			"dim",
		),
	);
	for (const { date: evening, night, minutes, windows, method, marks } of useful.slice(0, best)) {
		const clock = (at: number): string => clockOf(night.zone, at);
		const when = windows.map((one) => intervalText(night.zone, one));
		const mark = marks[0];
		const aligning =
			method === undefined
				? ""
				: mark === undefined
					? (method.kind ?? "")
					: `${mark.name} at ${clock(mark.at)} (${method.kind})`;
		out.push(
			`${`${dateText(evening)} ${weekday(evening)}`.padEnd(16)}${minutesText(minutes).padStart(11)}  ${when.slice(0, 2).join(", ").padEnd(24)}${`${(night.sky.moonIllumination * 100).toFixed(0)} %`.padStart(6)}  ${shown(aligning)}\n`,
		);
	}
	return out.join("");
}

function whyNone(nights: readonly NightChoice[]): string {
	if (nights.every(({ night }) => night.dark.length === 0)) return "it is never dark while you are on site";
	if (nights.every(({ night }) => night.moonless.length === 0)) return "the Moon is up in every dark hour on site";
	if (nights.every(({ windows }) => windows.length === 0))
		return "no target of the plan is above the skyline while it is dark and moonless";
	return "no method of the plan works on them";
}

const DAY_MS = 86_400_000;
const weekdayNumber = ({ year, month, day }: CalendarDate): number =>
	(new Date(Date.UTC(year, month - 1, day)).getTime() / DAY_MS + 3) % 7;
const weekday = (evening: CalendarDate): string =>
	["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"][weekdayNumber(evening)] ?? "";

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
	return `${paint(scale, "dim")}\n${[...months].map(([month, row]) => `${month}  ${row.join("")}\n`).join("")}${paint(`the tallest bar is ${minutesText(most)}`, "dim")}\n`;
}

function write(file: ReadPlanFile, text: string, choice: NightChoice): void {
	replaceFile(file, text);
	const mark = choice.marks[0];
	process.stderr.write(
		`${shown(file.path)}: the evening of ${dateText(choice.date)} was written${mark ? `, with ${mark.name} at ${clockOf(choice.night.zone, mark.at)}` : ""}. Usable: ${minutesText(choice.minutes)}.\n`,
	);
}
