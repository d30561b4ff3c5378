/**
 * The plan files among paths: files as they are, folders searched. Links in a folder are not followed, and what cannot be
 * read does not keep the rest from being found. Hidden folders and node_modules are passed over.
 */
import { type BigIntStats, type Dirent, readdirSync, statSync } from "node:fs";
import { join, relative, resolve, sep } from "node:path";
import type { SettingsContent } from "../shared/cells/settings/keys.ts";
import { PLAN_ENDING } from "../shared/protocol/language.ts";
import { matchesPath } from "../shared/text/matches-path.ts";
import { sentences, told } from "../shared/text/sentence.ts";
import { reason } from "./files.node.ts";
import { rootOf, settingsFor } from "./library.node.ts";

const words = sentences("command.find-plans", {
	unreadable: "{path} cannot be read: {why}",
	link: "{path} is a link and is left out; to check its target, name that file or folder",
	notAFile: "{path} is not a file and is left out",
	excluded: "1 plan is left out because of `exclude` in the settings; to check it anyway, name it",
	excludedMany: "{count} plans are left out because of `exclude` in the settings; to check them anyway, name them",
	name: "{path} is left out: its name is not in UTF-8; rename it",
});

export interface FoundPlans {
	readonly plans: readonly string[];
	/** What was passed over and is not wrong, a sentence each. */
	readonly skipped: readonly string[];
	/** What could not be read, a sentence each: not all that was asked for is answered. */
	readonly failed: readonly string[];
}

export function findPlans(paths: readonly string[]): FoundPlans {
	const found: Found = { plans: [], skipped: [], failed: [], excluded: [] };
	for (const path of paths) {
		let stat: BigIntStats;
		try {
			stat = statSync(path, { bigint: true });
		} catch (error) {
			found.failed.push(told(words.unreadable({ path, why: reason(error, path) })));
			continue;
		}
		if (stat.isDirectory()) search(path, found, excludedBelow(path));
		else found.plans.push(path);
	}
	const count = new Set(found.excluded).size;
	if (count > 0) found.skipped.push(told(count === 1 ? words.excluded() : words.excludedMany({ count })));
	return found;
}

interface Found {
	readonly plans: string[];
	readonly skipped: string[];
	readonly failed: string[];
	/** Plans that the settings pass over. */
	readonly excluded: string[];
}

function search(folder: string, found: Found, isExcluded: (path: string) => boolean): void {
	let entries: Dirent<Buffer>[];
	try {
		// Names as bytes: not all of them are UTF-8.
		entries = readdirSync(Buffer.from(folder), { withFileTypes: true, encoding: "buffer" });
	} catch (error) {
		found.failed.push(told(words.unreadable({ path: folder, why: reason(error) })));
		return;
	}
	const sorted = entries.map((entry) => ({ entry, name: entry.name.toString() }));
	for (const { entry, name } of sorted.sort((a, b) => (a.name < b.name ? -1 : 1))) {
		const path = join(folder, name);
		const isPlan = name.endsWith(PLAN_ENDING);
		if (!Buffer.from(name).equals(entry.name)) {
			if (isPlan || entry.isDirectory())
				found.failed.push(told(words.name({ path: join(folder, escaped(entry.name)) })));
		} else if (entry.isDirectory()) {
			if (passedOver(name)) continue;
			if (isExcluded(path)) found.excluded.push(...plansBelow(path));
			else search(path, found, isExcluded);
		} else if (entry.isFile()) {
			if (isPlan) (isExcluded(path) ? found.excluded : found.plans).push(path);
		} else if (entry.isSymbolicLink()) {
			if (isPlan || (!passedOver(name) && leadsToFolder(path))) found.skipped.push(told(words.link({ path })));
		} else if (isPlan) found.skipped.push(told(words.notAFile({ path })));
	}
}

/** The plans in a folder that is passed over: they are counted, and what is wrong in it is nobody's business. */
function plansBelow(folder: string): readonly string[] {
	const found: Found = { plans: [], skipped: [], failed: [], excluded: [] };
	search(folder, found, () => false);
	return found.plans;
}

/** What the settings of the repository pass over in a folder. */
function excludedBelow(folder: string): (path: string) => boolean {
	const isExcluded = excludedBy(settingsFor(folder));
	const root = rootOf(join(folder, "any"));
	return (path) => isExcluded(relative(root, resolve(path)).split(sep).join("/"));
}

/** Whether settings pass over a path from their root, by its own name. */
const excludedBy = (settings: SettingsContent | undefined): ((name: string) => boolean) => {
	const patterns = settings?.exclude?.filter((one) => one !== undefined) ?? [];
	return (name) => patterns.some((pattern) => matchesPath(pattern, name));
};

/** Whether settings pass over a plan in a folder, for its own name or that of a folder between. `base`: the folder's path from their root. */
export function passedOverIn(base: string, settings: SettingsContent | undefined): (path: string) => boolean {
	const isExcluded = excludedBy(settings);
	const before = base === "" ? "" : `${base}/`;
	return (path) => path.split("/").some((_, place, parts) => isExcluded(before + parts.slice(0, place + 1).join("/")));
}

const passedOver = (name: string): boolean => name.startsWith(".") || name === "node_modules";

function leadsToFolder(path: string): boolean {
	try {
		return statSync(path).isDirectory();
	} catch {
		return false;
	}
}

/** The name with what is not ASCII as `\xe9`. */
const escaped = (name: Buffer): string =>
	[...name].map((byte) => (byte < 0x80 ? String.fromCharCode(byte) : `\\x${byte.toString(16)}`)).join("");
