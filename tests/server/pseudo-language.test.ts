/**
 * No sentence is outside the catalogue: the product is built with a language that nobody speaks in the place of English,
 * each sentence in ⟦…⟧, and what it says of the samples is read. English that is left stands outside the catalogue, but
 * for the texts of the plans and what is a name in an open format.
 */
import { spawnSync } from "node:child_process";
import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { objectSpellings } from "../../shared/sky/objects.ts";
import { SHOWERS } from "../../shared/sky/showers.ts";
import { starSpellings } from "../../shared/sky/stars.ts";
import { allWords, buildWith } from "../all-words.mjs";
import { TestClient } from "./client.ts";

const root = fileURLToPath(new URL("../../", import.meta.url));
const SAMPLES = readdirSync(join(root, "samples")).filter((name) => name.endsWith(".lode.yaml"));
const textOf = (name: string): string => readFileSync(join(root, "samples", name), "utf8");

const ACCENTS: Readonly<Record<string, string>> = { a: "á", e: "é", i: "í", o: "ó", u: "ú", y: "ý" };

/** A sentence of the language: what is code or a name in braces is left as it was. */
const pseudo = (text: string): string =>
	`⟦${text
		.split(/(`[^`]*`|\{[A-Za-z0-9]+\}|\]\([^)]*\))/)
		.map((part, i) => (i % 2 === 1 ? part : part.replace(/[aeiouy]/g, (one) => ACCENTS[one] ?? one)))
		.join("")}⟧`;

/** Three words of English or more. */
const ENGLISH =
	/(?<![\p{L}\d_./-])[A-Za-z]{2,}[,.:;?]? [A-Za-z]{2,}[,.:;?]? [A-Za-z]{2,}(?![\p{L}\d_/-])[^\n⟦⟧]{0,60}/gu;

/** What is in no language: a name of the JSON contract, code, addresses, drawings' styles, and the formats' own lines. */
const NO_LANGUAGE =
	/dark and moonless|```[\s\S]*?```|`[^`\n]*`|<style[\s\S]*?<\/style>|<script[\s\S]*?<\/script>|<[^>]+>|\]\([^)]*\)|[\w.-]+(?:\/[\w.-]+)+|^(?:PRODID|X-|UID)[^\n]*|^ {2,}(?:lodebook|git|echo|eval) [^\n]*/gm;

let folder: string;

beforeAll(async () => {
	folder = mkdtempSync(join(tmpdir(), "lodebook-pseudo-"));
	const words = Object.entries(await allWords());
	await buildWith(Object.fromEntries(words.map(([key, text]) => [key, pseudo(text)])), folder);
});

afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Without what is in brackets, from the innermost out. */
function outside(text: string): string {
	for (let now = text; ; ) {
		const next = now.replace(/⟦[^⟦⟧]*⟧/g, "¦");
		if (next === now) return now;
		now = next;
	}
}

/** Names of the sky that are as long as a sentence may be: a plan is written with them in every language. */
const ofSky = [...starSpellings(), ...objectSpellings(), ...SHOWERS.map(({ name }) => name)].filter(
	(name) => name.split(" ").length > 2,
);

