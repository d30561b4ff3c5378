/** Plans on disk that other plans take from: inside one root folder, links followed and checked. */
import { existsSync, realpathSync, statSync } from "node:fs";
import { dirname, join, relative, resolve, sep } from "node:path";
import type { SettingsContent } from "../shared/cells/settings/keys.ts";
import { evaluate } from "../shared/evaluate/evaluate.ts";
import { check } from "../shared/findings/check.ts";
import type { CheckedPlan } from "../shared/outputs/output.ts";
import { type Plan, PlanReader, readPlan } from "../shared/plan/plan.ts";
import { type JoinedPlan, type Library, PlanJoiner, settingsIn } from "../shared/plan/reuse.ts";
import { PLAN_ENDING } from "../shared/protocol/language.ts";
import { CannotRun, readText } from "./files.node.ts";
import { isInside } from "./inside.node.ts";

const roots = new Map<string, string>();

/** The workspace of a plan on the command line: the repository it lies in, else the folder the command runs in, else its own folder. */
export function rootOf(path: string): string {
	const own = dirname(resolve(path));
	let root = roots.get(own);
	if (root === undefined) {
		root = findRoot(own);
		roots.set(own, root);
	}
	return root;
}

function findRoot(own: string): string {
	for (let folder = own; ; folder = dirname(folder)) {
		if (existsSync(resolve(folder, ".git"))) return folder;
		if (dirname(folder) === folder) break;
	}
	const here = process.cwd();
	return isInside(here, own) ? here : own;
}

/** Reads plans below a root, each once. Paths have `/` between their parts. */
export function libraryOf(root: string): Library {
	const plans = new Map<string, ReturnType<Library>>();
	const realRoot = realpathSync(root);
	return (path) => {
		if (plans.has(path)) return plans.get(path);
		const found = load(path);
		plans.set(path, found);
		return found;
	};

	function load(path: string): ReturnType<Library> {
		const full = resolve(root, path);
		if (!path.endsWith(PLAN_ENDING) || !existsSync(full)) return { missing: "not-found" };
		// A link inside the workspace may point out of it.
		const real = realpathSync(full);
		if (!isInside(realRoot, real)) return { missing: "outside" };
		try {
			return { plan: readPlan(readText(real)) };
		} catch (error) {
			// A folder, a pipe, a file that may not be read: for the plan that takes from it, it is not there.
			if (error instanceof CannotRun) return { missing: "not-found" };
			throw error;
		}
	}
}

const reader = new PlanReader({ keeps: 200_000 });
const joiner = new PlanJoiner();
const libraries = new Map<string, Library>();

function libraryAt(root: string): Library {
	let library = libraries.get(root);
	if (!library) {
		library = libraryOf(root);
		libraries.set(root, library);
	}
	return library;
}

/** What holds for all plans below the root of a file or a folder. */
export function settingsFor(path: string): SettingsContent | undefined {
	const isFolder = statSync(path, { throwIfNoEntry: false })?.isDirectory() === true;
	return settingsIn(libraryAt(rootOf(isFolder ? join(path, "any") : path)));
}

/** A plan on disk, joined with what it takes from others. */
export function joinedPlan(path: string, text: string): Plan & JoinedPlan {
	const root = rootOf(path);
	const name = relative(root, resolve(path)).split(sep).join("/");
	return joiner.join(reader.read(text), name, libraryAt(root));
}

/** A plan with what it takes from others, where all of them are read from another place than the folder. */
export const joinedWith = (library: Library, name: string, text: string): Plan & JoinedPlan =>
	joiner.join(reader.read(text), name, library);

/** A plan's text with all that follows from it; `path`: as it was asked for, `on`: its file, where that is another. */
export function checkedPlan(path: string, text: string, on = path): CheckedPlan {
	const evaluation = evaluate(joinedPlan(on, text));
	return { path, text, evaluation, findings: check(evaluation) };
}
