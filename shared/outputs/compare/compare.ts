/**
 * Two states of a plan side by side: what no longer works, what was edited, which times and numbers are others. A
 * value has changed when it reads otherwise: what is smaller than its own rounding is silent. What is the same thing in
 * both is found by what it is: a target by its name, a method by its kind and mark, wherever in the plan it is.
 */

import type { EpochMs } from "../../earth/zone.ts";
import { stepName } from "../../evaluate/evening/words.ts";
import type { Severity } from "../../findings/finding.ts";
import { OF_MEMBERS } from "../../findings/group/member-findings.ts";
import type { Value } from "../../notation/value.ts";
import { type Cell, cellName } from "../../plan/plan.ts";
import { reordered } from "../../text/pairs.ts";
import { sentences, told } from "../../text/sentence.ts";
import { newCautions } from "../cautions.ts";
import { nightInterval, nightSpan } from "../clock.ts";
import { memberNames, memberSide } from "../member.ts";
import type { CheckedPlan } from "../output.ts";
import { type CellPair, cellPairs } from "./cells.ts";
import { type KeyChange, keyChanges, type Named, ORDER, wholeCell } from "./keys.ts";
import { entriesOf, treeOf } from "./tree.ts";

const words = sentences("output.compare", { onSite: "on site", member: "{name}: {what}" });

/** A plan with what follows from it. */
export type Side = Pick<CheckedPlan, "evaluation" | "findings">;

/** `of`: the star, the target … that it is of in that state. */
type Reading = Pick<Value, "value" | "text" | "of">;

export interface ValueChange {
	readonly cell: string;
	readonly id: string;
	readonly of: string | null;
	readonly label: string;
	readonly unit: string;
	readonly before: Reading | null;
	readonly after: Reading | null;
}

/** Hours of a window, or times of a step of the evening. */
export interface WindowChange {
	readonly what: string;
	/** Clock times, `21:04–23:10`. */
	readonly before: readonly string[];
	readonly after: readonly string[];
}

/** Hours of a window, and whether one of the two plans does not have what it is of. */
export interface WindowOfBoth extends WindowChange {
	readonly absent?: "before" | "after";
}

export interface FindingChange {
	readonly code: string;
	readonly severity: Severity;
	readonly cell: string | null;
	readonly message: string;
}

export interface Comparison {
	readonly text: readonly KeyChange[];
	readonly values: readonly ValueChange[];
	readonly windows: readonly WindowOfBoth[];
	readonly evening: readonly WindowChange[];
	/** The worst first. */
	readonly findings: { readonly gained: readonly FindingChange[]; readonly lost: readonly FindingChange[] };
	/** What can hurt and is new, and that a laser of the new state is not cleared: said before all else. */
	readonly safety: readonly string[];
}

export function compare(before: Side, after: Side): Comparison {
	const { comparison: own, renamed } = compareOwn(before, after, () => true);
	const [was, is] = [memberNames(before), memberNames(after)];
	const members = was.flatMap((name, place) => {
		const now = renamed(name);
		const [old, other] = [memberSide(before, place), memberSide(after, is.indexOf(now))];
		return old && other ? [ofMember(now, withoutOthers(old, before), withoutOthers(other, after))] : [];
	});
	if (members.length === 0) return own;
	const joined = <K extends "text" | "values" | "windows" | "evening">(part: K): Comparison[K] =>
		[own, ...members].flatMap((one) => one[part] as readonly unknown[]) as unknown as Comparison[K];
	const found = (side: "gained" | "lost") =>
		inWeight([
			// How many each has is told by what they are.
			...own.findings[side].filter(({ code }) => code !== OF_MEMBERS),
			...members.flatMap((one) => one.findings[side]),
		]);
	return {
		text: joined("text"),
		values: joined("values"),
		windows: joined("windows"),
		evening: joined("evening"),
		findings: { gained: found("gained"), lost: found("lost") },
		safety: own.safety,
	};
}

/** What a group has for all is told once. */
const OF_ALL: ReadonlySet<string | undefined> = new Set(["plan", "site", "night"]);

/** A member's plan without what is found in the group's own. */
function withoutOthers({ evaluation, findings }: Side, { findings: known }: Side): Side {
	const told = new Set(known.map(({ code, message }) => `${code} ${message}`));
	return { evaluation, findings: findings.filter(({ code, message }) => !told.has(`${code} ${message}`)) };
}

