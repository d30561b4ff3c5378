import { dirname, relative, resolve, sep } from "node:path";
import { createInterface } from "node:readline/promises";
import { Command, InvalidArgumentError, Option } from "commander";
import type { CalendarDate } from "../../shared/earth/calendar.ts";
import { addDays, wallClock } from "../../shared/earth/zone.ts";
import { evaluate } from "../../shared/evaluate/evaluate.ts";
import { check } from "../../shared/findings/check.ts";
import { type Finding, setKey } from "../../shared/findings/finding.ts";
import { readCoordinate } from "../../shared/notation/coordinate.ts";
import { dateText, readDate } from "../../shared/notation/date.ts";
import { newPlanText } from "../../shared/outputs/draft/new-plan.ts";
import { cellsOf, readPlan } from "../../shared/plan/plan.ts";
import { PLAN_ENDING } from "../../shared/protocol/language.ts";
import { applyEdits, editsOnce } from "../../shared/text/edits.ts";
import { asYaml } from "../../shared/text/scalar.ts";
import { sentences, told } from "../../shared/text/sentence.ts";
import { shown } from "../../shared/text/shown.ts";
import { CannotRun, readPlanFile } from "../files.node.ts";
import { say } from "../terminal.node.ts";
import { createFile } from "../write-file.node.ts";

const words = sentences("command.new", {
	makesPlanWithout:
		"Makes a plan without findings for a place and an evening. On a terminal it asks for what is missing.",
	nameSite: "name of the site",
	eveningForExample: "the evening, for example 2027-06-05",
	titlePlan: "title of the plan",
	copyAnotherPlan: "copy another plan, with the new date",
	writeNewFile: "write to a new file instead of standard output",
	writtenCheckWith: "Written to {out}. Check it with: lodebook check {out}",
	whatSiteCalled: "What is the site called?",
	latitudeSuchAs: "Latitude, such as 32.4123 S:",
	longitudeSuchAs: "Longitude, such as 54.3622 W:",
	latitudeCouldNot:
		"The latitude could not be read. Write degrees from 0 to 90 with N or S, such as 32.4123 S or 32° 24′ 44″ S.",
	longitudeCouldNot:
		"The longitude could not be read. Write degrees from 0 to 180 with E or W, such as 54.3622 W or 54° 21′ 44″ W.",
	notDateWrite: "{text} is not a date: write it like 2027-06-05.",
	hasNoNight: "{path} has no night cell for the date",
	fromNeedsDate: "--from needs --date: the evening of the new plan.",
	neededThereNo: "{option} is needed: there is no terminal to ask on.",
	ending: "{path}: the name of a plan ends with .lode.yaml",
	empty: "{option} is empty: give a name, such as 'Roofless chapel'.",
	error: "Every plan for this place and evening has an error: {message}",
	finding: "The plan has a finding: {message}",
	notUtf8: `{path} is not used: part of it is not UTF-8 and would be lost. Save it as UTF-8, then run this again`,
});

interface Options {
	readonly site?: string;
	readonly latitude?: string;
	readonly longitude?: string;
	readonly date?: string;
	readonly title?: string;
	readonly from?: string;
	readonly out?: string;
}

export const newCommand = (): Command =>
	new Command("new")
		.description(told(words.makesPlanWithout()))
		.option("--site <name>", told(words.nameSite()))
		.option("--latitude <latitude>", "for example 32.4123 S")
		.option("--longitude <longitude>", "for example 54.3622 W")
		.option("--date <date>", told(words.eveningForExample()))
		.option("--title <title>", told(words.titlePlan()))
		.addOption(new Option("--from <plan>", told(words.copyAnotherPlan())).conflicts(["site", "latitude", "longitude"]))
		.option("-o, --out <file>", told(words.writeNewFile()))
		.addHelpText(
			"after",
			'\nExamples:\n  lodebook new --site "Roofless chapel" --latitude "32.4123 S" --longitude "54.3622 W" --date 2027-06-05 -o chapel.lode.yaml\n  lodebook new --from chapel.lode.yaml --date 2027-07-04 -o chapel-july.lode.yaml',
		)
		.action(async (options: Options) => {
			const { out } = options;
			if (out !== undefined && !out.endsWith(PLAN_ENDING)) throw new CannotRun(told(words.ending({ path: out })));
			const text = options.from === undefined ? await fresh(options) : again(options.from, options);
			if (out === undefined) {
				process.stdout.write(text);
				return;
			}
			createFile(out, text);
			process.stderr.write(`${told(words.writtenCheckWith({ out: shown(out) }))}\n`);
		});

