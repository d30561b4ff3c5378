/** What `compare` is asked to compare: a plan or a folder of plans, in the folder as it is or at a revision. */
import { basename, join, relative, resolve, sep } from "node:path";
import { SETTINGS_FILE } from "../shared/cells/settings/keys.ts";
import { createEvaluator } from "../shared/evaluate/evaluate.ts";
import { check } from "../shared/findings/check.ts";
import type { CheckedPlan } from "../shared/outputs/output.ts";
import type { Plan } from "../shared/plan/plan.ts";
import { readPlan } from "../shared/plan/plan.ts";
import { type JoinedPlan, type Library, linksFrom, settingsIn } from "../shared/plan/reuse.ts";
import { CannotRun, isFolder, readText } from "./files.node.ts";
import { findPlans, passedOverIn } from "./find-plans.node.ts";
import { type Revision, revisionOf, storedAt } from "./git.node.ts";
import { joinedPlan, joinedWith, rootOf, settingsFor } from "./library.node.ts";

/** A plan of a state, read when it is asked for. Each throws `CannotRun` where it cannot be read. */
export interface StatedPlan {
	/** What the reader knows it by. */
	readonly name: string;
	readonly text: () => string;
	/** What git knows its text by. */
	readonly id?: string | undefined;
	readonly joined: () => Plan & JoinedPlan;
	/** The text of another plan of that state that it takes from, by its path from the root. */
	readonly taken: (path: string) => string | undefined;
}

export type State =
	| { readonly source: string; readonly plan: StatedPlan }
	/** By their paths in the folder. */
	| {
			readonly source: string;
			readonly plans: ReadonlyMap<string, StatedPlan>;
			readonly unread: readonly string[];
			/** Whether the settings of that state pass over a path in the folder. */
			readonly passesOver: (path: string) => boolean;
	  };

export function stateOf(source: string): State {
	const revision = revisionOf(source);
	return revision ? storedState(revision) : stateOnDisk(source);
}

function stateOnDisk(source: string): State {
	if (!isFolder(source)) return { source, plan: planOnDisk(source) };
	const { plans, failed } = findPlans([source]);
	const named = plans.map((path) => [relative(source, path).split(sep).join("/"), planOnDisk(path)] as const);
	const base = relative(rootOf(join(source, "any")), resolve(source))
		.split(sep)
		.join("/");
	return { source, plans: new Map(named), unread: failed, passesOver: passedOverIn(base, settingsFor(source)) };
}

function planOnDisk(path: string): StatedPlan {
	const text = once(() => readText(path));
	return {
		name: path,
		text,
		joined: once(() => joinedPlan(path, text())),
		taken: (other) => {
			try {
				return readText(resolve(rootOf(path), other));
			} catch (error) {
				if (error instanceof CannotRun) return undefined;
				throw error;
			}
		},
	};
}

function storedState(revision: Revision): State {
	const { plans, path } = storedAt(revision);
	const read = new Map<string, ReturnType<Library>>();
	const library: Library = (other) => {
		const known = read.get(other);
		if (known) return known;
		const text = taken(other);
		const found: ReturnType<Library> = text === undefined ? { missing: "not-found" } : { plan: readPlan(text) };
		read.set(other, found);
		return found;
	};
	const taken = (other: string): string | undefined => {
		try {
			return plans.text(other, other);
		} catch (error) {
			if (error instanceof CannotRun) return undefined;
			throw error;
		}
	};
	const planAt = (at: string, name: string): StatedPlan => {
		const text = once(() => plans.text(at, name));
		return { name, text, id: plans.idOf(at), joined: once(() => joinedWith(library, at, text())), taken };
	};
	if (plans.has(path)) {
		const name = path.endsWith(revision.path) ? revision.source : `${revision.revision}:${path}`;
		return { source: revision.source, plan: planAt(path, name) };
	}
	const prefix = path === "" ? "" : `${path}/`;
	const passesOver = passedOverIn(path, settingsIn(library));
	const inside = plans.paths.filter(
		(one) => one.startsWith(prefix) && !isPassedOver(one.slice(prefix.length)) && !passesOver(one.slice(prefix.length)),
	);
	plans.prepare(inside);
	return {
		source: revision.source,
		plans: new Map(inside.map((one) => [one.slice(prefix.length), planAt(one, `${revision.revision}:${one}`)])),
		unread: [],
		passesOver,
	};
}

