/** A workshop's sheet on the command line: the group as JSON by its schema, and the card of each of it. */
import { mkdirSync, mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Ajv2020 } from "ajv/dist/2020.js";
import { beforeAll, expect, test } from "vitest";
import { chapel, runIn } from "./run.ts";

const folder = mkdtempSync(join(tmpdir(), "lodebook-"));
const NAMES = ["Nia", "Tom", "Ada", "Ben", "Eva", "Kit"];
const show = (...args: string[]) => runIn(folder, "show", "group.lode.yaml", ...args);

beforeAll(() => {
	mkdirSync(join(folder, "kits"));
	const text = readFileSync(chapel, "utf8");
	const cells = text.split(/^---$/m);
	const own = (kind: string): string => cells.find((cell) => new RegExp(`^${kind}:`, "m").test(cell))?.trim() ?? "";
	const kit = ["lens", "tracker", "targets"].map(own);
	for (const [place, name] of NAMES.entries())
		writeFileSync(
			join(folder, "kits", `${name}.lode.yaml`),
			[...kit, place === 0 ? own("method") : "method: { kind: compass }"].join("\n---\n"),
		);
	const members = NAMES.map(
		(name, i) => `  - { name: ${name}, from: kits/${name}.lode.yaml${i === 0 ? ", local-rules-checked: true" : ""} }`,
	).join("\n");
	writeFileSync(
		join(folder, "group.lode.yaml"),
		`plan: { title: Six at the chapel, kind: group }\n---\n${own("site")}\n---\n${own("night")}\n---\ngroup:\n${members}\n`,
	);
});

test.each(["show", "evening"])("%s --json keeps to its schema, with each of the group", (command) => {
	const schema = JSON.parse(
		readFileSync(new URL(`../../../schemas/lodebook-${command}.schema.json`, import.meta.url), "utf8"),
	);
	const answer = JSON.parse(runIn(folder, command, "group.lode.yaml", "--json").stdout);
	const validate = new Ajv2020({ strict: true, allowUnionTypes: true }).compile(schema);
	validate(answer);
	expect(validate.errors).toBeNull();
	expect(answer.group.members.map(({ name }: { name: string }) => name)).toEqual(NAMES);
	expect(validate({ ...answer, group: { ...answer.group, lasers: [{}] } })).toBe(false);
});

test("the card and the calendar of each; the sheet has all of them", () => {
	const sheet = show("--card");
	expect(sheet.status).toBe(0);
	for (const name of NAMES) {
		expect(sheet.stdout).toContain(name);
		const { status, stdout } = show("--card", "--member", name);
		expect(status).toBe(0);
		expect(stdout).toContain(`<h1>Six at the chapel: ${name}</h1>`);
	}
	expect(show("--calendar", "--member", "Tom").stdout).toMatch(/SUMMARY:Head count on arriving: 6/);
});

test("what cannot be made says why", () => {
	expect(show("--card", "--member", "Zoe")).toMatchObject({
		status: 2,
		stderr: expect.stringContaining("has no member called Zoe; it has Nia, Tom"),
	});
	expect(show("--html", "--member", "Nia")).toMatchObject({
		status: 2,
		stderr: expect.stringContaining("--member goes with --card or with --calendar"),
	});
	expect(runIn(folder, "show", chapel, "--card", "--member", "Nia")).toMatchObject({
		status: 2,
		stderr: expect.stringContaining("is not the plan of a group"),
	});
});

test("a report has the card of each", () => {
	expect(runIn(folder, "report", ".", "-o", "site").status).toBe(0);
	const page = readFileSync(join(folder, "site/plans/group.plan/index.html"), "utf8");
	for (const [place, name] of NAMES.entries()) {
		expect(page).toContain(`<a href="card-${place + 1}.html">Card of ${name}</a>`);
		expect(readFileSync(join(folder, `site/plans/group.plan/card-${place + 1}.html`), "utf8")).toContain(
			`<h1>Six at the chapel: ${name}</h1>`,
		);
	}
});
