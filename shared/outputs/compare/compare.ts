/**
 * Two states of a plan side by side: what changed in the text and in what follows from it. A value has changed when
 * it reads otherwise: what is smaller than its own rounding is silent.
 */

import type { Evaluation } from "../../evaluate/evaluate.ts";
import type { Severity } from "../../findings/finding.ts";
import { intervalText } from "../../notation/interval.ts";
import type { Value } from "../../notation/value.ts";
import { type Cell, cellName } from "../../plan/plan.ts";
import { sentences, told } from "../../text/sentence.ts";
import type { CheckedPlan } from "../output.ts";

const words = sentences("output.compare", { unreadable: "unreadable cell", onSite: "on site" });

/** A plan with what follows from it. */
export type Side = Pick<CheckedPlan, "evaluation" | "findings">;

export interface KeyChange {
	readonly cell: string;
	/** Path of the key in its cell; empty for the cell as a whole. */
	readonly key: string;
	/** As written; null when it is not there. */
	readonly before: string | null;
	readonly after: string | null;
}

type Reading = Pick<Value, "value" | "text">;

export interface ValueChange {
	readonly cell: string;
	readonly id: string;
	readonly of: string | null;
	readonly label: string;
	readonly unit: string;
	readonly before: Reading | null;
	readonly after: Reading | null;
}

export interface WindowChange {
	readonly what: string;
	/** Clock times, `21:04–23:10`. */
	readonly before: readonly string[];
	readonly after: readonly string[];
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
	readonly windows: readonly WindowChange[];
	readonly findings: { readonly gained: readonly FindingChange[]; readonly lost: readonly FindingChange[] };
}

export function compare(before: Side, after: Side): Comparison {
	const [old, now] = [cellsByLabel(before.evaluation), cellsByLabel(after.evaluation)];
	const labels = [...new Set([...old.keys(), ...now.keys()])];
	return {
		text: labels.flatMap((label) => keyChanges(label, old.get(label), now.get(label))),
		values: labels.flatMap((label) =>
			valueChanges(label, valuesOf(before, old.get(label)), valuesOf(after, now.get(label))),
		),
		windows: windowChanges(before.evaluation, after.evaluation),
		findings: findingChanges(before, after),
	};
}

/** What a window is called where people read it. */
export const windowName = (what: string): string => (what === "stay" ? told(words.onSite()) : what);

/** True when nothing changed that a reader of the plan would see. */
export const isSame = ({ text, values, windows, findings }: Comparison): boolean =>
	text.length + values.length + windows.length + findings.gained.length + findings.lost.length === 0;

const SEVERAL = new Set(["lens", "method", "note"]);

/** `site`, `method 2`, `lens wide`: what stays the same cell when its content changes. */
function cellsByLabel({ plan }: Evaluation): ReadonlyMap<string, Cell> {
	const labelled = new Map<string, Cell>();
	const counts = new Map<string, number>();
	for (const cell of plan.cells) {
		const kind = cell.read.kind ?? told(words.unreadable());
		const count = (counts.get(kind) ?? 0) + 1;
		counts.set(kind, count);
		const name = kind === "lens" ? cellName(plan, cell) : "";
		const label =
			!SEVERAL.has(kind) && count === 1
				? kind
				: name !== "" && name !== kind && !labelled.has(`${kind} ${name}`)
					? `${kind} ${name}`
					: `${kind} ${count}`;
		labelled.set(label, cell);
	}
	return labelled;
}

function keyChanges(label: string, before: Cell | undefined, after: Cell | undefined): readonly KeyChange[] {
	if (!before || !after)
		return [
			{ cell: label, key: "", before: before ? before.text.trim() : null, after: after ? after.text.trim() : null },
		];
	if (before.text === after.text) return [];
	const [old, now] = [sources(before), sources(after)];
	const changes = [...new Set([...old.keys(), ...now.keys()])].flatMap((key): KeyChange[] =>
		old.get(key) === now.get(key)
			? []
			: [{ cell: label, key, before: old.get(key) ?? null, after: now.get(key) ?? null }],
	);
	const broken = [before, after].some(({ read }) => read.kind === undefined || read.content === undefined);
	return changes.length === 0 && broken
		? [{ cell: label, key: "", before: before.text.trim(), after: after.text.trim() }]
		: changes;
}