/** Texts of plans: what is behind a key, in a list, in a note or a comment. */
const ofPlans = [
	...new Set(
		SAMPLES.flatMap((name) =>
			textOf(name)
				.split("\n")
				.flatMap((line) => [
					line.trim(),
					line.replace(/^\s*(?:- )?(?:\{ )?[\w-]+: /, "").trim(),
					// A note as it is rendered: emphasis is markup.
					...line.split(/\*\*|\\n|[.;]/).map((part) => part.trim()),
					...line.split(/[{,}:#]/).map((part) => part.trim()),
				]),
		),
	),
]
	.filter((text) => text.length > 3)
	.sort((a, b) => b.length - a.length);

/** English that is left in a text. */
function english(text: string): readonly string[] {
	let left = outside(
		text
			.replace(/\r\n[ \t]/g, "")
			.replace(/&quot;/g, '"')
			.replace(/&#x27;|&#39;/g, "'")
			.replace(/\\n/g, "\n")
			.replace(/\\u27e6/g, "⟦")
			.replace(/\\([^\w\s])/g, "$1")
			.replace(NO_LANGUAGE, " · "),
	);
	// A name that is cut short where there is no room for it.
	for (const own of ofPlans)
		for (let length = own.length - 1; length > 6; length--) left = left.replaceAll(`${own.slice(0, length)}…`, "·");
	for (const own of ofPlans) left = left.replaceAll(own, "·");
	for (const name of ofSky) left = left.replaceAll(name, "·");
	return [...new Set(left.match(ENGLISH) ?? [])];
}

function run(...args: readonly string[]): string {
	const { stdout, stderr } = spawnSync(process.execPath, [join(folder, "lodebook.mjs"), ...args], {
		cwd: root,
		encoding: "utf8",
		env: { ...process.env, NO_COLOR: "1" },
	});
	return `${stdout}\n${stderr}`;
}

const OUTPUTS = ["", "--markdown", "--html", "--card", "--calendar", "--svg=panorama", "--geojson", "--json"];
const HELP = ["check", "show", "stars", "evening", "nights", "compare", "merge", "log", "format", "new", "skyline"].map(
	(command) => [command, "--help"],
);

describe("in a language that nobody speaks", () => {
	test("the sentences are told in it", () => {
		expect(run("check", `samples/${SAMPLES[0]}`)).toContain("⟦");
		expect(english("⟦Thé ⟦x⟧ plán⟧ is not in the words")).toEqual([expect.stringContaining("is not in")]);
	});

	test.each(SAMPLES)(
		"%s: check, show in all its forms, nights, stars, evening",
		(name) => {
			const path = `samples/${name}`;
			const said = {
				...Object.fromEntries(
					OUTPUTS.map((option) => [`show ${option}`, run("show", path, ...option.split("=").filter(Boolean))]),
				),
				check: run("check", path),
				sarif: run("check", path, "--sarif"),
				evening: run("evening", path),
				stars: run("stars", path),
				nights: run("nights", path, "--from", "2027-06-01", "--until", "2027-06-08"),
			};
			expect(Object.fromEntries(Object.entries(said).map(([what, text]) => [what, english(text)]))).toEqual(
				Object.fromEntries(Object.keys(said).map((what) => [what, []])),
			);
		},
		120_000,
	);

	test("help of all commands, explanations, a comparison, where a star is", () => {
		const [first = "", second = ""] = SAMPLES;
		for (const args of [
			["--help"],
			...HELP,
			["explain"],
			["explain", "method/low-latitude"],
			["compare", `samples/${first}`, `samples/${second}`],
			["locate", "Spica", "--latitude", "-32", "--longitude", "-54", "--at", "2027-06-05T20:01:00-03:00"],
			["log", "samples"],
		])
			expect([args.join(" "), english(run(...args))]).toEqual([args.join(" "), []]);
	});

	test("hovers, completions, hints, lenses, actions, outline, page over stdio", async () => {
		const client = await new TestClient(join(folder, "lodebook.mjs")).start();
		try {
			const left: Record<string, readonly string[]> = {};
			for (const name of SAMPLES) {
				const text = textOf(name);
				const uri = `file:///${name}`;
				await client.open(uri, text);
				const textDocument = { uri };
				const range = { start: { line: 0, character: 0 }, end: { line: text.split("\n").length, character: 0 } };
				const ask = async (method: string, params: object = {}): Promise<string> =>
					JSON.stringify((await client.request(method, { textDocument, ...params })) ?? null);
				const answers: string[] = [
					await ask("textDocument/inlayHint", { range }),
					await ask("textDocument/codeLens"),
					await ask("textDocument/codeAction", { range, context: { diagnostics: [] } }),
					JSON.stringify(await client.request("lodebook/page", { uri })),
				];
				for (const [line, written] of text.split("\n").entries()) {
					if (!/^\s*(?:- )?[\w-]+:/.test(written)) continue;
					const key = written.search(/[\w]/);
					answers.push(await ask("textDocument/hover", { position: { line, character: key } }));
					answers.push(
						await ask("textDocument/completion", { position: { line, character: written.indexOf(":") + 1 } }),
					);
					answers.push(await ask("textDocument/completion", { position: { line, character: key } }));
				}
				left[name] = [...new Set(answers.flatMap(english))];
			}
			expect(left).toEqual(Object.fromEntries(SAMPLES.map((name) => [name, []])));
		} finally {
			await client.stop();
		}
	});
});
