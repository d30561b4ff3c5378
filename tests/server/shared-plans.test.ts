/** A workspace whose plans share a site and a kit: who takes what, from whichever of the files one asks. */
import { mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { afterAll, beforeAll, expect, test } from "vitest";
import type { CodeLens, CompletionList, Hover, Location, WorkspaceEdit } from "vscode-languageserver";
import { planWith } from "../plan-text.ts";
import { positionOf, TestClient } from "./client.ts";
import { applied } from "./served.ts";

const folder = mkdtempSync(join(tmpdir(), "lodebook-shared-"));
const client = new TestClient();
const uriOf = (name: string): string => pathToFileURL(join(folder, name)).href;
const write = (name: string, text: string): void => writeFileSync(join(folder, name), text);

const sites = `plan: { title: Sites, kind: library }
---
site:
  name: Fold
  latitude: 32.4123 S
  longitude: 54.3622 W
  landmarks:
    - { name: mast light, bearing: 92°, lit: true }
---
site:
  name: Cliff foot
  latitude: 32.5 S
  longitude: 54.4 W
`;
const taking = (site: string): string => planWith({ site }).replace("landmark: nothing", "");
const mast = 'name: Fold\nfrom: "../sites and kits/sites.lode.yaml"';
const inFold = `${taking(mast)}---\nmethod:\n  kind: landmark-compass\n`.replace(
	"kind: landmark-compass\n",
	'kind: compass\n  at: "18:00"\n',
);

beforeAll(async () => {
	mkdirSync(join(folder, "sites and kits"));
	mkdirSync(join(folder, "plans"));
	mkdirSync(join(folder, "node_modules"));
	write("sites and kits/sites.lode.yaml", sites);
	write("plans/one.lode.yaml", inFold);
	write("plans/two.lode.yaml", `${taking(mast)}---\nlog:\n  - { date: 2027-06-05, note: seen from the fold }\n`);
	write("plans/cliff.lode.yaml", taking('name: Cliff foot\nfrom: "../sites and kits/sites.lode.yaml"'));
	write("plans/again.lode.yaml", taking("from: one.lode.yaml"));
	write("plans/alone.lode.yaml", planWith({}));
	write("node_modules/x.lode.yaml", taking(mast));
	await client.start({}, pathToFileURL(folder).href);
});
afterAll(() => client.stop());

const lensesOf = async (uri: string): Promise<string[]> =>
	(await client.request<CodeLens[]>("textDocument/codeLens", { textDocument: { uri } })).flatMap(
		({ command, range }) => (command?.title.startsWith("used by") ? [`${range.start.line} ${command.title}`] : []),
	);
const pathsIn = (found: readonly Location[]): string[] =>
	found.map(({ uri }) => decodeURIComponent(uri.slice(uriOf("").length + 1))).sort();

test("each cell of a library says how many plans take it, straight or by way of others, and follows the disk", async () => {
	const uri = uriOf("sites and kits/sites.lode.yaml");
	await client.open(uri, sites);
	await expect.poll(() => lensesOf(uri)).toEqual(["2 used by 3 plans", "9 used by 1 plan"]);
	write("plans/third.lode.yaml", taking('name: Cliff foot\nfrom: "../sites and kits/sites.lode.yaml"'));
	const changed = (type: number) =>
		client.connection.sendNotification("workspace/didChangeWatchedFiles", {
			changes: [{ uri: uriOf("plans/third.lode.yaml"), type }],
		});
	await changed(1);
	await expect.poll(() => lensesOf(uri)).toEqual(["2 used by 3 plans", "9 used by 2 plans"]);
	rmSync(join(folder, "plans/third.lode.yaml"));
	await changed(3);
	await expect.poll(() => lensesOf(uri)).toEqual(["2 used by 3 plans", "9 used by 1 plan"]);
	// What is open counts as it is in the editor.
	await client.open(uriOf("plans/cliff.lode.yaml"), planWith({}));
	await expect.poll(() => lensesOf(uri)).toEqual(["2 used by 3 plans"]);
	await client.connection.sendNotification("textDocument/didClose", {
		textDocument: { uri: uriOf("plans/cliff.lode.yaml") },
	});
	await expect.poll(() => lensesOf(uri)).toEqual(["2 used by 3 plans", "9 used by 1 plan"]);
});

test("references of a cell's kind are the places where it is taken", async () => {
	const uri = uriOf("sites and kits/sites.lode.yaml");
	const found = await client.request<Location[]>("textDocument/references", {
		textDocument: { uri },
		position: { line: 2, character: 1 },
		context: { includeDeclaration: true },
	});
	expect(pathsIn(found)).toEqual(["plans/again.lode.yaml", "plans/one.lode.yaml", "plans/two.lode.yaml"]);
	const [first] = found.filter((one) => one.uri.endsWith("one.lode.yaml"));
	expect(inFold.split("\n")[first?.range.start.line ?? -1]).toContain("from:");
});

test("a site's name is renamed in the library and in the plans that pick it by its name, from either side", async () => {
	const uri = uriOf("sites and kits/sites.lode.yaml");
	const renamed = async (of: string, text: string, offset: number) => {
		const { changes = {} } = await client.request<WorkspaceEdit>("textDocument/rename", {
			textDocument: { uri: of },
			position: positionOf(text, offset),
			newName: "Old fold",
		});
		return changes;
	};
	const fromLibrary = await renamed(uri, sites, sites.indexOf("Fold") + 1);
	const paths = Object.keys(fromLibrary).map((one) => decodeURIComponent(one.slice(uriOf("").length + 1)));
	expect(paths.sort()).toEqual(["plans/one.lode.yaml", "plans/two.lode.yaml", "sites and kits/sites.lode.yaml"]);
	expect(applied(sites, fromLibrary[uri] ?? [])).toBe(sites.replace("name: Fold", "name: Old fold"));
	const one = uriOf("plans/one.lode.yaml");
	await client.open(one, inFold);
	const fromPlan = await renamed(one, inFold, inFold.indexOf("name: Fold") + 7);
	expect(Object.keys(fromPlan).length).toBe(3);
	expect(applied(inFold, fromPlan[one] ?? [])).toContain("name: Old fold");
	expect(applied(inFold, fromPlan[one] ?? [])).not.toContain("name: Fold");
});

test("a landmark of the library: renamed where plans use it, not where one has its own of that name", async () => {
	const use = 'kind: landmark\nlandmark: mast light\nat: "19:00"';
	const user = planWith({ site: mast, method: use });
	const own = planWith({
		site: `${mast}\nlandmarks: [{ name: mast light, bearing: 10° }]`,
		method: use,
	});
	write("plans/user.lode.yaml", user);
	write("plans/own.lode.yaml", own);
	for (const name of ["user", "own"])
		await client.connection.sendNotification("workspace/didChangeWatchedFiles", {
			changes: [{ uri: uriOf(`plans/${name}.lode.yaml`), type: 1 }],
		});
	await client.open(uriOf("plans/user.lode.yaml"), user);
	const position = positionOf(user, user.indexOf("mast light") + 2);
	const textDocument = { uri: uriOf("plans/user.lode.yaml") };
	await expect
		.poll(async () => {
			const { changes } = await client.request<WorkspaceEdit>("textDocument/rename", {
				textDocument,
				position,
				newName: "beacon",
			});
			return pathsIn(Object.keys(changes ?? {}).map((uri) => ({ uri }) as Location));
		})
		.toEqual(["plans/user.lode.yaml", "sites and kits/sites.lode.yaml"]);
	const [definition] = await client.request<Location[]>("textDocument/definition", { textDocument, position });
	expect(definition?.uri).toBe(uriOf("sites and kits/sites.lode.yaml"));
	expect(sites.split("\n")[definition?.range.start.line ?? -1]).toContain("mast light");
});

test("paths of plans with such a cell are offered, and names of the cells in the one that is taken from", async () => {
	const offered = async (text: string, name: string): Promise<string[]> => {
		const uri = uriOf(name);
		await client.open(uri, text);
		const { items } = await client.request<CompletionList>("textDocument/completion", {
			textDocument: { uri },
			position: positionOf(text, text.length),
		});
		await client.connection.sendNotification("textDocument/didClose", { textDocument: { uri } });
		return items.map(({ textEdit, label }) => textEdit?.newText ?? label);
	};
	const paths = await offered("site:\n  from: ", "plans/new.lode.yaml");
	expect(paths).toContain("../sites and kits/sites.lode.yaml");
	expect(paths[0]).not.toContain("/");
	expect(paths).not.toContain("new.lode.yaml");
	expect(paths.some((path) => path.includes("node_modules"))).toBe(false);
	expect(await offered("site:\n  from: ../sites and kits/sites.lode.yaml\n  name: ", "plans/new.lode.yaml")).toEqual([
		"Fold",
		"Cliff foot",
	]);
	expect(await offered("log:\n  from: ", "plans/new.lode.yaml")).toEqual([]);
});

test("what a cell takes is shown over its `from`, with the plan that each value is from", async () => {
	const uri = uriOf("plans/again.lode.yaml");
	const text = readFileSync(join(folder, "plans/again.lode.yaml"), "utf8");
	await client.open(uri, text);
	await expect
		.poll(async () => {
			const hover = await client.request<Hover | null>("textDocument/hover", {
				textDocument: { uri },
				position: positionOf(text, text.indexOf("one.lode") + 1),
			});
			return (hover?.contents as { value: string } | undefined)?.value ?? "";
		})
		.toMatch(/`latitude` \| 32\.4123 S \| sites and kits\/sites\.lode\.yaml/);
});

test("nothing outside the root is looked at", async () => {
	const outside = mkdtempSync(join(tmpdir(), "lodebook-beside-"));
	writeFileSync(join(outside, "secret.lode.yaml"), "site: { name: Secret }\n");
	symlinkSync(outside, join(folder, "linked"));
	symlinkSync(join(outside, "secret.lode.yaml"), join(folder, "plans/secret.lode.yaml"));
	const other = await new TestClient().start({}, pathToFileURL(folder).href);
	const uri = uriOf("plans/fresh.lode.yaml");
	const text = "site:\n  from: ";
	await other.open(uri, text);
	const { items } = await other.request<CompletionList>("textDocument/completion", {
		textDocument: { uri },
		position: positionOf(text, text.length),
	});
	expect(items.length).toBeGreaterThan(3);
	expect(items.map(({ label }) => label).filter((label) => /secret|linked/.test(label))).toEqual([]);
	await other.stop();
});

test("a folder of a thousand plans is looked at within a second or two, and of more only the first", async () => {
	const many = mkdtempSync(join(tmpdir(), "lodebook-many-"));
	const chapel = readFileSync(
		fileURLToPath(new URL("../../samples/roofless-chapel.lode.yaml", import.meta.url)),
		"utf8",
	);
	for (let i = 0; i < 1100; i++) writeFileSync(join(many, `p${i}.lode.yaml`), `${chapel}# ${i}\n`);
	const other = await new TestClient().start({}, pathToFileURL(many).href);
	const uri = pathToFileURL(join(many, "fresh.lode.yaml")).href;
	const text = "site:\n  from: ";
	await other.open(uri, text);
	const ask = () =>
		other.request<CompletionList>("textDocument/completion", {
			textDocument: { uri },
			position: positionOf(text, text.length),
		});
	expect((await ask()).items.length).toBeLessThanOrEqual(100);
	await expect.poll(async () => (await ask()).items.length).toBe(100);
	await other.stop();
});