/** What changed for one of a group, under the name. */
function ofMember(name: string, before: Side, after: Side): Comparison {
	const { comparison } = compareOwn(before, after, (kind) => !OF_ALL.has(kind));
	const named = (what: string): string => told(words.member({ name, what }));
	const cell = <T extends { readonly cell: string }>(one: T): T => ({ ...one, cell: named(one.cell) });
	const timed = <T extends { readonly what: string }>(one: T): T => ({ ...one, what: named(one.what) });
	const finding = (one: FindingChange): FindingChange => ({
		...one,
		cell: one.cell === null ? name : named(one.cell),
	});
	const { text, values, windows, evening, findings } = comparison;
	return {
		text: text.map(cell),
		values: values.map(cell),
		windows: windows.filter(({ what }) => /^(?:method \d+|target): /.test(what)).map(timed),
		evening: evening.map(timed),
		findings: { gained: findings.gained.map(finding), lost: findings.lost.map(finding) },
		safety: [],
	};
}

/** Of two plans by themselves. `counts`: of which kinds of cells; `renamed`: what somebody of the group is called now. */
function compareOwn(
	before: Side,
	after: Side,
	counts: (kind: string | undefined) => boolean,
): { readonly comparison: Comparison; readonly renamed: (member: string) => string } {
	const pairs = cellPairs(before.evaluation.plan, after.evaluation.plan).filter((pair) =>
		counts((pair.after ?? pair.before)?.read.kind),
	);
	const named = new Map<CellPair, Named>(
		pairs.map((pair) => [pair, { renamed: new Map(), added: new Set(), removed: new Set() }]),
	);
	const text = pairs.flatMap((pair) => textChanges(pair, named.get(pair) as Named));
	// A lens's values, and those of what turns it, go by its name.
	const lenses = renamedLenses(pairs, before, after);
	for (const pair of pairs)
		if (OF_LENSES.has(pair.after?.read.kind)) for (const [was, is] of lenses) named.get(pair)?.renamed.set(was, is);
	const ofKind = (kind: string): Named | undefined =>
		named.get(pairs.find((pair) => pair.after?.read.kind === kind) as CellPair);
	const [targets, group] = [ofKind("targets"), ofKind("group")];
	const nameNow = (name: string): string => targets?.renamed.get(name) ?? name;
	const comparison: Comparison = {
		text: [...text, ...methodOrder(before, pairs)],
		values: pairs.flatMap((pair) => valueChanges(pair, before, after, named.get(pair) as Named)),
		windows: changes(windowTexts(before, pairs, "before", nameNow), windowTexts(after, pairs, "after", same), (key) =>
			absentOf(key, pairs, targetNames(before, nameNow), targetNames(after, same)),
		),
		evening: changes(stepTexts(before, nameNow), stepTexts(after, same)),
		findings: findingChanges(before, after, pairs, named),
		safety: newCautions(before.evaluation, after.evaluation),
	};
	return { comparison, renamed: (member) => group?.renamed.get(member) ?? member };
}

/** Kinds of cells that have values for each lens. */
const OF_LENSES: ReadonlySet<string | undefined> = new Set(["lens", "tracker"]);

/** Lenses that have another name now, by the old one. */
function renamedLenses(pairs: readonly CellPair[], before: Side, after: Side): ReadonlyMap<string, string> {
	const names = pairs.flatMap(({ before: was, after: is }): (readonly [string, string])[] =>
		was && is && is.read.kind === "lens"
			? [[cellName(before.evaluation.plan, was), cellName(after.evaluation.plan, is)]]
			: [],
	);
	return new Map(names.filter(([was, is]) => was !== is));
}

/** What a window is called where people read it. */
export const windowName = (what: string): string => (what === "stay" ? told(words.onSite()) : what);

/** True when nothing changed that a reader of the plan would see. */
export const isSame = ({ text, values, windows, evening, findings }: Comparison): boolean =>
	text.length + values.length + windows.length + evening.length + findings.gained.length + findings.lost.length === 0;

/** Whether a value is of the same star, target … in both states, or in one of them only. */
export const isOfOne = ({ before, after }: Pick<ValueChange, "before" | "after">): boolean =>
	!before || !after || before.of === after.of;

const same = (name: string): string => name;

