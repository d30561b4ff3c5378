import { mkdirSync, mkdtempSync, realpathSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, test } from "vitest";
import { planWith } from "../../plan-text.ts";
import { lodebook, runIn } from "./run.ts";

const newFolder = (): string => realpathSync(mkdtempSync(join(tmpdir(), "lodebook-log-")));

/** An evening of June 2027 on which the tilt was set by its scale: one drift on each side, so many pixels up or down. */
const evening = (day: number, up: number, method = "sky-bearing"): string =>
	`- { date: 2027-06-0${day}, at: "23:30", frame: 600 s, star: Antares, drift: { right: 0 px, up: ${up} px }, method: ${method} }
- { date: 2027-06-0${day}, at: "21:00", frame: 600 s, star: Regulus, drift: { right: 7 px, up: 0 px }, method: ${method} }`;

const plan = (name: string, log: string): string => planWith({ tracker: `name: ${name}\nhead: geared`, log });

interface Scale {
	readonly value: number;
	readonly plusMinus: number;
	readonly scatter: number;
	readonly evenings: number;
	readonly judgement: string;
}
interface Answer {
	readonly heads: readonly {
		readonly name: string;
		readonly head: string;
		readonly tiltZero: Scale | null;
		readonly panZero: Scale | null;
		readonly since: string | null;
		readonly evenings: readonly {
			readonly date: string;
			readonly path: string;
			readonly tilt: Partial<Scale> | null;
		}[];
		readonly doubtfulEvenings: readonly object[];
		readonly otherEvenings: number;
	}[];
}

/** Three good plans of two heads in a folder and one below it. */
function folderOfPlans(): string {
	const folder = newFolder();
	mkdirSync(join(folder, "more"));
	writeFileSync(join(folder, "a.lode.yaml"), plan("small", evening(1, 6)));
	writeFileSync(join(folder, "b.lode.yaml"), plan("small", `${evening(2, 5)}\n${evening(3, 6, "square-laser")}`));
	writeFileSync(join(folder, "more", "c.lode.yaml"), plan("large", evening(4, 1)));
	return folder;
}

