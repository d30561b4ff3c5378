import { Command } from "commander";
import type { ConstantError, Measured } from "../../shared/alignment/constant-error.ts";
import { judged, toWrite } from "../../shared/cells/log/judged.ts";
import { zerosRow } from "../../shared/cells/tracker/zeros.ts";
import { createEvaluator } from "../../shared/evaluate/evaluate.ts";
import { type Head, headsOf, isUnreadable, type LoggedPlan, mayHideLog } from "../../shared/evaluate/heads.ts";
import { degrees, errorDegrees } from "../../shared/notation/angle.ts";
import { dateText } from "../../shared/notation/date.ts";
import { answerText } from "../../shared/outputs/json/json.ts";
import { type Phrase, sentences, told } from "../../shared/text/sentence.ts";
import { shown } from "../../shared/text/shown.ts";
import { CannotRun, readText } from "../files.node.ts";
import { findPlans } from "../find-plans.node.ts";
import { HELP } from "../help-words.ts";
import { joinedPlan } from "../library.node.ts";
import { paint, say } from "../terminal.node.ts";

const words = sentences("command.log", {
	exits: "0 all logs were evaluated, 2 something could not be read.",
	tellsWhatLogs: `Shows what the logs of many plans say about a head: the constant error of its tilt scale and of its pan, how
			sure that is, and the evenings it is based on.`,
	planFilesOr: "plan files, or folders that are searched for *.lode.yaml",
	unreadable: `{path}: its log cannot be evaluated; it needs entries, the site's coordinates and the night's date, and
		lodebook check says what is wrong with them`,
	unknown: "{path}: one of its cells cannot be read and may be a log; lodebook check says what is wrong with it",
	noPlans: "no *.lode.yaml file in {paths}",
	head: "{name} ({kind})",
	tilt: "The tilt scale shows {size} ± {spread} too {side} ({evenings} evenings, {scatter}).",
	pan: `The pan, turned by its scale, ends {size} ± {spread} too far {side}, seen from above ({evenings} evenings, {scatter}).`,
	within: "agreeing within their ±",
	beyond: "scattered by {scatter} more than their ± explain",
	tiltApart: `The evenings disagree about the tilt scale, by up to {apart}: something was moved in between. Check
		each evening, and leave out those before the move.`,
	panApart: `The evenings disagree about the pan scale, by up to {apart}: something was moved in between. Check each
		evening, and leave out those before the move.`,
	noTilt: `Nothing is known about the tilt scale yet: that takes two evenings, each measured after the scale was set.`,
	noPan: "Nothing is known about the pan scale yet: that takes two evenings, each measured after the scale was set.",
	much: "much",
	little: "little",
	clockwise: "clockwise",
	anticlockwise: "anticlockwise",
	write: "Add this row to the tracker's zeros: {row}",
	unclear: `Nothing is offered for the {part} scale: less than twice its ±, so chance may explain it. Measure more evenings.`,
	small: `Nothing is offered for the {part} scale: the tracker corrects for it already, or it is too small to be set on a scale.`,
	tiltName: "tilt",
	panName: "pan",
	farOff: `{date} does not count ({path}): its drifts put the axis {error} from the pole, further than almost any alignment
		leaves it. Check its entries, and do not turn the head by them.`,
	hidden: `{date} does not count ({path}): {star} was hidden from the site then. Check the star, the date and the
		clock time, or correct the site.`,
	others: "Evenings on which the axis was set without a scale: {count}. They say nothing about the scales.",
	nothing: "None of these plans has a log.",
	evening: "evening",
	tiltColumn: "tilt scale shows",
	panColumn: "pan ends",
	plan: "plan",
	none: "not set by scale",
	known: "{size} ± {spread} too {side}",
	knownPan: "{size} ± {spread} too far {side}",
});

export const logCommand = (): Command =>
	new Command("log")
		.description(told(words.tellsWhatLogs()))
		.argument("<path...>", told(words.planFilesOr()))
		.option("--json", HELP.json)
		.addHelpText(
			"after",
			`\n${HELP.examples}\n  lodebook log plans\n  lodebook log plans/june.lode.yaml plans/july.lode.yaml --json\n\n${HELP.exitStatus} ${told(words.exits())}`,
		)
		.action((paths: string[], options: { readonly json?: boolean }) => {
			const { plans, skipped, failed } = findPlans(paths);
			const unread = [...failed];
			const evaluateNext = createEvaluator();
			const logged = plans.flatMap((path): LoggedPlan[] => {
				try {
					const one = { path, evaluation: evaluateNext(joinedPlan(path, readText(path))) };
					if (isUnreadable(one)) unread.push(told(words.unreadable({ path })));
					else if (mayHideLog(one)) unread.push(told(words.unknown({ path })));
					return [one];
				} catch (error) {
					if (!(error instanceof CannotRun)) throw error;
					unread.push(error.message);
				}
				return [];
			});
			for (const message of [...skipped, ...unread]) say(message);
			if (plans.length === 0 && unread.length === 0)
				throw new CannotRun(told(words.noPlans({ paths: paths.join(", ") })));
			const heads = headsOf(logged);
			process.stdout.write(options.json ? answerText({ heads: heads.map(headRecord) }) : headsText(heads));
			process.exitCode = unread.length > 0 ? 2 : 0;
		});

