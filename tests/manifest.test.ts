/** What the extension says of itself: package.json and its texts. */
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { expect, test } from "vitest";
import { hindrances } from "../release.mjs";

const root = fileURLToPath(new URL("../", import.meta.url));
const read = (path: string): string => readFileSync(`${root}${path}`, "utf8");
const manifest = JSON.parse(read("package.json"));
const texts: Readonly<Record<string, string>> = JSON.parse(read("package.nls.json"));

/** Every text of a value, with where it is. */
const textsIn = (value: unknown, path = ""): readonly (readonly [string, string])[] =>
	typeof value === "string"
		? [[path, value]]
		: typeof value === "object" && value !== null
			? Object.entries(value).flatMap(([key, inner]) => textsIn(inner, `${path}.${key}`))
			: [];

test("no placeholder is shown: each is a whole text, and has its words", () => {
	const found = textsIn(manifest).filter(([, text]) => /%[\w.]+%/.test(text));
	expect(found.length).toBeGreaterThan(40);
	for (const [path, text] of found) {
		expect(text, path).toMatch(/^%[\w.]+%$/);
		expect(texts, path).toHaveProperty([text.slice(1, -1)]);
	}
	const used = new Set(found.map(([, text]) => text.slice(1, -1)));
	expect(Object.keys(texts).filter((key) => !used.has(key))).toEqual([]);
	for (const text of Object.values(texts)) expect(text).not.toMatch(/%[\w.]+%/);
});

test("what is shown to newcomers leads to commands and files that are there", () => {
	const commands = new Set(manifest.contributes.commands.map(({ command }: { command: string }) => command));
	const links = Object.values(texts).flatMap((text) => [...text.matchAll(/\(command:([\w.]+)\)/g)].map(([, id]) => id));
	expect(links.length).toBeGreaterThan(6);
	for (const link of links) expect(commands).toContain(link);
	for (const { media, completionEvents } of manifest.contributes.walkthroughs[0].steps) {
		expect(existsSync(`${root}${media.image ?? media.markdown}`), JSON.stringify(media)).toBe(true);
		for (const event of completionEvents) expect(commands).toContain(event.replace("onCommand:", ""));
	}
	for (const path of [manifest.icon, manifest.main, manifest.browser])
		expect(existsSync(`${root}${path}`), path).toBe(true);
});

test("every command that is contributed is run in a real editor", () => {
	const suites = readdirSync(`${root}tests/editor`)
		.filter((name) => name.endsWith(".test.ts"))
		.map((name) => read(`tests/editor/${name}`))
		.join("\n");
	for (const { command, title } of manifest.contributes.commands) {
		const words = texts[title.slice(1, -1)] ?? title;
		const run = new RegExp(`(?:command|run)\\((?:page, )?"(?:Lodebook: )?${words.replace(/\W/g, "\\$&")}"\\)`);
		expect(run.test(suites), `${command}: ${words}`).toBe(true);
	}
});

test("settings are in an order and described in Markdown", () => {
	const properties = Object.entries(manifest.contributes.configuration.properties) as [
		string,
		Record<string, unknown>,
	][];
	for (const [name, { order, markdownDescription, description }] of properties) {
		expect(order, name).toBeGreaterThan(0);
		expect(markdownDescription, name).toMatch(/^%/);
		expect(description, name).toBe(undefined);
	}
	expect(properties.map(([name]) => name)).toContain("lodebook.trace.server");
});

test("nothing is published without what only the owner knows", () => {
	expect(hindrances(manifest, read("CHANGELOG.md"))).toEqual([
		expect.stringContaining("`publisher`"),
		expect.stringContaining("`repository.url`"),
		expect.stringContaining("`private`"),
	]);
	const owned = { version: "1.2.0", publisher: "somebody", repository: { url: "https://example.org/lodebook" } };
	expect(hindrances(owned, "# Changes\n\n## 1.2.0 (2027-01-02)\n")).toEqual([]);
	expect(hindrances(owned, "# Changes\n\n## 1.2.0\n")).toEqual([expect.stringContaining("no date")]);
	expect(hindrances(owned, "# Changes\n")).toEqual([expect.stringContaining("no heading")]);
});