/** What is written for each key that holds a single value. */
const sources = ({ read }: Cell): ReadonlyMap<string, string> =>
	new Map(
		[...read.places].flatMap(([path, { source }]): [string, string][] =>
			source === undefined ? [] : [[path, source]],
		),
	);

const valuesOf = ({ evaluation }: Side, cell: Cell | undefined): readonly Value[] =>
	cell ? evaluation.valuesOf(cell) : [];

function valueChanges(label: string, before: readonly Value[], after: readonly Value[]): readonly ValueChange[] {
	const [old, now] = [byKey(before), byKey(after)];
	return [...new Set([...old.keys(), ...now.keys()])].flatMap((key): ValueChange[] => {
		const [was, is] = [old.get(key), now.get(key)];
		if (was?.text === is?.text) return [];
		const { id, of, label: name, unit } = (is ?? was) as Value;
		const reading = (computed: Value | undefined): Reading | null =>
			computed ? { value: computed.value, text: computed.text } : null;
		return [{ cell: label, id, of, label: name, unit, before: reading(was), after: reading(is) }];
	});
}

/** Values of a landmark, a target or an entry go by its name; a method's stay its own when its star changes. */
function byKey(values: readonly Value[]): ReadonlyMap<string, Value> {
	const keyed = new Map<string, Value>();
	const counts = new Map<string, number>();
	for (const computed of values) {
		const named =
			!computed.id.startsWith("method.") && computed.of !== null ? `${computed.id} ${computed.of}` : computed.id;
		const count = (counts.get(named) ?? 0) + 1;
		counts.set(named, count);
		keyed.set(`${named} ${count}`, computed);
	}
	return keyed;
}

function windowChanges(before: Evaluation, after: Evaluation): readonly WindowChange[] {
	const [old, now] = [windowTexts(before), windowTexts(after)];
	return [...new Set([...old.keys(), ...now.keys()])].flatMap((what): WindowChange[] => {
		const [was, is] = [old.get(what) ?? [], now.get(what) ?? []];
		return was.join() === is.join() ? [] : [{ what, before: was, after: is }];
	});
}

function windowTexts({ windows, night }: Evaluation): ReadonlyMap<string, readonly string[]> {
	const texts = new Map<string, string[]>();
	if (!night) return texts;
	for (const { what, interval } of windows) {
		texts.set(what, [...(texts.get(what) ?? []), intervalText(night.zone, interval)]);
	}
	return texts;
}

function findingChanges(before: Side, after: Side): Comparison["findings"] {
	const [old, now] = [findingsByKey(before), findingsByKey(after)];
	return {
		gained: [...now].flatMap(([key, finding]) => (old.has(key) ? [] : [finding])),
		lost: [...old].flatMap(([key, finding]) => (now.has(key) ? [] : [finding])),
	};
}

/** By code and cell: a finding whose numbers changed is still the same finding. */
function findingsByKey({ evaluation, findings }: Side): ReadonlyMap<string, FindingChange> {
	const labels = new Map([...cellsByLabel(evaluation)].map(([label, cell]) => [cell, label]));
	const counts = new Map<string, number>();
	return new Map(
		findings.map(({ code, severity, cell, message }) => {
			const label = (cell && labels.get(cell)) ?? null;
			const key = `${code} ${label}`;
			const count = (counts.get(key) ?? 0) + 1;
			counts.set(key, count);
			return [`${key} ${count}`, { code, severity, cell: label, message }];
		}),
	);
}