function textChanges({ label, before, after }: CellPair, named: Named): readonly KeyChange[] {
	if (!before || !after) return [wholeCell(label, before?.text, after?.text)];
	if (before.text === after.text) return [];
	const [old, now] = [treeOf(before), treeOf(after)];
	if (old && now) return keyChanges(label, old, now, named);
	return before.text.trim() === after.text.trim() ? [] : [wholeCell(label, before.text, after.text)];
}

/** Which method is the plan and which are fallbacks. */
function methodOrder({ evaluation }: Side, pairs: readonly CellPair[]): readonly KeyChange[] {
	const ofMethods = pairs.filter(({ before, after }) => (after ?? before)?.read.kind === "method");
	const nameOf = ({ read }: Cell): string => (read.content as { kind?: string } | undefined)?.kind ?? "method";
	const order = reordered(
		evaluation.plan.cells,
		ofMethods.map(({ before, after }) => ({ before, after }) as { before: Cell; after: Cell }),
		nameOf,
	);
	return order ? [{ cell: "method", of: null, key: ORDER, ...order }] : [];
}

function valueChanges(
	{ label, before, after }: CellPair,
	{ evaluation: was }: Side,
	{ evaluation: is }: Side,
	{ renamed, added, removed }: Named,
): readonly ValueChange[] {
	// What is in one state only is told as a whole, with its text.
	if (!before || !after) return [];
	const old = byKey(was.valuesOf(before), (of) => renamed.get(of) ?? of, removed);
	const now = byKey(is.valuesOf(after), same, added);
	return [...new Set([...old.keys(), ...now.keys()])].flatMap((key): ValueChange[] => {
		const [one, other] = [old.get(key), now.get(key)];
		if (one?.text === other?.text) return [];
		const { id, of, label: name, unit } = (other ?? one) as Value;
		const reading = (computed: Value | undefined): Reading | null =>
			computed ? { value: computed.value, text: computed.text, of: computed.of } : null;
		return [{ cell: label, id, of, label: name, unit, before: reading(one), after: reading(other) }];
	});
}

/** The share of what makes an axis uncertain: it goes by what that is. */
const SHARE: Value["id"] = "method.source";

/** Values of a landmark, a target or an entry go by its name; a method's stay its own when its star changes. */
function byKey(
	values: readonly Value[],
	nameNow: (of: string) => string,
	left: ReadonlySet<string>,
): ReadonlyMap<string, Value> {
	const keyed = new Map<string, Value>();
	const counts = new Map<string, number>();
	for (const computed of values) {
		const { id, of } = computed;
		if (of !== null && left.has(of)) continue;
		const name = (id === SHARE || !id.startsWith("method.")) && of !== null ? `${id} ${nameNow(of)}` : id;
		const count = (counts.get(name) ?? 0) + 1;
		counts.set(name, count);
		keyed.set(`${name} ${count}`, computed);
	}
	return keyed;
}

/** Times of what has a name, by what it is. */
type Timed = ReadonlyMap<string, { readonly what: string; readonly times: readonly string[]; readonly at?: EpochMs }>;

const targetNames = ({ evaluation }: Side, nameNow: (name: string) => string): ReadonlySet<string> =>
	new Set(evaluation.targets?.value?.flatMap((target) => (target ? [nameNow(target.name)] : [])));

/** Which of the plans does not have the method or the target of a window. */
function absentOf(
	key: string,
	pairs: readonly CellPair[],
	before: ReadonlySet<string>,
	after: ReadonlySet<string>,
): WindowOfBoth["absent"] {
	const [, place] = /^method (\d+)$/.exec(key) ?? [];
	const [, target] = /^target: ([\s\S]*)$/.exec(key) ?? [];
	const pair = place === undefined ? undefined : pairs[Number(place)];
	if ((pair && !pair.before) || (target !== undefined && !before.has(target))) return "before";
	return (pair && !pair.after) || (target !== undefined && !after.has(target)) ? "after" : undefined;
}

function changes(
	old: Timed,
	now: Timed,
	absent: (key: string) => WindowOfBoth["absent"] = () => undefined,
): readonly WindowOfBoth[] {
	const at = (key: string): number => now.get(key)?.at ?? old.get(key)?.at ?? 0;
	const keys = [...new Set([...now.keys(), ...old.keys()])].sort((a, b) => at(a) - at(b));
	return keys.flatMap((key): WindowOfBoth[] => {
		const [was, is] = [old.get(key), now.get(key)];
		const [before, after] = [was?.times ?? [], is?.times ?? []];
		if (before.join() === after.join()) return [];
		const side = absent(key);
		// What is gone is told as a whole, with its text.
		if (side === "after") return [];
		return [{ what: is?.what ?? was?.what ?? key, before, after, ...(side ? { absent: side } : {}) }];
	});
}