/** As in a folder on disk. */
const isPassedOver = (path: string): boolean =>
	path
		.split("/")
		.some((part, place, all) => place < all.length - 1 && (part.startsWith(".") || part === "node_modules"));

function once<T>(make: () => T): () => T {
	let made: { readonly value: T } | undefined;
	return () => {
		made ??= { value: make() };
		return made.value;
	};
}

/** Plans of one state share cells: what was evaluated for one is used for the next. */
const evaluators = { before: createEvaluator(), after: createEvaluator() };

export function checkedState(plan: StatedPlan, side: keyof typeof evaluators): CheckedPlan {
	const evaluation = evaluators[side](plan.joined());
	return { path: plan.name, text: plan.text(), evaluation, findings: check(evaluation) };
}

/** Whether two states of a plan say the same, with all that they take from others: then nothing follows otherwise. */
export function isUntouched(before: StatedPlan, after: StatedPlan): boolean {
	if (before.text() !== after.text() || before.taken(SETTINGS_FILE) !== after.taken(SETTINGS_FILE)) return false;
	const links = [before, after].map((side) =>
		side.joined().reuse.links.flatMap((link) => [...linksFrom(link)].map(({ path }) => path)),
	);
	const [old = [], now = []] = links;
	return (
		old.length === now.length &&
		old.every((path, place) => path === now[place] && before.taken(path) === after.taken(path))
	);
}

/** A plan of the old state and the one of the new that it has become. */
export interface StatePair {
	/** Its path in the folder: in the new state, or in the old one when it is gone. */
	readonly path: string;
	readonly before: StatedPlan | undefined;
	readonly after: StatedPlan | undefined;
	/** What it was called before, where it was another path. */
	readonly was: string | undefined;
}

export type Plans = ReadonlyMap<string, StatedPlan>;

/** By their paths; of those that are in one state only, the ones whose texts are for the most part alike. */
export function pairsOf(before: Plans, after: Plans): readonly StatePair[] {
	const gone = [...before].filter(([path]) => !after.has(path));
	const come = [...after].filter(([path]) => !before.has(path));
	const renamed = renames(gone, come);
	const old = new Set(renamed.values());
	const pairs: StatePair[] = [...after].map(([path, plan]) => {
		const was = renamed.get(path);
		return { path, before: before.get(was ?? path), after: plan, was };
	});
	for (const [path, plan] of gone)
		if (!old.has(path)) pairs.push({ path, before: plan, after: undefined, was: undefined });
	return pairs.sort((a, b) => (a.path < b.path ? -1 : a.path > b.path ? 1 : 0));
}

/** The most plans that are looked at for what they were called: all are weighed against all. */
const MOST_RENAMED = 200;

/** New path → old path. The most alike first, and the same name before another. */
function renames(
	gone: readonly (readonly [string, StatedPlan])[],
	come: readonly (readonly [string, StatedPlan])[],
): ReadonlyMap<string, string> {
	const renamed = new Map<string, string>();
	if (gone.length === 0 || come.length === 0 || gone.length > MOST_RENAMED || come.length > MOST_RENAMED)
		return renamed;
	const lines = (plans: typeof gone) => plans.map(([path, plan]) => ({ path, lines: linesOf(plan) }));
	const [old, now] = [lines(gone), lines(come)];
	const alike = now.flatMap((one) =>
		old.map((other) => ({
			now: one.path,
			old: other.path,
			likeness: likeness(one.lines, other.lines) + (basename(one.path) === basename(other.path) ? 0.001 : 0),
		})),
	);
	const taken = new Set<string>();
	for (const one of alike.filter(({ likeness }) => likeness >= 0.5).sort((a, b) => b.likeness - a.likeness)) {
		if (renamed.has(one.now) || taken.has(one.old)) continue;
		renamed.set(one.now, one.old);
		taken.add(one.old);
	}
	return renamed;
}

function linesOf(plan: StatedPlan): ReadonlySet<string> {
	try {
		return new Set(
			plan
				.text()
				.split("\n")
				.map((line) => line.trim())
				.filter((line) => line !== "" && line !== "---"),
		);
	} catch (error) {
		// What cannot be read is told when it is compared.
		if (error instanceof CannotRun) return new Set();
		throw error;
	}
}

/** The share of lines that two texts have in common: 0 to 1. */
function likeness(one: ReadonlySet<string>, other: ReadonlySet<string>): number {
	const all = one.size + other.size;
	let common = 0;
	for (const line of one) if (other.has(line)) common++;
	return all === 0 ? 0 : (2 * common) / all;
}
