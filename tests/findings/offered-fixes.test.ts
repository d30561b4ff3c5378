/** Whatever is offered works: each fix, once applied, and each mark that is suggested. Over the samples, the plans of `tests/evening/` and random ones. */
import { readdirSync, readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { evaluateMethod } from "../../shared/cells/method/method.ts";
import { clockOf, wallClock } from "../../shared/earth/zone.ts";
import type { Evaluation } from "../../shared/evaluate/evaluate.ts";
import { proposedBy } from "../../shared/evaluate/proposals.ts";
import { check } from "../../shared/findings/check.ts";
import { exampleText } from "../../shared/findings/example-plan.ts";
import { type Edit, type Finding, replaceValue, setKey } from "../../shared/findings/finding.ts";
import { newProblem } from "../../shared/findings/new-problems.ts";
import { RULES } from "../../shared/findings/rules.ts";
import { type MethodContent, type MethodKind, methodOf } from "../../shared/methods/methods.ts";
import type { Cell } from "../../shared/plan/plan.ts";
import { applyEdits } from "../../shared/text/edits.ts";
import { type Given, written } from "../../shared/text/scalar.ts";
import { evaluateText } from "../plan-text.ts";
import { FIRST_PLAN, randomPlan } from "../random-plans.ts";

const COUNT = Number(process.env.LODEBOOK_EVENINGS ?? 300);

const plansIn = (folder: string): readonly (readonly [name: string, text: string])[] =>
	readdirSync(new URL(folder, import.meta.url))
		.filter((file) => file.endsWith(".lode.yaml"))
		.map((file) => [file, readFileSync(new URL(folder + file, import.meta.url), "utf8")] as const);
/**
 * Random plans in which a fix failed once: frames that do not fit were said to be in twilight; a target was moved into the
 * time on site, in which it is never in view; it was called usable for less than a minute; a pause was offered in which a
 * target is not in view; frames that found no time had moonlight; what is aimed at began while others ran; one of
 * several targets was moved behind the alignment; the drive's end was told of frames that fit alone; with the exposure
 * that was offered the frames were placed where it is too long; frames that show no sky had trails.
 */
const FOUND = [258_889, 259_057, 258_851, 720_136, 830_150, 123_743, 345_920, 679_077, 20_481];
const PLANS = [
	...plansIn("../../samples/"),
	...plansIn("../evening/"),
	...[...FOUND, ...Array.from({ length: COUNT }, (_, i) => FIRST_PLAN + i)].map(
		(seed) => [`plan ${seed}`, randomPlan(seed)] as const,
	),
];

const findingsOf = (text: string): readonly Finding[] => check(evaluateText(text));
const ofKind = (findings: readonly Finding[], { code, cell }: Finding): number =>
	findings.filter((one) => one.code === code && one.cell?.index === cell?.index).length;

const isOfReading = ({ code }: Finding): boolean => code.startsWith("structure/") || code === "method/unknown-star";

test(`every fix that is offered in ${PLANS.length} plans, the random ones from LODEBOOK_SEED=${FIRST_PLAN} on, takes its finding away and brings no error`, () => {
	let fixes = 0;
	const wrong: string[] = [];
	for (const [name, text] of PLANS) {
		const before = findingsOf(text);
		for (const finding of before)
			for (const { title, edits } of finding.fixes) {
				fixes++;
				const after = findingsOf(applyEdits(text, edits));
				if (ofKind(after, finding) >= ofKind(before, finding))
					wrong.push(`${name}: ${finding.code}: “${title}” leaves it`);
				// A word that is put right is read for the first time: what it says may be wrong in turn.
				if (isOfReading(finding)) continue;
				const errors = after.filter(({ severity }) => severity === "error");
				const made = newProblem(errors, before);
				if (made) wrong.push(`${name}: ${finding.code}: “${title}” brings ${made.code}: ${made.message}`);
			}
	}
	expect(wrong).toEqual([]);
	expect(fixes).toBeGreaterThan(COUNT);
}, 600_000);

test(`every mark that is suggested works at its time, from LODEBOOK_SEED=${FIRST_PLAN} on`, () => {
	let marks = 0;
	const wrong: string[] = [];
	for (const [name, text] of PLANS) {
		const { methods, tonight } = evaluateText(text);
		for (const { value } of methods) {
			if (!value?.method.search || !tonight) continue;
			for (const { name: mark, keys, at } of value.method.search.find(value.content, tonight).slice(0, 12)) {
				marks++;
				const content = { ...value.content, ...keys, at: wallClock(tonight.zone, at).secondsOfDay } as MethodContent;
				if (!evaluateMethod(content, tonight)?.works) wrong.push(`${name}: ${value.method.kind} on ${mark}`);
			}
		}
	}
	expect(wrong).toEqual([]);
	expect(marks).toBeGreaterThan(COUNT);
});

/** A recommendation in a message, and whether the core accepts what it names. */
interface Recommended {
	/** What the message says. */
	readonly says: RegExp;
	/** The kind of cell that it is said of, where others say the same of something else. */
	readonly of?: string;
	/** Texts with what was recommended put in; each of them has to satisfy. */
	readonly put: (found: Recommendation) => readonly string[];
	readonly satisfies: (found: Recommendation, after: Evaluation) => boolean;
}

interface Recommendation {
	readonly text: string;
	readonly evaluation: Evaluation;
	readonly finding: Finding;
	readonly cell: Cell;
	/** Groups of the pattern. */
	readonly named: readonly string[];
}

const edited = (text: string, edits: readonly (Edit | undefined)[]): string => {
	expect(edits).not.toContain(undefined);
	return applyEdits(text, edits as readonly Edit[]);
};
const keyOf = ({ text, cell }: Recommendation, key: string, value: Given): string =>
	edited(text, [setKey(cell, "", key, value)]);
/** The target's place in the list, by the place that its finding is at. */
const targetOf = ({ cell, finding }: Recommendation): string => {
	const paths = [...cell.read.places].filter(([, { value }]) => cell.start + value.from === finding.from);
	return paths[0]?.[0].split(".")[0] ?? "";
};
/** The target's other findings of that code begin with other words. */
const isGone = ({ finding }: Recommendation, after: Evaluation): boolean =>
	!check(after).some(
		({ code, cell, from, message }) =>
			code === finding.code &&
			cell?.index === finding.cell?.index &&
			from === finding.from &&
			message.split(" ")[0] === finding.message.split(" ")[0],
	);
const methodIn = ({ cell }: Pick<Recommendation, "cell">, { methods }: Evaluation) =>
	methods.find((one) => one.cell.index === cell.index)?.value;
const CLOCK = String.raw`\d\d:\d\d`;
/** Minutes of a clock time after noon: an evening goes on after midnight. */
const minutesOf = (clock: string): number => (Number(clock.slice(0, 2)) * 60 + Number(clock.slice(3)) + 720) % 1440;
const clockAt = (minutes: number): string =>
	[Math.floor(((minutes + 720) % 1440) / 60), minutes % 60].map((one) => String(one).padStart(2, "0")).join(":");
/** Both ends and the middle of each stretch that a message names; a single minute is both. */
const momentsIn = (list: string): readonly string[] =>
	[...list.matchAll(new RegExp(`(${CLOCK})(?: \\(\\+1\\))?(?:–(${CLOCK}))?`, "g"))].flatMap(
		([, from = "", until = from]) => {
			const [first, last] = [minutesOf(from), minutesOf(until) || 1440];
			// A night goes from noon to noon: its last moment is no clock time of its own.
			return [from, clockAt(Math.floor((first + last) / 2)), ...(last === 1440 ? [] : [until])];
		},
	);
/** When a frame can begin in each stretch: what begins at its end, which may be at the very second, lies behind it. */
const beginsIn = (list: string): readonly string[] =>
	[...list.matchAll(new RegExp(`(${CLOCK})–(${CLOCK})`, "g"))].flatMap(([, from = "", until = ""]) => {
		const [first, last] = [minutesOf(from), (minutesOf(until) || 1440) - 1];
		return [from, clockAt(Math.floor((first + last) / 2)), clockAt(last)];
	});

const RECOMMENDED: readonly Recommended[] = [
	{
		// Other methods: one cell of each kind, as the editor would complete it.
		says: /Usable tonight: (.*`\)[^.]*)\./,
		put: ({ text, named, evaluation, cell }) =>
			[...(named[0] ?? "").matchAll(/`([\w-]+)`/g)].map(([, kind = ""]) => {
				const method = methodOf(kind as MethodKind);
				const { tonight } = evaluation;
				const [proposed] = tonight ? [...proposedBy(method, tonight)] : [];
				const [found] = tonight && method.search?.fills ? method.search.find({ kind: method.kind }, tonight) : [];
				const keys = proposed?.keys ?? {
					...found?.keys,
					...(found && method.search?.timed && { at: clockOf(tonight?.zone ?? "", found.at) }),
				};
				const lines = Object.entries(keys).map(([key, value]) => `\n  ${key}: ${written(value)}`);
				return `${text.slice(0, cell.start + cell.text.indexOf("method:"))}method:\n  kind: ${kind}${lines.join("")}\n${text.slice(cell.end)}`;
			}),
		satisfies: (one, after) => methodIn(one, after)?.works === true,
	},
	{
		// Each mark that is named is that of a fix.
		says: /[Uu]sable tonight: ([^`.]+ at \d\d:\d\d(?: \(\+1\))?)/,
		put: ({ text, finding, named: [marks = ""] }) =>
			marks.split(/, | or /).flatMap((mark) => {
				const title = `Use ${mark}`;
				expect(finding.fixes.map((one) => one.title)).toContain(title);
				return finding.fixes.filter((one) => one.title === title).map(({ edits }) => applyEdits(text, edits));
			}),
		satisfies: (one, after) => methodIn(one, after)?.works === true,
	},
	{
		says: /With `offset: ([^`]+)` (.+) can be used at (\d\d:\d\d)/,
		put: ({ text, cell, named: [offset = "", star = "", at = ""] }) => [
			edited(text, [
				setKey(cell, "", "offset", offset),
				setKey(cell, "", "guide-star", star),
				setKey(cell, "", "at", at),
			]),
		],
		satisfies: (one, after) => methodIn(one, after)?.works === true,
	},
	{
		says: /With `reach: ([^`]+)` (.+) can be used at (\d\d:\d\d)/,
		put: ({ text, cell, named: [reach = "", star = "", at = ""] }) => [
			edited(text, [
				setKey(cell, "", "reach", reach),
				setKey(cell, "", "guide-star", star),
				setKey(cell, "", "at", at),
			]),
		],
		satisfies: (one, after) => methodIn(one, after)?.works === true,
	},
	{
		says: / Usable: ([^.]*\d\d:\d\d[^.]*)\.$/,
		of: "method",
		put: (one) => momentsIn(one.named[0] ?? "").map((clock) => keyOf(one, "at", clock)),
		satisfies: (one, after) => methodIn(one, after)?.works === true,
	},
	{
		says: / Usable: ([^.]*\d\d:\d\d[^.]*)\.$/,
		of: "targets",
		put: (one) => beginsIn(one.named[0] ?? "").map((clock) => shortFrameAt(one, clock)),
		satisfies: isGone,
	},
	{
		says: new RegExp(` It passes at (${CLOCK}(?::\\d\\d)?)(?: \\(\\+1\\))?\\.`),
		put: (one) => [keyOf(one, "at", one.named[0] ?? "")],
		satisfies: (one, after) => methodIn(one, after)?.works === true,
	},
	{
		says: new RegExp(String.raw`[Ee]xpose for ([^.,]*(?:\.\d+)?[^.,]*) at most(?: if begun at (${CLOCK}(?::\d\d)?))?`),
		put: (one) => {
			const [longest = "", begun] = one.named;
			const path = targetOf(one);
			const time = begun === undefined ? [] : [setKey(one.cell, path, "from", begun)];
			return [edited(one.text, [replaceValue(one.cell, `${path}.exposure`, longest), ...time])];
		},
		satisfies: isGone,
	},
	{
		says: / Only (\d+) frames? fits?\./,
		put: (one) => [edited(one.text, [setKey(one.cell, targetOf(one), "frames", one.named[0] ?? "")])],
		satisfies: isGone,
	},
	{
		says: /Only (\d+) of the \d+ frames of .* fit/,
		put: (one) =>
			one.evaluation.targets?.value?.[Number(targetOf(one))]?.panorama
				? []
				: [edited(one.text, [setKey(one.cell, targetOf(one), "frames", one.named[0] ?? "")])],
		satisfies: isGone,
	},
	{
		// One short frame at any of the times is in view.
		says: /In view: ([^;]*\d\d:\d\d[^;]*)\.$/,
		put: (one) => beginsIn(one.named[0] ?? "").map((clock) => shortFrameAt(one, clock)),
		satisfies: isGone,
	},
	{
		says: / Dark: ([^;]*\d\d:\d\d[^;]*)\.$/,
		put: (one) => beginsIn(one.named[0] ?? "").map((clock) => shortFrameAt(one, clock)),
		satisfies: isGone,
	},
	{
		says: /Target and ground fit into one frame ([^.]*\d\d:\d\d[^.]*)\./,
		put: (one) => beginsIn(one.named[0] ?? "").map((clock) => shortFrameAt(one, clock)),
		satisfies: isGone,
	},
	{
		says: new RegExp(`Be out by (${CLOCK})`),
		put: (one) => [keyOf(one, "leave", one.named[0] ?? "")],
		satisfies: isGone,
	},
	{
		// A method that is recommended by name and what it is pointed at is the one that its fix adds.
		says: /would bring it within ([\d.]+)° tonight/,
		put: ({ text, finding }) => finding.fixes.map(({ edits }) => applyEdits(text, edits)),
		satisfies: ({ named }, { methods }) => {
			const added = methods.at(-1)?.value;
			return added?.works === true && added.budget.radius95 <= Number(named[0]) + 0.06;
		},
	},
	{
		// A fallback that is moved to the top works there, and is the finest.
		says: /Move (?:the fallback|it) to the top/,
		put: ({ text, evaluation, cell }) => {
			const [first] = evaluation.methods;
			if (!first) return [];
			const [a, b] = [first.cell, cell];
			return [
				text.slice(0, a.start) + slice(text, b) + text.slice(a.end, b.start) + slice(text, a) + text.slice(b.end),
			];
		},
		satisfies: ({ finding }, after) =>
			after.methods[0]?.value?.works === true && !check(after).some(({ code }) => code === finding.code),
	},
	{
		says: new RegExp(`Highest at (${CLOCK}).*?, at altitude ([\\d.]+)°`),
		put: (one) => [shortFrameAt(one, one.named[0] ?? "")],
		satisfies: (one, after) => {
			const target = after.targets?.value?.[Number(targetOf(one))];
			return Math.abs((target?.directionAt(target.series.from).altitude ?? 0) - Number(one.named[1])) < 0.2;
		},
	},
];

