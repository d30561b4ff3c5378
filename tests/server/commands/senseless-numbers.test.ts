/** Numbers without sense, through the built command: nothing throws, and no answer holds an absurd one. */
import { mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, test } from "vitest";
import { planWith } from "../../plan-text.ts";
import { lodebook } from "./run.ts";

const folder = mkdtempSync(join(tmpdir(), "lodebook-senseless-"));

function written(name: string, text: string): string {
	const path = join(folder, `${name}.lode.yaml`);
	writeFileSync(path, text);
	return path;
}

/** What no reader can take for a number of this world. */
const ABSURD =
	/\b(?:NaN|Infinity)\b|(?<![\d.])(?:36[1-9]|3[7-9]\d|[4-9]\d\d|\d{4,})(?:\.\d+)?°|(?<![\d.])\d{7,}(?:\.\d+)? px/;
const NO_SCRIPT = /<script[\s\S]*?<\/script>|<style[\s\S]*?<\/style>/g;

const LASER = 'kind: square-laser\nguide-star: eta Virginis\nat: "20:01"\nlocal-rules-checked: true';
const at = (latitude: string, extra: object = {}): string =>
	planWith({ site: `name: A\nlatitude: ${latitude}\nlongitude: 54.3622 W`, method: LASER, tracker: null, ...extra });

test.each([
	["latitude 0", at("0")],
	["a hair north of it", at("0.0000001 N")],
	["a hair south of it", at("0.0000001 S")],
	["a pole", at("90 S")],
	[
		"a lens of 1e-9 mm",
		at("32 S", { lens: "focal-length: 1e-9 mm\nf-number: 2\nsensor: 36 x 24 mm\npixels: 6000 x 4000" }),
	],
	[
		"a log of a drift that would take any axis",
		at("0", {
			log: '- { at: "20:00", frame: 0.001 s, star: Antares, drift: { right: 100000 px, up: -100000 px }, method: compass }',
		}),
	],
])("%s, and only the laser: text, page, Markdown and JSON", (name, text) => {
	const path = written(name.replaceAll(" ", "-"), text);
	for (const form of [[], ["--html"], ["--markdown"], ["--json"]]) {
		const { status, stdout, stderr } = lodebook("show", path, ...form);
		expect([status, stderr], form.join()).toEqual([0, ""]);
		const said = stdout.replace(NO_SCRIPT, "");
		expect(ABSURD.exec(form[0] === "--json" ? texts(stdout) : said)?.[0]).toBeUndefined();
	}
	expect(lodebook("check", path).stderr).toBe("");
});

/** The texts of all values of a JSON answer. */
const texts = (json: string): string =>
	(JSON.parse(json) as { cells: { figures?: { text: string }[] }[] }).cells
		.flatMap(({ figures = [] }) => figures.map(({ text }) => text))
		.join("\n");

test("500 targets of 100,000 frames", () => {
	const targets = Array.from(
		{ length: 500 },
		(_, i) =>
			`- { name: t${i}, aim: galactic-centre, from: "21:${String(i % 60).padStart(2, "0")}", exposure: ${30 + i / 10} s, frames: ${100_000 - i} }`,
	).join("\n");
	const path = written("many", planWith({ targets }));
	// Every frame counted one by one, or every target against every other's frames, would not end in this test's time.
	expect(lodebook("check", path).stderr).toBe("");
});
