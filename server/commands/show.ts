import { createHash } from "node:crypto";
import { Command, InvalidArgumentError, Option } from "commander";
import { isoText } from "../../shared/earth/zone.ts";
import { type Evaluation, evaluate } from "../../shared/evaluate/evaluate.ts";
import { check } from "../../shared/findings/check.ts";
import type { Finding } from "../../shared/findings/finding.ts";
import { degrees } from "../../shared/notation/angle.ts";
import { dateText } from "../../shared/notation/clock.ts";
import type { Value } from "../../shared/notation/value.ts";
import { calendarText } from "../../shared/outputs/calendar/calendar.ts";
import { CAUTIONS, cautionsFor } from "../../shared/outputs/cautions.ts";
import { geodata } from "../../shared/outputs/geojson/geojson.ts";
import { findingRecords } from "../../shared/outputs/json/finding-record.ts";
import { summaryMarkdown } from "../../shared/outputs/markdown/summary.ts";
import { PICTURES, type PictureName, pageDocument, pictureDocument, STYLE } from "../../shared/outputs/page/page.tsx";
import { pageView } from "../../shared/outputs/page/view.ts";
import { cellName, firstValue } from "../../shared/plan/plan.ts";
import { Lines } from "../../shared/text/lines.ts";
import { told } from "../../shared/text/sentence.ts";
import { CannotRun, named, readText } from "../files.node.ts";
import { joinedPlan } from "../library.node.ts";
import { paint, printable, rows } from "../terminal.node.ts";
import { writeOutput } from "../write-file.node.ts";

interface Options {
	readonly json?: boolean;
	readonly html?: boolean;
	readonly markdown?: boolean;
	readonly svg?: PictureName;
	readonly calendar?: boolean;
	readonly geojson?: boolean;
	readonly out?: string;
}

export const showCommand = (): Command =>
	new Command("show")
		.description(
			"Shows everything a plan implies: the pole, the night, the lens, the method's numbers and steps, the targets.",
		)
		.argument("<file>", "a plan file")
		.option("--json", "print JSON")
		.option("--html", "write a page: one file that opens from disk and asks for nothing")
		.option("--markdown", "print a summary for a code-review site")
		.addOption(new Option("--svg <picture>", "write one picture").choices(Object.keys(PICTURES)))
		.option(
			"--calendar",
			"print the night as iCalendar events (RFC 5545), with an alarm before the guide star; no coordinates in it",
		)
		.option("--geojson", "print stand, landmarks and lines of sight as GeoJSON (RFC 7946)")
		.option("-o, --out <file>", "write to a file instead of standard output")
		.addHelpText(
			"after",
			"\nExamples:\n  lodebook show samples/roofless-chapel.lode.yaml\n  lodebook show samples/roofless-chapel.lode.yaml --json -o chapel.json",
		)
		.action((path: string, options: Options) => {
			const text = readText(path);
			const evaluation = evaluate(joinedPlan(path, text));
			const findings = check(evaluation);
			write(options.out, output(path, text, evaluation, findings, options), path);
		});

function output(
	path: string,
	text: string,
	evaluation: Evaluation,
	findings: readonly Finding[],
	options: Options,
): string {
	const forms = (["json", "html", "markdown", "svg", "calendar", "geojson"] as const).filter((form) => options[form]);
	if (forms.length > 1) throw new InvalidArgumentError(`--${forms.join(" and --")} cannot be had at once.`);
	const needed = (made: string | undefined, what: string): string => {
		if (made === undefined) throw new CannotRun(`${path}: ${what}; lodebook check says what is wrong`);
		return made;
	};
	switch (forms[0]) {
		case "json":
			return `${JSON.stringify(showRecord(text, evaluation, findings), null, 2)}\n`;
		case "html":
			return htmlPage(evaluation, findings);
		case "markdown":
			return summaryMarkdown(evaluation, findings);
		case "svg":
			return needed(
				pictureDocument(options.svg as PictureName, pageView(evaluation, findings)),
				`there is not enough in the plan for the picture ${options.svg}`,
			);
		case "calendar":
			return needed(
				calendarText(evaluation, Date.now()),
				"a calendar needs the site's coordinates and the night's date",
			);
		case "geojson": {
			const data = geodata(evaluation);
			return needed(data && `${JSON.stringify(data, null, 2)}\n`, "geodata needs the site's coordinates");
		}
		default:
			return showText(path, evaluation, findings);
	}
}

declare const LODEBOOK_PAGE_SCRIPT: string;

/** The page as one file: its policy lets its own script and style run, and nothing else. */
function htmlPage(evaluation: Evaluation, findings: readonly Finding[]): string {
	const hash = (text: string): string => `sha256-${createHash("sha256").update(text).digest("base64")}`;
	// A script's text must not end it.
	const script = LODEBOOK_PAGE_SCRIPT.replace(/<\/(script)/gi, "<\\/$1");
	return pageDocument(pageView(evaluation, findings), { script, scriptHash: hash(script), styleHash: hash(STYLE) });
}

