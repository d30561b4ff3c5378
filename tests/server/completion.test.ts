import { expect, test } from "vitest";
import type { CompletionItem, CompletionList, Range, TextEdit } from "vscode-languageserver";
import { codesOf, cursor, planWith } from "../plan-text.ts";
import { positionOf } from "./client.ts";
import { Opened, sampleText } from "./opened-notebook.ts";
import { applied, sample, serve } from "./served.ts";

const { client, opened } = serve({ notebookDocument: { synchronization: {} } });

async function complete(
	marked: string,
): Promise<{ readonly items: CompletionItem[]; readonly accept: (label: string) => string }> {
	const { text, offset } = cursor(marked);
	const uri = await opened(text);
	const { items } = await client.request<CompletionList>("textDocument/completion", {
		textDocument: { uri },
		position: positionOf(text, offset),
	});
	const sorted = [...items].sort((a, b) => ((a.sortText ?? "") < (b.sortText ?? "") ? -1 : 1));
	return {
		items: sorted,
		accept: (label) => {
			const edit = sorted.find((item) => item.label === label)?.textEdit as TextEdit | undefined;
			if (!edit) throw new Error(`no ${label} among ${sorted.map((item) => item.label).join(", ")}`);
			return applied(text, [edit]);
		},
	};
}
const labels = (items: readonly CompletionItem[]): readonly string[] => items.map(({ label }) => label);

test("kinds of cells, missing required ones first, with a skeleton that reads without a problem", async () => {
	const { items, accept } = await complete("plan:\n  title: A\n---\n$0");
	expect(labels(items).slice(0, 5)).toEqual(["site", "night", "lens", "method", "targets"]);
	expect(labels(items)).not.toContain("plan");
	for (const kind of labels(items))
		expect(
			codesOf(accept(kind)).filter(
				(code) =>
					code.startsWith("structure/") && code !== "structure/missing-cell" && code !== "structure/unknown-reference",
			),
			kind,
		).toEqual([]);
	expect((await complete("$0")).items.length).toBe(9);
	expect(labels((await complete("---\nsi$0")).items)).toContain("site");
	expect((await complete("plan:\n  title: A\n$0")).items).toEqual([]);
});

test("keys, missing required ones first, those of the method's kind, none twice", async () => {
	const site = await complete("site:\n  name: A\n  $0");
	expect(labels(site.items).slice(0, 2)).toEqual(["latitude", "longitude"]);
	expect(labels(site.items)).not.toContain("name");
	expect(site.accept("latitude")).toBe("site:\n  name: A\n  latitude: ");
	expect(site.accept("landmarks")).toBe("site:\n  name: A\n  landmarks:\n    - ");
	const method = await complete("method:\n  kind: square-laser\n  $0");
	expect(labels(method.items).slice(0, 2)).toEqual(["guide-star", "offset"]);
	expect(labels(method.items)).not.toContain("landmark");
	expect((await complete("lens:\n  foc$0: ")).accept("focal-length")).toBe("lens:\n  focal-length: ");
	expect((await complete("targets:\n  - { name: a, $0 }")).accept("aim")).toBe("targets:\n  - { name: a, aim:  }");
	expect(labels((await complete("site:\n  landmarks:\n    - name: x\n      $0")).items)).toEqual([
		"latitude",
		"longitude",
		"elevation",
		"bearing",
		"altitude",
		"lit",
	]);
});

test("guide stars ranked by how well they work tonight, with place, time and miss", async () => {
	const { items, accept } = await complete(sample.replace("eta Virginis\n", "$0\n"));
	expect(items[0]).toMatchObject({
		// Better stars pass when the frames have begun: these come later.
		label: "eta Virginis",
		detail: expect.stringMatching(/^20:02, altitude 58\.\d°, misses by 0\.8\d°, magnitude 3\.9/),
	});
	expect(labels(items).indexOf("eta Virginis")).toBeLessThan(6);
	// As many as are read, the rest as one types on: the list says that it is cut.
	expect(labels(items).length).toBe(250);
	expect(labels(items)).toContain("Sirius");
	const typed = await complete(planWith({ method: 'kind: square-laser\nguide-star: p5 ori$0\nat: "20:01"' }));
	expect(labels(typed.items)).toContain("pi5 Orionis");
	expect(typed.items.length).toBeLessThan(250);
	expect(codesOf(accept("eta Virginis"))).toEqual([]);
});

test("values: words, sensors, zones, names, bodies, times when things happen; block and flow, quoted and half-typed", async () => {
	expect(labels((await complete("method:\n  kind: $0")).items)).toContain("star-sweep");
	expect(labels((await complete("lens:\n  sensor: f$0")).items)).toContain("full-frame");
	expect(labels((await complete(sample.replace("timezone: Africa/Johannesburg", "timezone: $0"))).items)[0]).toBe(
		"Africa/Johannesburg",
	);
	expect(labels((await complete(sample.replace("landmark: water tower", "landmark: $0"))).items)).toEqual([
		"water tower",
	]);
	expect(labels((await complete(sample.replace("lens: wide\n    at", "lens: $0\n    at"))).items)).toEqual(["wide"]);
	expect(labels((await complete(sample.replace("aim: galactic-centre", "aim: $0"))).items)).toContain(
		"galactic-centre",
	);
	const clock = await complete(sample.replace('from: "20:30"', 'from: "2$0"'));
	expect(clock.items.find(({ detail }) => detail === "astronomical dusk")?.label).toBe("19:06");
	expect(clock.accept("19:06")).toContain('from: "19:06"\n');
	const flow = await complete("method: { kind: sky-$0 }");
	expect(flow.accept("sky-bearing")).toBe("method: { kind: sky-bearing }");
	expect(labels((await complete("method:\n  stars: [Spica, $0]")).items)).toContain("Mintaka");
});

test("nothing in comments and notes", async () => {
	expect((await complete("site: # $0")).items).toEqual([]);
	expect((await complete("note: |\n  a$0")).items).toEqual([]);
});

const rangeOf = ([first]: readonly CompletionItem[]): Range | undefined =>
	(first?.textEdit as TextEdit | undefined)?.range;

test("completion in an empty cell offers kinds; in a method's cell the guide stars of tonight", async () => {
	const opened = await Opened.open(client, sampleText("roofless-chapel.lode.yaml"));
	const [added = ""] = await opened.structure(8, 0, [""]);
	const { items: kinds } = await client.request<CompletionList>("textDocument/completion", {
		textDocument: { uri: added },
		position: { line: 0, character: 0 },
	});
	expect(kinds.map(({ label }) => label)).toEqual(["lens", "method", "note", "log"]);
	expect(rangeOf(kinds)).toEqual({ start: { line: 0, character: 0 }, end: { line: 0, character: 0 } });
	const { items: stars } = await client.request<CompletionList>("textDocument/completion", {
		textDocument: { uri: opened.cell(5) },
		position: { line: 2, character: 14 },
	});
	expect(stars[0]?.detail).toContain("misses by");
	expect(rangeOf(stars)).toEqual({ start: { line: 2, character: 14 }, end: { line: 2, character: 26 } });
});