function windowTexts(
	{ evaluation: { windows, night, methods } }: Side,
	pairs: readonly CellPair[],
	side: "before" | "after",
	nameNow: (name: string) => string,
): Timed {
	const texts = new Map<string, { readonly what: string; readonly times: string[] }>();
	if (!night) return texts;
	for (const { what, interval } of windows) {
		const [, number] = /^method (\d+): /.exec(what) ?? [];
		const [, target] = /^target: ([\s\S]*)$/.exec(what) ?? [];
		const cell = number === undefined ? undefined : methods[Number(number) - 1]?.cell;
		const place = cell ? pairs.findIndex((pair) => pair[side] === cell) : -1;
		const key = place >= 0 ? `method ${place}` : target === undefined ? what : `target: ${nameNow(target)}`;
		const known = texts.get(key) ?? { what, times: [] };
		known.times.push(nightInterval(night, interval));
		texts.set(key, known);
	}
	return texts;
}

function stepTexts({ evaluation }: Side, nameNow: (name: string) => string): Timed {
	const texts = new Map<string, { readonly what: string; readonly times: string[]; readonly at: EpochMs }>();
	const { evening, night, targets } = evaluation;
	if (!evening || !night) return texts;
	for (const step of evening.steps) {
		// What is between the others follows from them.
		if (step.kind === "wait") continue;
		const what = told(stepName(step, evaluation));
		const target = step.kind === "align" || step.of === undefined ? undefined : targets?.value?.[step.of]?.name;
		const key = `${step.kind} ${target === undefined ? what : nameNow(target)}`;
		const known = texts.get(key) ?? { what, times: [], at: step.from };
		known.times.push(nightSpan(night, step));
		texts.set(key, known);
	}
	return texts;
}

const WEIGHT: Readonly<Record<Severity, number>> = { error: 0, warning: 1, info: 2 };

function findingChanges(
	before: Side,
	after: Side,
	pairs: readonly CellPair[],
	named: ReadonlyMap<CellPair, Named>,
): Comparison["findings"] {
	const old = findingsByKey(before, pairs, "before", (pair, name) => named.get(pair)?.renamed.get(name) ?? name);
	const now = findingsByKey(after, pairs, "after", (_, name) => name);
	const only = (one: ReadonlyMap<string, FindingChange>, other: ReadonlyMap<string, FindingChange>) =>
		[...one].flatMap(([key, finding]) => (other.has(key) ? [] : [finding]));
	return { gained: inWeight(only(now, old)), lost: inWeight(only(old, now)) };
}

const inWeight = (findings: readonly FindingChange[]): readonly FindingChange[] =>
	[...findings].sort((a, b) => WEIGHT[a.severity] - WEIGHT[b.severity]);

/** By code, severity, cell and the item of the cell's list: a finding whose numbers changed is still the same finding. */
function findingsByKey(
	{ findings }: Side,
	pairs: readonly CellPair[],
	side: "before" | "after",
	nameNow: (pair: CellPair, name: string) => string,
): ReadonlyMap<string, FindingChange> {
	const counts = new Map<string, number>();
	const items = new Map<Cell, readonly Item[]>();
	return new Map(
		findings.map(({ code, severity, cell, from, message }) => {
			const place = cell ? pairs.findIndex((pair) => pair[side]?.index === cell.index) : -1;
			const pair = pairs[place];
			const own = pair?.[side];
			if (own && !items.has(own)) items.set(own, itemsOf(own));
			const item = own && items.get(own)?.findLast((one) => one.from <= from - own.start);
			const key = `${code} ${severity} ${place} ${pair && item ? nameNow(pair, item.name) : ""}`;
			const count = (counts.get(key) ?? 0) + 1;
			counts.set(key, count);
			return [`${key} ${count}`, { code, severity, cell: pair?.label ?? null, message }];
		}),
	);
}

interface Item {
	readonly name: string;
	readonly from: number;
}

/** The entries of a cell that is a list. */
function itemsOf(cell: Cell): readonly Item[] {
	const { kind } = cell.read;
	const tree = kind === "targets" || kind === "log" ? treeOf(cell) : undefined;
	return tree ? entriesOf(tree) : [];
}
