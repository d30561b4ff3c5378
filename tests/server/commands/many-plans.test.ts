/** Many plans on several cores: the same answer, in the same order, whoever worked on which. */
import { mkdirSync, mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { beforeAll, describe, expect, test } from "vitest";
import { chapel, runIn } from "./run.ts";

const COUNT = 60;
const folder = mkdtempSync(join(tmpdir(), "lodebook-"));
const nameOf = (place: number): string => `plan-${String(place).padStart(3, "0")}.lode.yaml`;

beforeAll(() => {
	mkdirSync(join(folder, ".git"));
	mkdirSync(join(folder, "sites"));
	const text = readFileSync(chapel, "utf8");
	const site = /site:\n[\s\S]*?(?=---)/.exec(text)?.[0] ?? "";
	writeFileSync(join(folder, "sites", "chapel.lode.yaml"), `plan: { title: Sites, kind: library }\n---\n${site}`);
	for (let place = 0; place < COUNT; place++) {
		const date = new Date(Date.UTC(2027, 0, 1 + 5 * place)).toISOString().slice(0, 10);
		const dated = text.replace(/date: \S+/, `date: ${date}`);
		const own = place % 3 === 0 ? dated.replace(site, "site:\n  from: sites/chapel.lode.yaml\n") : dated;
		writeFileSync(join(folder, nameOf(place)), place % 10 === 0 ? own.replace("arrive:", "arive:") : own);
	}
	// One that cannot be read, between others.
	mkdirSync(join(folder, "plan-050x.lode.yaml"));
});

const asked = (...args: string[]) => runIn(folder, "check", ...args);

describe("check", () => {
	test.each(["text", "json", "sarif", "annotations"])("%s: the same for one thread and for four", (form) => {
		const options = form === "text" ? [] : [`--${form}`];
		const one = asked(...options, "--jobs", "1", ".");
		expect(one.status).toBe(1);
		expect(asked(...options, "--jobs", "4", ".")).toEqual(one);
		if (form !== "json") return;
		const { files } = JSON.parse(one.stdout);
		expect(files.map(({ path }: { path: string }) => path)).toEqual([
			...Array.from({ length: COUNT }, (_, place) => nameOf(place)),
			"sites/chapel.lode.yaml",
		]);
		for (const [place, { findings }] of files.slice(0, COUNT).entries())
			expect(findings.some(({ code }: { code: string }) => code === "structure/unknown-key")).toBe(place % 10 === 0);
	});

	test("what cannot be read is told in its order too, and the rest is checked", () => {
		const paths = Array.from({ length: COUNT }, (_, place) => nameOf(place));
		const among = [...paths.slice(0, 40), "none.lode.yaml", ...paths.slice(40), "gone.lode.yaml"];
		const one = asked("--jobs", "1", ...among);
		expect(one.status).toBe(2);
		expect(one.stderr).toMatch(/none\.lode\.yaml cannot be read[\s\S]*gone\.lode\.yaml cannot be read/);
		expect(asked("--jobs", "3", ...among)).toEqual(one);
	});

	test("so many at a time, and no more", () => {
		for (const jobs of ["0", "65", "two", "-1"]) expect(asked("--jobs", jobs, nameOf(0)).status).toBe(2);
		expect(asked("--jobs", "64", "sites/chapel.lode.yaml").status).toBe(0);
	});
});

describe("nights", () => {
	const span = ["--from", "2027-06-01", "--until", "2027-06-02"];
	const nights = (...args: string[]) => runIn(folder, "nights", ...span, ...args);

	test("of a folder: each plan's as they are by themselves, whoever worked on them; libraries have none", () => {
		const one = nights("--json", "--jobs", "1", ".");
		expect(nights("--json", "--jobs", "3", ".")).toEqual(one);
		const { version, plans } = JSON.parse(one.stdout);
		expect(version).toBe(1);
		expect(plans.map(({ path }: { path: string }) => path)).toEqual(
			Array.from({ length: COUNT }, (_, place) => nameOf(place)).filter((path) => !path.startsWith("sites")),
		);
		for (const place of [1, 3]) {
			const { path, ...of } = plans[place];
			const { version: _, ...alone } = JSON.parse(nights("--json", path).stdout);
			expect(of).toEqual(alone);
		}
	});

	test("as text: each under its name, the best first, and no more than is asked for", () => {
		const { stdout, status } = nights("--best", "1", nameOf(1), nameOf(3));
		expect(status).toBe(0);
		expect(stdout).toMatch(
			/^plan-001\.lode\.yaml {2}.*\nevening +usable.*\n2027-06-0\d .*\n\nplan-003\.lode\.yaml {2}.*\nevening.*\n2027-06-0\d .*\n$/,
		);
		expect(nights("--write", "2027-06-05", nameOf(1), nameOf(3)).status).toBe(2);
		expect(nights(nameOf(1), "none.lode.yaml")).toMatchObject({
			status: 2,
			stderr: expect.stringContaining("none.lode.yaml cannot be read"),
		});
	});
});