function headRecord({ name, kind, constant, next, inForce, evenings, doubtful, others }: Head) {
	const record = (found: ConstantError | undefined, known: number) =>
		found
			? {
					value: found.value,
					plusMinus: found.spread,
					scatter: found.scatter,
					apart: found.apart ?? null,
					evenings: found.evenings,
					judgement: judged(found, known),
				}
			: null;
	const one = (found: (Measured & { readonly method: string }) | undefined) =>
		found ? { value: found.value, plusMinus: found.spread, method: found.method } : null;
	return {
		name,
		head: kind,
		tiltZero: record(constant.tilt, inForce.tilt),
		panZero: record(constant.pan, inForce.pan),
		since: next ? dateText(next) : null,
		evenings: evenings.map(({ path, date, constants }) => ({
			date: dateText(date),
			path,
			tilt: one(constants.tilt),
			pan: one(constants.pan),
		})),
		doubtfulEvenings: doubtful.map(({ path, date, doubt }) => ({ date: dateText(date), path, why: doubt.why })),
		otherEvenings: others,
	};
}

function headsText(heads: readonly Head[]): string {
	if (heads.length === 0) return `${told(words.nothing())}\n`;
	return heads.map((head) => `${headText(head)}\n`).join("\n");
}

function headText({ name, kind, constant, next, inForce, evenings, doubtful, others }: Head): string {
	const { tilt, pan } = constant;
	const zeros = toWrite(constant, inForce);
	const lines = [
		paint(told(words.head({ name, kind })), "bold"),
		told(said(tilt, words.noTilt, words.tiltApart, (one) => words.tilt(sized(one, words.much(), words.little())))),
		told(
			said(pan, words.noPan, words.panApart, (one) => words.pan(sized(one, words.clockwise(), words.anticlockwise()))),
		),
		...unwritten(tilt, inForce.tilt, words.tiltName()),
		...unwritten(pan, inForce.pan, words.panName()),
		...(next && zeros ? [told(words.write({ row: zerosRow(next, zeros) }))] : []),
		...doubtful.map(({ path, date, doubt }) => {
			const place = { date: dateText(date), path: shown(path) };
			return told(
				doubt.why === "far-off"
					? words.farOff({ ...place, error: degrees(doubt.error) })
					: words.hidden({ ...place, star: shown(doubt.star) }),
			);
		}),
		...(others > 0 ? [told(words.others({ count: others }))] : []),
	];
	if (evenings.length === 0) return lines.join("\n");
	const row = (date: string, one: string, other: string, path: string): string =>
		`  ${date.padEnd(12)}${one.padEnd(28)}${other.padEnd(38)}${path}`;
	const known = (found: Measured | undefined, say: typeof words.known, more: Phrase, less: Phrase): string =>
		told(found ? say({ ...sizeOf(found), side: found.value < 0 ? less : more }) : words.none());
	return [
		...lines,
		paint(row(told(words.evening()), told(words.tiltColumn()), told(words.panColumn()), told(words.plan())), "dim"),
		...evenings.map(({ date, constants, path }) =>
			row(
				dateText(date),
				known(constants.tilt, words.known, words.much(), words.little()),
				known(constants.pan, words.knownPan, words.clockwise(), words.anticlockwise()),
				shown(path),
			),
		),
	].join("\n");
}

/** Why a constant that is known is not to be written down. */
function unwritten(found: ConstantError | undefined, known: number, part: Phrase): readonly string[] {
	const judgement = found && judged(found, known);
	return judgement === "unclear" || judgement === "small" ? [told(words[judgement]({ part }))] : [];
}

/** What is said of a scale: nothing known, evenings that disagree, or its constant. */
const said = (
	found: ConstantError | undefined,
	none: () => Phrase,
	disagree: (values: { apart: string }) => Phrase,
	say: (found: ConstantError) => Phrase,
): Phrase =>
	!found ? none() : found.apart === undefined ? say(found) : disagree({ apart: errorDegrees(found.apart, 1) });

const sizeOf = ({ value, spread }: Measured) => ({
	size: errorDegrees(Math.abs(value), 2),
	spread: errorDegrees(spread, 2),
});

const sized = (found: ConstantError, more: Phrase, less: Phrase) => ({
	...sizeOf(found),
	side: found.value < 0 ? less : more,
	evenings: found.evenings,
	// Less than a hundredth is none that could be read.
	scatter: found.scatter < 0.005 ? words.within() : words.beyond({ scatter: errorDegrees(found.scatter, 2) }),
});