const slice = (text: string, { start, end }: Cell): string => text.slice(start, end);

/** The target's first frame alone, for a second, at a time of its own. */
function shortFrameAt(one: Recommendation, clock: string): string {
	const path = targetOf(one);
	const { places } = one.cell.read;
	const time = ["from", "at"].find((key) => places.has(`${path}.${key}`)) ?? "from";
	const frames = places.has(`${path}.frames`) ? [replaceValue(one.cell, `${path}.frames`, "1")] : [];
	return edited(one.text, [
		setKey(one.cell, path, time, clock),
		replaceValue(one.cell, `${path}.exposure`, "1 s"),
		...frames,
	]);
}

/** Plans in which a rule has something to say: what is rare at random too. */
const EXAMPLES = RULES.flatMap(({ code, wrong, over = [] }) =>
	[wrong, ...[over].flat()].map((example) => [code, exampleText(example)] as const),
);

test(`what a message recommends in ${PLANS.length + EXAMPLES.length} plans, the random ones from LODEBOOK_SEED=${FIRST_PLAN} on, is accepted, with the numbers it names`, () => {
	const counts = new Map(RECOMMENDED.map((one) => [one, 0]));
	const wrong: string[] = [];
	for (const [name, text] of [...PLANS, ...EXAMPLES]) {
		const evaluation = evaluateText(text);
		for (const finding of check(evaluation)) {
			const { cell, message } = finding;
			if (!cell || cell.read.from !== undefined) continue;
			for (const recommended of RECOMMENDED) {
				const found = recommended.says.exec(message);
				if (!found || (recommended.of ?? cell.read.kind) !== cell.read.kind) continue;
				const one: Recommendation = { text, evaluation, finding, cell, named: found.slice(1) };
				for (const changed of recommended.put(one)) {
					counts.set(recommended, (counts.get(recommended) ?? 0) + 1);
					if (!recommended.satisfies(one, evaluateText(changed)))
						wrong.push(`${name}: ${finding.code}: ${message} [${found[0]}]`);
				}
			}
		}
	}
	expect(wrong).toEqual([]);
	expect([...counts].flatMap(([{ says }, count]) => (count === 0 ? [String(says)] : []))).toEqual([]);
	expect([...counts.values()].reduce((sum, count) => sum + count)).toBeGreaterThan(2 * COUNT);
}, 600_000);