test("heads over many plans: constants, spread, what they rest on", () => {
	const folder = folderOfPlans();
	const { status, stdout, stderr } = runIn(folder, "log", ".", "--json");
	expect([status, stderr]).toEqual([0, ""]);
	const { heads } = JSON.parse(stdout) as Answer;
	expect(heads.map(({ name, head }) => [name, head])).toEqual([
		["large", "geared"],
		["small", "geared"],
	]);
	const [large, small] = heads;
	expect(large).toMatchObject({ tiltZero: null, panZero: null, otherEvenings: 0 });
	expect(large?.evenings).toHaveLength(1);
	expect(small?.evenings.map(({ date, path }) => [date, path])).toEqual([
		["2027-06-01", "a.lode.yaml"],
		["2027-06-02", "b.lode.yaml"],
	]);
	expect(small?.otherEvenings).toBe(1);
	expect(small?.since).toBe("2027-06-04");
	expect(small?.tiltZero?.evenings).toBe(2);
	const single = small?.evenings.map(({ tilt }) => tilt?.value ?? 0) ?? [];
	expect(small?.tiltZero?.value).toBeGreaterThan(Math.min(...single));
	expect(small?.tiltZero?.value).toBeLessThan(Math.max(...single));
	expect(small?.tiltZero?.plusMinus).toBeGreaterThan(0.05);
	const text = runIn(folder, "log", ".");
	expect(text.status).toBe(0);
	expect(text.stdout).toMatch(/^small \(geared\)\nThe tilt scale shows \d\.\d\d° ± \d\.\d\d° too \w+ \(2 evenings/m);
	expect(text.stdout).toMatch(/Add this row to the tracker's zeros: \{ since: 2027-06-04, tilt: -?[\d.]+° \}/);
	expect(text.stdout).toContain("Nothing is offered for the pan scale: less than twice its ±");
	expect(text.stdout).toMatch(/^ {2}2027-06-02 .* b\.lode\.yaml$/m);
	expect(text.stdout).toContain("Nothing is known about the tilt scale yet");
});

test("an evening that the check warns of counts for nothing, and no correction is offered from it", () => {
	const folder = newFolder();
	const far = (day: number): string =>
		`- { date: 2027-06-0${day}, at: "23:30", frame: 120 s, star: Antares, drift: { right: 0 px, up: 40 px }, method: sky-bearing }
- { date: 2027-06-0${day}, at: "21:00", frame: 120 s, star: Regulus, drift: { right: 0 px, up: 2 px }, method: sky-bearing }`;
	writeFileSync(join(folder, "a.lode.yaml"), plan("small", `${far(1)}\n${far(2)}`));
	const { stdout } = runIn(folder, "log", ".");
	expect(stdout).not.toContain("Add this row");
	expect(stdout).toContain("Nothing is known about the tilt scale yet");
	expect(stdout).toMatch(
		/^2027-06-01 does not count \(a\.lode\.yaml\): its drifts put the axis [\d.]+° from the pole/m,
	);
	const [head] = (JSON.parse(runIn(folder, "log", ".", "--json").stdout) as Answer).heads;
	expect(head?.tiltZero).toBeNull();
	expect(head?.doubtfulEvenings).toEqual([
		{ date: "2027-06-01", path: "a.lode.yaml", why: "far-off" },
		{ date: "2027-06-02", path: "a.lode.yaml", why: "far-off" },
	]);
	const checked = runIn(folder, "check", "a.lode.yaml").stdout;
	expect(checked.match(/\[log\/far-off\]/g)).toHaveLength(2);
	const shown = runIn(folder, "show", "a.lode.yaml").stdout;
	expect(shown).toMatch(/none: these drifts put the axis [\d.]+° from the pole/);
	expect(shown).not.toMatch(/(raise|lower) the tilt by [\d.]+° ± [\d.]+°, turn the pan/);
	// One evening that can be true, beside them.
	writeFileSync(join(folder, "b.lode.yaml"), plan("small", `${evening(3, 6)}\n${evening(4, 6)}`));
	const both = runIn(folder, "log", ".").stdout;
	expect(both).toMatch(/Add this row.* tilt: -2\.\d+°/);
	expect(both).toContain("2027-06-02 does not count");
});

test("an evening whose star the site hides counts for nothing", () => {
	const folder = newFolder();
	const walled = "name: walls\nlatitude: 32.4123 S\nlongitude: 20.8431 E\nelevation: 1450 m\nskyline: [[0, 50]]";
	const text = planWith({ site: walled, tracker: "head: geared", log: `${evening(1, 6)}\n${evening(2, 6)}` });
	writeFileSync(join(folder, "a.lode.yaml"), text);
	const { stdout } = runIn(folder, "log", ".");
	expect(stdout).not.toContain("Add this row");
	expect(stdout).toContain("2027-06-01 does not count (a.lode.yaml): Regulus was hidden from the site then.");
	expect(runIn(folder, "check", "a.lode.yaml").stdout).toContain("[log/star-hidden]");
	expect(runIn(folder, "show", "a.lode.yaml").stdout).toContain("but first check the entry of Regulus");
});

test("what chance may explain is not offered, here and in the check", () => {
	const folder = newFolder();
	writeFileSync(
		join(folder, "a.lode.yaml"),
		plan("small", `${evening(1, 0.8)}\n${evening(2, 0.8)}`.replaceAll("right: 7", "right: 0")),
	);
	const { stdout } = runIn(folder, "log", ".");
	expect(stdout).toMatch(/The tilt scale shows 0\.1\d° ± 0\.\d\d° too/);
	expect(stdout).toContain("Nothing is offered for the tilt scale: less than twice its ±, so chance may explain it.");
	expect(stdout).not.toContain("Add this row");
	const [head] = (JSON.parse(runIn(folder, "log", ".", "--json").stdout) as Answer).heads;
	expect(head?.tiltZero?.judgement).toBe("unclear");
	expect(runIn(folder, "check", "a.lode.yaml").stdout).not.toContain("log/constant-error");
	expect(runIn(folder, "show", "a.lode.yaml").stdout).not.toContain("For the tracker's cell");
	// What the tracker corrects for already is not offered again.
	const corrected = "name: small\nhead: geared\nzeros: [{ since: 2027-06-03, tilt: -0.85°, pan: 0.61° }]";
	writeFileSync(
		join(folder, "a.lode.yaml"),
		planWith({ tracker: corrected, log: `${evening(1, 6)}\n${evening(2, 6)}`.replaceAll("right: 7", "right: 0") }),
	);
	expect(runIn(folder, "log", ".").stdout).not.toContain("tilt: -0.85");
});

test("the same evening in two plans counts once", () => {
	const folder = folderOfPlans();
	writeFileSync(join(folder, "d.lode.yaml"), plan("small", evening(1, 6)));
	const { heads } = JSON.parse(runIn(folder, "log", ".", "--json").stdout) as Answer;
	expect(heads.find(({ name }) => name === "small")?.evenings).toHaveLength(2);
});

test.skipIf(process.platform === "win32")(
	"broken and hostile plans are named, hide no other, and make the status 2",
	() => {
		const folder = folderOfPlans();
		const { heads } = JSON.parse(runIn(folder, "log", ".", "--json").stdout) as Answer;
		const evil = "x\u001b[31m\n::error::y\u0007\u202e";
		writeFileSync(join(folder, "a-broken.lode.yaml"), "log: [{ at: \n---\nsite: {{{\n");
		writeFileSync(join(folder, "a-homeless.lode.yaml"), `log:\n  ${evening(1, 6).replaceAll("\n", "\n  ")}\n`);
		writeFileSync(join(folder, "a-list.lode.yaml"), "- 1\n- 2\n");
		writeFileSync(join(folder, "a-misspelt.lode.yaml"), "lgo:\n  - note: dew\n");
		writeFileSync(join(folder, "a-other.lode.yaml"), "nonsense: 1\n---\n");
		writeFileSync(join(folder, "a-deep.lode.yaml"), `log: ${"[".repeat(2000)}\n`);
		writeFileSync(join(folder, "a-bytes.lode.yaml"), Buffer.from([0xff, 0xfe, 0, 0x80, 0x0a]));
		writeFileSync(join(folder, "a-large.lode.yaml"), Buffer.alloc(5_000_001, 0x20));
		writeFileSync(join(folder, "a\u001b[2J\n::warning::b.lode.yaml"), plan(JSON.stringify(evil), evening(1, 6)));
		writeFileSync(
			join(folder, "a-wild.lode.yaml"),
			plan(
				"wild",
				'- { date: 0000-00-00, at: "99:99", frame: -1 s, star: "", drift: { right: .inf, up: .nan }, method: magic }',
			),
		);
		symlinkSync("/etc/passwd", join(folder, "a-link.lode.yaml"));
		const { status, stdout, stderr } = runIn(folder, "log", ".", "--json");
		expect(status).toBe(2);
		const answer = JSON.parse(stdout) as Answer;
		for (const head of heads) expect(answer.heads).toContainEqual(head);
		for (const name of ["a-broken", "a-homeless", "a-list", "a-misspelt", "a-deep", "a-large", "a-link"])
			expect(stderr).toContain(name);
		expect(stderr).not.toContain("a-other");
		expect(stderr.split("\n").filter((line) => !line.startsWith("lodebook: "))).toEqual([""]);
		const text = runIn(folder, "log", ".").stdout;
		expect(text).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u202e]|^::/mu);
		expect(text).toContain("x␛[31m␊::error::y␇");
	},
);

test("nothing to read: status 2; plans without a log: said, status 0", () => {
	const folder = newFolder();
	expect(runIn(folder, "log", ".")).toEqual({ status: 2, stdout: "", stderr: "lodebook: no *.lode.yaml file in .\n" });
	expect(runIn(folder, "log", "nowhere.lode.yaml").status).toBe(2);
	writeFileSync(join(folder, "a.lode.yaml"), planWith({}));
	expect(runIn(folder, "log", ".")).toEqual({ status: 0, stdout: "None of these plans has a log.\n", stderr: "" });
	expect(JSON.parse(runIn(folder, "log", ".", "--json").stdout)).toEqual({ version: 1, heads: [] });
	expect(lodebook("log", "--help").stdout).toContain("Examples:");
});
