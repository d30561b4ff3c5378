/**
 * A made repository of a workshop's year, with a history: 40 plans of invented sites, 5 libraries, 2 groups. Every commit
 * is made here, so that two runs give the same commits.
 */
import { spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, realpathSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

export const PLANS = 40;
export const LIBRARIES = ["sites/north", "sites/south", "kits/lenses", "kits/heads", "kits/loan"].map(
	(name) => `${name}.lode.yaml`,
);
export const GROUPS = ["groups/spring", "groups/autumn"].map((name) => `${name}.lode.yaml`);
/** Who comes to both workshops. */
export const MEMBERS = ["Nia", "Tom", "Ada", "Ben", "Eva", "Kit"];

const sample = readFileSync(fileURLToPath(new URL("../samples/roofless-chapel.lode.yaml", import.meta.url)), "utf8");
const cells = sample.split(/^---$/m).map((cell) => cell.trim());
const cell = (kind: string): string => cells.find((one) => new RegExp(`^${kind}:`, "m").test(one)) ?? "";
const stream = (...parts: readonly string[]): string => `${parts.join("\n---\n")}\n`;
/** Taken by its name, where a library has several. */
const taken = (kind: string, from: string, name?: string): string =>
	`${kind}: { from: ../${from}${name === undefined ? "" : `, name: ${name}`} }`;

export const planPath = (place: number): string => `plans/${String(place).padStart(2, "0")}.lode.yaml`;

export class MadeRepository {
	readonly folder = realpathSync(mkdtempSync(join(tmpdir(), "lodebook-made-")));
	/** The commits of `main`, the oldest first. */
	readonly commits: string[] = [];

	/** Of its folder; throws with what was said where git fails. */
	git(...args: readonly string[]): string {
		const { status, stdout, stderr } = this.run("git", ["-c", "commit.gpgsign=false", ...args]);
		if (status !== 0) throw new Error(`git ${args.join(" ")}: ${stderr}${stdout}`);
		return stdout.trim();
	}

	run(command: string, args: readonly string[], env: Record<string, string> = {}) {
		// No hour of the day in it, nor anybody's settings.
		const at = `2027-01-${String(this.commits.length + 1).padStart(2, "0")}T12:00:00Z`;
		return spawnSync(command, args, {
			cwd: this.folder,
			encoding: "utf8",
			maxBuffer: 64_000_000,
			env: {
				...process.env,
				GIT_CONFIG_GLOBAL: "",
				GIT_CONFIG_SYSTEM: "",
				GIT_AUTHOR_NAME: "Nia",
				GIT_AUTHOR_EMAIL: "nia@example.org",
				GIT_COMMITTER_NAME: "Nia",
				GIT_COMMITTER_EMAIL: "nia@example.org",
				GIT_AUTHOR_DATE: at,
				GIT_COMMITTER_DATE: at,
				NO_COLOR: "1",
				...env,
			},
		});
	}

	read(path: string): string {
		return readFileSync(join(this.folder, path), "utf8");
	}

	write(path: string, text: string): void {
		mkdirSync(dirname(join(this.folder, path)), { recursive: true });
		writeFileSync(join(this.folder, path), text);
	}

	edit(path: string, change: (text: string) => string): void {
		const [before, after] = [this.read(path), change(this.read(path))];
		if (before === after) throw new Error(`${path} stays as it was`);
		this.write(path, after);
	}

	rename(from: string, to: string): void {
		renameSync(join(this.folder, from), join(this.folder, to));
	}

	remove(path: string): void {
		rmSync(join(this.folder, path));
	}

	commit(what: string): void {
		this.git("add", "-A");
		this.git("commit", "-qm", what);
		this.commits.push(this.git("rev-parse", "HEAD"));
	}
}

/** `main` with eight commits, in the folder as the last has it. */
export function madeRepository(): MadeRepository {
	const made = new MadeRepository();
	made.git("init", "-q", "-b", "main");
	const site = cell("site");
	const [north, south, lenses, heads, loan] = LIBRARIES as [string, string, string, string, string];
	made.write(
		north,
		stream("plan: { title: Sites of the north, kind: library }", site, site.replace(/name: .*/, "name: Upper fold")),
	);
	made.write(south, stream("plan: { title: Sites of the south, kind: library }", site));
	made.write(lenses, stream("plan: { title: Lenses, kind: library }", cell("lens")));
	made.write(heads, stream("plan: { title: Heads, kind: library }", cell("tracker")));
	made.write(loan, stream("plan: { title: Kit that is lent, kind: library }", cell("lens"), cell("tracker")));
	made.commit("The libraries");

	const nightOf = (date: Date): string =>
		cell("night").replace(/date: \S+/, `date: ${date.toISOString().slice(0, 10)}`);
	// Around the new Moons of a year (USNO, Phases of the Moon: 2027-02-06, and every 29.53 days).
	const newMoon = (month: number): number => Date.UTC(2027, 1, 6) + month * 29.530588 * 86_400_000;
	for (let place = 0; place < PLANS; place++) {
		const date = new Date(newMoon(place % 12) + (Math.floor(place / 12) - 1) * 86_400_000);
		const fromNorth = place % 2 === 0;
		made.write(
			planPath(place),
			stream(
				`plan: { title: Night ${place + 1}, format: 1 }`,
				fromNorth ? taken("site", north, place % 4 === 0 ? "Roofless chapel" : "Upper fold") : taken("site", south),
				nightOf(date),
				place % 3 === 0 ? taken("lens", loan) : taken("lens", lenses),
				place % 3 === 0 ? taken("tracker", loan) : taken("tracker", heads),
				place % 5 === 0 ? cell("method") : "method: { kind: compass }",
				cell("targets"),
			),
		);
		if (place === PLANS / 2 - 1) made.commit("Plans of the first half");
	}
	made.commit("Plans of the second half");

	for (const [place, group] of GROUPS.entries()) {
		const kits = MEMBERS.map((name) => `kits/${name.toLowerCase()}-${place}.lode.yaml`);
		for (const [i, kit] of kits.entries())
			made.write(
				kit,
				stream(
					"plan: { title: Kit, kind: library }",
					`lens: { from: lenses.lode.yaml }`,
					`tracker: { from: heads.lode.yaml }`,
					i === 0 ? cell("method") : "method: { kind: compass }",
					cell("targets"),
				),
			);
		const list = MEMBERS.map(
			(name, i) => `  - { name: ${name}, from: ../${kits[i]}${i === 0 ? ", local-rules-checked: true" : ""} }`,
		).join("\n");
		made.write(
			group,
			stream(
				`plan: { title: Workshop ${place + 1}, kind: group }`,
				taken("site", south),
				nightOf(new Date(newMoon(4 + 3 * place))),
				`group:\n${list}`,
			),
		);
	}
	made.commit("Two workshops");

	made.edit(planPath(1), (text) => text.replace(/leave: \S+/, 'leave: "01:00"'));
	made.commit("Home earlier");
	made.rename(planPath(2), "plans/02-fold.lode.yaml");
	made.commit("A plan has another name");
	made.edit(south, (text) => text.replace(/\[160, 49\]/, "[160, 75]"));
	made.commit("The wall in the south is higher than it seemed");
	made.write("lodebook.lode.yaml", "settings: { exclude: [drafts], fail-on: error }\n");
	made.write("drafts/idea.lode.yaml", "plan: { title: An idea }\n");
	made.commit("Settings, and a draft");
	return made;
}