function write(out: string | undefined, text: string, plan: string): void {
	if (out === undefined) {
		process.stdout.write(text);
		return;
	}
	writeOutput(out, text, plan);
	process.stderr.write(`Written to ${named(out)}.\n`);
}

const valueRecord = ({ id, of, value, unit, plusMinus, text, how }: Value) => ({
	id,
	of,
	value,
	unit,
	plusMinus,
	text,
	how,
});

export function showRecord(text: string, evaluation: Evaluation, findings: readonly Finding[]) {
	const { plan, night, windows, methods } = evaluation;
	const lines = new Lines(text);
	const zone = night?.zone ?? "UTC";
	return {
		plan: {
			title: firstValue(plan, "plan")?.title ?? null,
			date: night ? dateText(night.date) : null,
			timezone: night?.zone ?? null,
		},
		cells: plan.cells.map((cell) => ({
			kind: cell.read.kind ?? null,
			name: cellName(plan, cell),
			line: lines.at(cell.start + (cell.read.places.get("")?.key?.from ?? 0)).line + 1,
			figures: evaluation.valuesOf(cell).map(valueRecord),
		})),
		methods: methods.flatMap(({ value }) =>
			value
				? [
						{
							kind: value.method.kind,
							needs: told(value.method.words.needs()),
							works: value.works,
							windows: value.setUp.windows.map(({ from, until }) => ({
								from: isoText(zone, from),
								until: isoText(zone, until),
							})),
							steps: value.steps().map(({ say, number }) => ({ say: told(say), number: number ?? null })),
							budget: value.budget.shares.map(({ name, spread, unit, origin, along, across, total, part }) => ({
								name,
								spread,
								unit,
								origin,
								along,
								across,
								total,
								part,
							})),
						},
					]
				: [],
		),
		windows: windows.map(({ what, interval }) => ({
			what,
			from: isoText(zone, interval.from),
			until: isoText(zone, interval.until),
		})),
		cautions: cautionsFor(evaluation).map((name) => CAUTIONS[name]),
		findings: findingRecords(text, findings),
	};
}

function showText(path: string, evaluation: Evaluation, findings: readonly Finding[]): string {
	const { plan, night, methods } = evaluation;
	const title = firstValue(plan, "plan")?.title ?? path;
	const out: string[] = [`${paint(printable(title), "bold")}\n`];
	if (night) out.push(`${dateText(night.date)}, ${night.zone}\n`);
	for (const cell of plan.cells) {
		const values = evaluation.valuesOf(cell);
		if (values.length === 0) continue;
		out.push(`\n${paint(printable(heading(cell.read.kind ?? "", cellName(plan, cell))), "bold")}\n`);
		for (const [of, group] of grouped(values)) {
			if (of !== "") out.push(`  ${paint(printable(of), "dim")}\n`);
			out.push(
				rows(
					group.map((computed) => [printable(computed.label), printable(computed.text)]),
					of === "" ? "  " : "    ",
				),
			);
		}
		const method = methods.find((one) => one.cell === cell)?.value;
		if (method && method.steps().length > 0) {
			out.push(`  ${paint("steps", "dim")}\n`);
			method.steps().forEach(({ say, number }, i) => {
				out.push(
					`  ${String(i + 1).padStart(3)}. ${printable(told(say))}${number === undefined ? "" : `  ${paint(printable(number), "bold")}`}\n`,
				);
			});
		}
	}
	if (methods.length > 1) out.push(compareText(evaluation));
	const cautions = cautionsFor(evaluation);
	if (cautions.length > 0)
		out.push(`\n${paint("Take care", "bold")}\n`, ...cautions.map((name) => `  - ${CAUTIONS[name]}\n`));
	if (findings.length > 0) {
		out.push(`\n${paint("Findings", "bold")}\n`);
		for (const { severity, message, code } of findings) out.push(`  ${severity}: ${printable(message)} [${code}]\n`);
	}
	return out.join("");
}

function compareText({ methods }: Evaluation): string {
	const lines = methods.flatMap(({ value }, i) =>
		value
			? [
					[
						`${i + 1}. ${value.method.kind}`,
						`${value.works ? `${degrees(value.budget.radius95)} (95 %)` : "does not work as planned"}; needs ${told(value.method.words.needs())}`,
					] as const,
				]
			: [],
	);
	return `\n${paint("Methods compared", "bold")}\n${rows(lines)}`;
}

const heading = (kind: string, name: string): string => (name === kind || name === "" ? kind : `${kind}: ${name}`);

/** Figures by what they belong to, in their order; those of the cell itself first. */
function grouped(values: readonly Value[]): readonly (readonly [string, readonly Value[]])[] {
	const groups = new Map<string, Value[]>();
	const single = new Set(values.map(({ id, of }) => (id.startsWith("target.") || id.startsWith("log.") ? of : null)));
	for (const computed of values) {
		const of = single.has(computed.of) && computed.of !== null ? computed.of : "";
		groups.set(of, [...(groups.get(of) ?? []), computed]);
	}
	return [...groups];
}
