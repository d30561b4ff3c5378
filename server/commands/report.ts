import { lstatSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { basename, dirname, join, relative, resolve, sep } from "node:path";
import { Command } from "commander";
import { SETTINGS_FILE } from "../../shared/cells/settings/keys.ts";
import { type SiteFile, siteFiles } from "../../shared/outputs/report/site.tsx";
import { sentences, told } from "../../shared/text/sentence.ts";
import { shown } from "../../shared/text/shown.ts";
import { environment } from "../environment.node.ts";
import { CannotRun, isFolder, reason } from "../files.node.ts";
import { findPlans } from "../find-plans.node.ts";
import { HELP } from "../help-words.ts";
import { jobsOption } from "../jobs-option.node.ts";
import { rootOf } from "../library.node.ts";
import { forMany } from "../many.node.ts";
import { say } from "../terminal.node.ts";

const words = sentences("command.report", {
	about: `Writes a static site of all plans in a folder: an index with their nights, a map of the sites, findings, and
			for each plan its page, its card and links to the plans it takes from and to those that take from it. It
			opens from disk and needs no network; it contains the positions of the sites.`,
	folder: "a folder that is searched for *.lode.yaml",
	out: "the folder to write: a new or empty one, or that of an earlier report, which is replaced",
	exits: "0 written, 2 something could not be read or written.",
	notAFolder: "{path} is not a folder",
	noLodeYaml: "no *.lode.yaml file in {path}",
	holds: "{out} contains {name}, which does not belong to a report. Name a new or an empty folder after --out",
	occupied: "{out} is not a folder. Name a new or an empty one after --out",
	unwritten: "{out} cannot be written: {why}",
	written: "{count} plan{s} in {out}; open {index}",
});

export const reportCommand = (): Command =>
	new Command("report")
		.description(told(words.about()))
		.argument("<folder>", told(words.folder()))
		.requiredOption("-o, --out <folder>", told(words.out()))
		.addOption(jobsOption())
		.addHelpText(
			"after",
			`\n${HELP.examples}\n  lodebook report plans -o site\n\n${HELP.exitStatus} ${told(words.exits())}`,
		)
		.action(async (folder: string, { out, jobs }: { readonly out: string; readonly jobs?: number }) => {
			if (!isFolder(folder)) throw new CannotRun(told(words.notAFolder({ path: folder })));
			const { plans, skipped, failed } = findPlans([folder]);
			const paths = plans.map((path) => slashed(relative(folder, path))).filter((path) => path !== SETTINGS_FILE);
			if (paths.length === 0 && failed.length === 0) throw new CannotRun(told(words.noLodeYaml({ path: folder })));
			mustBeReplaceable(out);
			const unread = [...failed];
			await inPlaceOf(out, async (fresh) => {
				const outcomes = await forMany("report", paths, { folder, out: fresh }, jobs);
				for (const outcome of outcomes) if ("failed" in outcome) unread.push(outcome.failed);
				const root = rootOf(join(folder, "any"));
				const files = siteFiles({
					folder: basename(resolve(folder)),
					plans: outcomes.flatMap((outcome) => ("made" in outcome ? [outcome.made] : [])),
					unread,
					now: environment().now,
					inFolder(path) {
						const inside = slashed(relative(folder, join(root, path)));
						return inside.startsWith("../") ? undefined : inside;
					},
				});
				for (const file of files) write(fresh, file);
			});
			for (const message of [...skipped, ...unread]) say(message);
			const count = paths.length - unread.length + failed.length;
			process.stderr.write(
				`${told(words.written({ count, s: count === 1 ? "" : "s", out: shown(out), index: shown(join(out, "index.html")) }))}\n`,
			);
			if (unread.length > 0) process.exitCode = 2;
		});

const slashed = (path: string): string => path.split(sep).join("/");

function write(out: string, { path, text }: SiteFile): void {
	mkdirSync(dirname(join(out, path)), { recursive: true });
	writeFileSync(join(out, path), text, { flag: "wx" });
}

/** The list of what a report has written: only that is ever taken away again. */
const LIST = "lodebook-report.json";

/** Refuses a folder that holds anything which no report has written. */
function mustBeReplaceable(out: string): void {
	const there = lstatSync(out, { throwIfNoEntry: false });
	if (!there) return;
	if (!there.isDirectory()) throw new CannotRun(told(words.occupied({ out })));
	const known = new Set([LIST, ...listOf(out)]);
	const stranger = filesBelow(out).find((path) => !known.has(path));
	if (stranger !== undefined) throw new CannotRun(told(words.holds({ out, name: stranger })));
}

function listOf(out: string): readonly string[] {
	try {
		const { files } = JSON.parse(readFileSync(join(out, LIST), "utf8")) as { readonly files?: unknown };
		return Array.isArray(files) ? files.filter((path) => typeof path === "string") : [];
	} catch {
		return [];
	}
}

/** Whatever is no folder, links among them. */
const filesBelow = (folder: string): readonly string[] =>
	readdirSync(folder, { withFileTypes: true, recursive: true })
		.filter((entry) => !entry.isDirectory())
		.map((entry) => slashed(relative(folder, join(entry.parentPath ?? entry.path, entry.name))))
		.sort();

/**
 * Everything is written into a new folder beside the one that is asked for, which takes its place when it is whole. What
 * fails or is interrupted leaves the older report as it was.
 */
async function inPlaceOf(out: string, make: (fresh: string) => Promise<void>): Promise<void> {
	const whole = resolve(out);
	const beside = (name: string): string => join(dirname(whole), `.${basename(whole)}-${name}-${process.pid}`);
	const [fresh, old] = [beside("new"), beside("old")];
	try {
		mkdirSync(fresh);
		await make(fresh);
		writeFileSync(join(fresh, LIST), `${JSON.stringify({ files: filesBelow(fresh) }, null, "\t")}\n`);
		mustBeReplaceable(out);
		const replaces = isFolder(whole);
		if (replaces) renameSync(whole, old);
		try {
			renameSync(fresh, whole);
		} catch (error) {
			if (replaces) renameSync(old, whole);
			throw error;
		}
	} catch (error) {
		rmSync(fresh, { recursive: true, force: true });
		if (error instanceof CannotRun || (error as { code?: string }).code === undefined) throw error;
		throw new CannotRun(told(words.unwritten({ out, why: reason(error) })));
	}
	rmSync(old, { recursive: true, force: true });
}
