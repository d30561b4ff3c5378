import { expect, test } from "vitest";
import type { CompletionItem, CompletionList, Range, TextEdit } from "vscode-languageserver";
import { codesOf, cursor, planWith } from "../plan-text.ts";
import { positionOf } from "./client.ts";
import { Opened, sampleText } from "./opened-notebook.ts";
import { applied, sample, serve } from "./served.ts";

const { client, opened } = serve({
	notebookDocument: { synchronization: {} },
	textDocument: { completion: { completionItem: { labelDetailsSupport: true } } },
});
const snippets = serve({ textDocument: { completion: { completionItem: { snippetSupport: true } } } });

async function complete(
	marked: string,
	at: Pick<typeof snippets, "client" | "opened"> = { client, opened },
): Promise<{ readonly items: CompletionItem[]; readonly accept: (label: string) => string }> {
	const { text, offset } = cursor(marked);
	const uri = await at.opened(text);
	const { items } = await at.client.request<CompletionList>("textDocument/completion", {
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
const newText = (item: CompletionItem | undefined): string => (item?.textEdit as TextEdit | undefined)?.newText ?? "";
const labels = (items: readonly CompletionItem[]): readonly string[] => items.map(({ label }) => label);

/** Codes of what a text has wrong in its structure, but for values and cells that are still to be written. */
const misshapen = (text: string): readonly string[] =>
	codesOf(text).filter(
		(code) => code.startsWith("structure/") && !/^structure\/(?:no-value|missing-cell|unreadable)$/.test(code),
	);

test("kinds of cells, missing required ones first, each at its place and with gaps for what only the user knows", async () => {
	const { items, accept } = await complete("plan:\n  title: A\n---\n$0");
	expect(labels(items).slice(0, 5)).toEqual(["site", "night", "lens", "method", "targets"]);
	expect(labels(items)).not.toContain("plan");
	for (const kind of labels(items)) expect(misshapen(accept(kind)), kind).toEqual([]);
	expect(accept("site")).toBe("plan:\n  title: A\n---\nsite:\n  name: \n  latitude: \n  longitude: ");
	expect(labels((await complete("---\nsi$0")).items)).toContain("site");
	// Behind a cell the next one comes with its marker, from any indentation; in the midst of one none can.
	for (const marked of ["plan:\n  title: A\n$0", "plan:\n  title: A\n  si$0", "plan:\n  title: A\nsi$0"])
		expect((await complete(marked)).accept("night")).toBe("plan:\n  title: A\n---\nnight:\n  date: ");
	expect(labels((await complete("plan:\n  $0\n  title: A\n")).items)).toEqual(["kind", "format", "summary"]);
});

test("an empty file: a whole plan first, then each kind of cell", async () => {
	const { items, accept } = await complete("$0");
	expect(labels(items)).toEqual([
		"new plan",
		"plan",
		"site",
		"night",
		"lens",
		"method",
		"targets",
		"tracker",
		"note",
		"log",
	]);
	expect(new Set(codesOf(accept("new plan")))).toEqual(new Set(["structure/no-value"]));
	const { items: withStops } = await complete("$0", snippets);
	const text = newText(withStops[0]);
	expect(text).toMatch(/^plan:\n {2}title: \$1\n---\nsite:\n {2}name: \$2\n {2}latitude: \$3\n/);
	expect(text).toContain("targets:\n  - name: $12\n    aim: $13\n    exposure: $14\n");
	expect(withStops[0]?.insertTextFormat).toBe(2);
});

test("keys, missing required ones first, those of the method's kind, none twice", async () => {
	const site = await complete("site:\n  name: A\n  $0");
	expect(labels(site.items).slice(0, 2)).toEqual(["latitude", "longitude"]);
	expect(labels(site.items)).not.toContain("name");
	expect(site.items[0]?.labelDetails?.description).toBe("required, a latitude");
	expect(site.accept("latitude")).toBe("site:\n  name: A\n  latitude: ");
	expect(site.accept("landmarks")).toBe("site:\n  name: A\n  landmarks:\n    - ");
	const method = await complete("method:\n  kind: square-laser\n  $0");
	expect(labels(method.items).slice(0, 2)).toEqual(["guide-star", "offset"]);
	expect(labels(method.items)).not.toContain("landmark");
	expect((await complete("lens:\n  foc$0: ")).accept("focal-length")).toBe("lens:\n  focal-length: ");
	expect((await complete("targets:\n  - { name: a, $0 }")).accept("aim")).toBe("targets:\n  - { name: a, aim:  }");
	expect(labels((await complete("site:\n  landmarks:\n    - name: x\n      $0\n  place: [open]")).items)).toEqual([
		"latitude",
		"longitude",
		"elevation",
		"bearing",
		"altitude",
		"lit",
	]);
});

test("keys at the first column come with the indentation of their cell; entries of a list with their dash", async () => {
	expect((await complete("site:\n$0")).accept("latitude")).toBe("site:\n  latitude: ");
	expect((await complete("site:\n    name: A\nlat$0")).accept("latitude")).toBe("site:\n    name: A\n    latitude: ");
	expect((await complete("site: { name: A }\n$0")).items.map(({ label }) => label)).not.toContain("latitude");
	const entry = "- name: \n    aim: \n    exposure: ";
	for (const marked of ["targets:\n$0", "targets:\n  $0"])
		expect((await complete(marked)).accept("- name, aim, exposure")).toBe(`targets:\n  ${entry}`);
	expect((await complete("targets:\n  - name: a\n    $0")).accept("- name, aim, exposure")).toBe(
		`targets:\n  - name: a\n  ${entry}`,
	);
	expect((await complete("site:\n  landmarks:\n    - name: x\n      $0")).accept("- name")).toBe(
		"site:\n  landmarks:\n    - name: x\n    - name: ",
	);
});

test("what is accepted behind a colon, a dash or a comma without a blank comes with the blank", async () => {
	const flow = "method: { kind: pole-sighting }";
	for (const marked of ["method: { kind:$0 }", "method: { kind: $0}", "method: { kind:$0}"])
		expect((await complete(marked)).accept("pole-sighting").replace("g}", "g }"), marked).toBe(flow);
	expect((await complete("method:\n  kind:$0")).accept("drift")).toMatch(/^method:\n {2}kind: drift\n {2}first:/);
	expect((await complete("method:\n  kind:$0\n  at: x")).accept("pole-sighting")).toMatch(
		/^method:\n {2}kind: pole-sig/,
	);
	const targets = await complete("targets:\n  - { name: A,$0 }");
	expect(targets.accept("exposure")).toBe("targets:\n  - { name: A, exposure:  }");
	expect((await complete("targets:\n  - { name: A,ai$0 }")).accept("aim")).toBe("targets:\n  - { name: A, aim:  }");
	expect((await complete("targets: [{ name: A, aim:$0 }]")).accept("sun")).toBe("targets: [{ name: A, aim: sun }]");
	expect((await complete("site:\n  place: [cave,$0]")).accept("ruin")).toBe("site:\n  place: [cave, ruin]");
	expect((await complete("site:\n  place:\n    -$0")).accept("ruin")).toBe("site:\n  place:\n    - ruin");
	expect((await complete("targets:\n  -$0")).accept("name")).toBe("targets:\n  - name: ");
	const second = await complete("targets:\n  - name: a\n  -$0");
	expect(second.accept("foreground")).toBe("targets:\n  - name: a\n  - foreground: ");
	expect(second.accept("- name, aim, exposure")).toBe("targets:\n  - name: a\n  - name: \n    aim: \n    exposure: ");
	// Enter behind the colon of what is written under it begins a line.
	for (const marked of ["site:$0", "targets:$0", "site:\n  landmarks:$0", "tracker:\n  periodic-error:$0"])
		expect((await complete(marked)).items, marked).toEqual([]);
});

test("no key is put in front of another one on its line; in a flow mapping it comes with its comma", async () => {
	for (const marked of [
		"site:\n  latitude: 1 N\n$0  name: A",
		"site:\n  latitude: 1 N\n $0 name: A",
		"site:\n  latitude: 1 N\nfr$0  name: A",
		"$0  name: A",
		"targets:\n$0  - name: A",
		"targets:\n  - name: A\n$0    aim: sun",
	])
		expect((await complete(marked)).items, marked).toEqual([]);
	expect((await complete("site:\n$0  # by the ford\n  name: A")).accept("latitude")).toBe(
		"site:\n  latitude:   # by the ford\n  name: A",
	);
	for (const marked of ["targets: [{ $0 name: A }]", "targets: [{ ai$0 name: A }]"])
		expect((await complete(marked)).accept("aim"), marked).toBe("targets: [{ aim: , name: A }]");
});

test("in front of another key, one comes on a line of its own, and the other keeps its value", async () => {
	const entry = "targets:\n  - name: A\n    $0exposure: 30 s\n";
	for (const typed of ["", "pan"])
		expect((await complete(entry.replace("$0", `${typed}$0`))).accept("panorama"), typed).toBe(
			"targets:\n  - name: A\n    panorama:\n      \n    exposure: 30 s\n",
		);
	expect((await complete("targets:\n  - $0name: A\n")).accept("aim")).toBe("targets:\n  - aim: \n    name: A\n");
	expect((await complete("targets: [{ $0name: A }]")).accept("aim")).toBe("targets: [{ aim: , name: A }]");
	// A key's name is written anew where the value that it has can be the other's.
	const renamed = await complete("targets:\n  - name: A\n    $0: 30 s\n");
	expect(labels(renamed.items)).toContain("exposure");
	expect(labels(renamed.items)).not.toContain("panorama");
	expect(renamed.accept("exposure")).toBe("targets:\n  - name: A\n    exposure: 30 s\n");
	expect((await complete("targets:\n  - expsure$0: 30 s\n")).accept("exposure")).toBe("targets:\n  - exposure: 30 s\n");
	// A cell's kind is none of its keys, and the mark of the next cell no word of this one.
	for (const marked of ["$0site:\n  name: A", "si$0te:\n  name: A", "site:\n  name: A\n$0---\nnight:\n"])
		expect((await complete(marked)).items, marked).toEqual([]);
	expect((await complete("sit$0:\n  name: A")).accept("site")).toBe("site:\n  name: A");
	// Of mappings that exclude each other, the keys of those that can still be meant.
	expect(labels((await complete("targets:\n  - aim: { azimuth: 95, $0 }")).items)).toEqual(["altitude"]);
});

test("no example is offered as a value: units behind what is typed, and gaps for clients that have them", async () => {
	for (const key of ["latitude", "longitude", "elevation", "skyline", "name", "temperature"])
		expect((await complete(`site:\n  ${key}: $0`)).items, key).toEqual([]);
	expect((await complete("site:\n  latitude: 47.1$0")).accept("47.1 N")).toBe("site:\n  latitude: 47.1 N");
	expect((await complete("lens:\n  focal-length: 24$0")).accept("24 mm")).toBe("lens:\n  focal-length: 24 mm");
	expect((await complete("site:\n  landmarks: [{ bearing: 134$0")).accept("134°M")).toContain("bearing: 134°M");
	const { items } = await complete("site:\n  latitude: $0", snippets);
	expect(items.map(newText)).toEqual(["$1 N", "$1 S"]);
	const [sketch] = (await complete("tracker:\n  periodic-error: $0", snippets)).items;
	expect(newText(sketch)).toBe("{ amplitude: $1, period: $2 \\}");
	expect((await complete("site:\n  place: $0")).accept("[ruin]")).toBe("site:\n  place: [ruin]");
	expect((await complete("site:\n  place:\n    - $0")).accept("ruin")).toBe("site:\n  place:\n    - ruin");
});

test("the next good nights at the date, each with its dark hours", async () => {
	const { items } = await complete(sample.replace("date: 2027-06-05", "date: $0"));
	expect(items.length).toBeGreaterThan(0);
	expect(items.length).toBeLessThanOrEqual(8);
	for (const { label, labelDetails } of items) {
		expect(label).toMatch(/^\d{4}-\d{2}-\d{2}$/);
		expect(labelDetails?.description).toMatch(/^(?:\d+ h \d\d min|\d+ min) usable, Moon \d+ %$/);
	}
	expect(labels(items)).toEqual([...labels(items)].sort());
	expect((await complete("night:\n  date: $0")).items).toEqual([]);
	// Cells that are only begun rule no night out.
	const begun =
		"site:\n  name: A\n  latitude: 47.1 N\n  longitude: 8.7 E\n---\nnight:\n  date: $0\n---\nmethod:\n  kind: \n---\ntargets:\n  - name: \n    aim: \n";
	expect((await complete(begun)).items.length).toBeGreaterThan(2);
});

test("kinds of method that would work tonight first, the finest of them, each with what it needs; those planned last", async () => {
	const second = sample.replace(/kind: landmark-bearing\n {2}landmark: water tower/, "kind: $0");
	const { items, accept } = await complete(second);
	expect(items[0]?.labelDetails?.description).toMatch(/^axis within \d+\.\d° tonight/);
	// The chapel's walls hide the pole, and the plan has a right-angle laser already.
	expect(labels(items).slice(0, 2).sort()).toEqual(["landmark-bearing", "sky-bearing"]);
	expect(labels(items).indexOf("square-laser")).toBe(2);
	expect(codesOf(accept("landmark-bearing"))).toEqual([]);
	expect(accept("landmark-bearing")).toContain("  kind: landmark-bearing\n  landmark: water tower\n");
	expect(codesOf(accept("sky-bearing")).filter((code) => code.startsWith("structure/"))).toEqual([]);
	expect((await complete("method:\n  kind: $0")).accept("drift")).toBe(
		"method:\n  kind: drift\n  first: { star:  }\n  second: { star:  }",
	);
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

test("aims that are in view first; those below the horizon or hidden while on site after them all, and each says so", async () => {
	const { items } = await complete(sample.replace("aim: galactic-centre", "aim: $0"));
	// On 2027-06-05 at 32.4 S from 17:00 to 02:00 the galactic centre and Jupiter are up; Saturn rises after 02:00.
	const detailOf = (label: string): string | undefined => items.find((item) => item.label === label)?.detail;
	expect(detailOf("galactic-centre")).toBe("altitude 39.4°, bearing 102.8° (ESE) half-way through your time on site");
	expect(detailOf("saturn")).toMatch(/while you are on site$/);
	expect(detailOf("Polaris")).toBe("below the horizon while you are on site");
	expect(detailOf("Antares")).toBe("star");
	const never = items.map(({ detail = "" }) => /(?:hidden|below the horizon) while you are on site$/.test(detail));
	const first = never.indexOf(true);
	expect(first).toBeGreaterThan(10);
	expect(never.slice(first)).not.toContain(false);
});

test("guide stars that never work tonight come last, and each says so", async () => {
	const { items } = await complete(sample.replace("eta Virginis\n", "$0\n"));
	const never = items.map(({ detail }) => detail === "never works tonight");
	expect(never.slice(never.indexOf(true))).not.toContain(false);
	expect(items.find(({ label }) => label === "Sirius")?.detail).toBe("never works tonight");
	// What is said is what the plan says of it.
	for (const { label, detail } of items.slice(0, 60).filter((_, i) => i % 10 === 0)) {
		const codes = codesOf(sample.replace("eta Virginis\n", `${label}\n`).replace(/^ {2}at: "20:01"\n/m, ""));
		const isNever = codes.some((code) => /^method\/(?:guide-star-never-near|no-window)$/.test(code));
		expect(isNever, `${label}: ${codes.join()}`).toBe(detail === "never works tonight");
	}
});

test("values: words, sensors, zones, names, bodies, times when things happen; block and flow, quoted and half-typed", async () => {
	expect(labels((await complete("method:\n  kind: $0")).items)).toContain("star-sweep");
	expect(labels((await complete("lens:\n  sensor: f$0")).items)).toContain("full-frame");
	expect(labels((await complete(sample.replace("timezone: America/Montevideo", "timezone: $0"))).items)[0]).toBe(
		"America/Montevideo",
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
	expect(clock.items.find(({ labelDetails }) => labelDetails?.description === "arrive")?.label).toBe("17:00");
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

test("targets taken from another plan: its keys, entries behind `add`, and no entry beside them", async () => {
	const begun = await complete("targets:\n  $0");
	expect(labels(begun.items).slice(0, 3)).toEqual(["- name, aim, exposure", "from", "add"]);
	expect(misshapen(begun.accept("from"))).toEqual([]);
	const taken = "targets:\n  from: sites/chapel.lode.yaml\n";
	const beside = await complete(`${taken}  $0`);
	expect(labels(beside.items)[0]).toBe("add");
	expect(labels(beside.items)).not.toContain("- name, aim, exposure");
	expect(new Set(misshapen(beside.accept("add").replace("- ", "- name: x")))).toEqual(
		new Set(["structure/missing-key"]),
	);
	const more = await complete(`${taken}  add:\n    $0`);
	expect(labels(more.items)[0]).toBe("- name, aim, exposure");
	expect(misshapen(more.accept("- name, aim, exposure"))).toEqual([]);
	const inEntry = await complete(`${taken}  add:\n    - name: x\n      $0`);
	expect(labels(inEntry.items).slice(0, 2)).toEqual(["aim", "exposure"]);
	const listed = labels((await complete("targets:\n  - name: x\n  $0")).items);
	expect(listed[0]).toBe("- name, aim, exposure");
	expect(listed).not.toContain("from");
	expect(labels((await complete("targets: { $0 }")).items)).toEqual(["from", "add"]);
});

test("in a library nothing is missing, another site may come, and its zone is that of its own place", async () => {
	const head = "plan: { title: Sites, kind: library }\n---\n";
	const site = "site:\n  name: Fold\n  latitude: 40 N\n  longitude: 3 W\n---\n";
	const { items } = await complete(`${head}${site}$0`);
	expect(items.map(({ label, detail }) => `${label}: ${detail}`)).toContain("site: one more cell");
	expect(items.filter(({ detail }) => detail === "the plan needs it")).toEqual([]);
	const zones = await complete(
		`${head}${site}site:\n  name: Ford\n  latitude: 60 N\n  longitude: 25 E\n  timezone: $0`,
	);
	expect(labels(zones.items)[0]).toBe("Europe/Helsinki");
});

test("showers with when they come, three letters found too; sides that the Moon may shine from", async () => {
	const text = planWith({
		targets: `- name: core\n  aim: galactic-centre\n  shower: eta Aquariids\n  from: "21:30"\n  exposure: 60 s\n  foreground: { light: moon, lit-from: left }`,
	});
	const { items, accept } = await complete(text.replace("shower: eta Aquariids", "shower: $0"));
	expect(labels(items)).toContain("Geminids");
	expect(items.find(({ label }) => label === "eta Aquariids")?.detail).toBe("peak about 6 May");
	for (const label of labels(items)) expect(misshapen(accept(label)), label).toEqual([]);
	const lit = await complete(text.replace("lit-from: left", "lit-from: $0"));
	expect(labels(lit.items)).toEqual(["left", "right", "behind", "ahead"]);
	expect(lit.accept("behind")).toContain("lit-from: behind");
	const keys = labels((await complete(text.replace("light: moon, lit-from: left", "$0"))).items);
	expect(keys).toEqual(["exposure", "frames", "panorama", "light", "lit-from", "focused-at", "at"]);
	const orders = await complete(
		planWith({ targets: "- name: core\n  aim: galactic-centre\n  exposure: 60 s\n  panorama: { order: $0 }" }),
	);
	expect(labels(orders.items)).toEqual(["rows", "columns", "setting-first"]);
});