/** A name that the plan shows. Without one the plan would not check clean. */
function nameOf(text: string, option: string): string {
	if (text.trim() === "") throw new InvalidArgumentError(told(words.empty({ option })));
	return text.trim();
}

async function fresh(options: Options): Promise<string> {
	const ask = asker();
	try {
		const site = nameOf(options.site ?? (await ask(told(words.whatSiteCalled()), "--site")), "--site");
		const latitude = readCoordinate(
			options.latitude ?? (await ask(told(words.latitudeSuchAs()), "--latitude")),
			"latitude",
		);
		const longitude = readCoordinate(
			options.longitude ?? (await ask(told(words.longitudeSuchAs()), "--longitude")),
			"longitude",
		);
		if (!latitude.ok) throw new InvalidArgumentError(told(words.latitudeCouldNot()));
		if (!longitude.ok) throw new InvalidArgumentError(told(words.longitudeCouldNot()));
		const tomorrow = addDays(wallClock(Intl.DateTimeFormat().resolvedOptions().timeZone, Date.now()).date, 1);
		const date = dateOf(
			options.date ??
				(process.stdin.isTTY
					? (await ask(`Which evening? (${dateText(tomorrow)})`, "--date")) || dateText(tomorrow)
					: dateText(tomorrow)),
		);
		const text = newPlanText({
			title: options.title === undefined ? `Night at ${site}` : nameOf(options.title, "--title"),
			site,
			latitude: latitude.degrees,
			longitude: longitude.degrees,
			date: dateText(date),
		});
		tellFindings(check(evaluate(readPlan(text))));
		return text;
	} finally {
		ask.close();
	}
}

/** What even the best draft for the place and the evening is not clean of: errors end it, the rest is said. */
function tellFindings(findings: readonly Finding[]): void {
	const error = findings.find(({ severity }) => severity === "error");
	if (error) throw new CannotRun(told(words.error({ message: error.message })));
	for (const { message } of findings) say(told(words.finding({ message })));
}

function dateOf(text: string): CalendarDate {
	const date = readDate(text.trim());
	if (!date) throw new InvalidArgumentError(told(words.notDateWrite({ text })));
	return date;
}

/** Another plan's text with a new date and title; what it takes from other plans is still found from its new folder. */
function again(path: string, options: Options): string {
	const { text, valid } = readPlanFile(path);
	if (!valid) throw new CannotRun(told(words.notUtf8({ path })));
	const plan = readPlan(text);
	const night = cellsOf(plan, "night")[0];
	if (!night) throw new CannotRun(told(words.hasNoNight({ path })));
	if (options.date === undefined) throw new InvalidArgumentError(told(words.fromNeedsDate()));
	const edits = [setKey(night, "", "date", asYaml(dateText(dateOf(options.date))))];
	const head = cellsOf(plan, "plan")[0];
	if (options.title !== undefined && head) edits.push(setKey(head, "", "title", nameOf(options.title, "--title")));
	const [was, now] = [dirname(resolve(path)), dirname(resolve(options.out ?? path))];
	if (was !== now)
		for (const cell of plan.cells) {
			const from = cell.read.places.get("from")?.source;
			if (from !== undefined)
				edits.push(setKey(cell, "", "from", relative(now, resolve(was, from)).split(sep).join("/")));
		}
	return applyEdits(text, editsOnce(edits.filter((edit) => edit !== undefined)));
}

interface Asker {
	(question: string, option: string): Promise<string>;
	close(): void;
}

/** Asks on a terminal; where there is none, says which option is missing. */
function asker(): Asker {
	const terminal = process.stdin.isTTY ? createInterface({ input: process.stdin, output: process.stderr }) : undefined;
	const ask = async (question: string, option: string): Promise<string> => {
		if (!terminal) throw new InvalidArgumentError(told(words.neededThereNo({ option })));
		return (await terminal.question(`${question} `)).trim();
	};
	return Object.assign(ask, { close: () => terminal?.close() });
}
