import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { CELL_KINDS } from "../../shared/cells/kinds.ts";
import { evaluate } from "../../shared/evaluate/evaluate.ts";
import { check } from "../../shared/findings/check.ts";
import { modelAt } from "../../shared/plan/field-at.ts";
import { type Cell, inText, placeIn, readPlan } from "../../shared/plan/plan.ts";
import { type JoinedPlan, type Library, linksFrom, PlanJoiner } from "../../shared/plan/reuse.ts";
import { planWith } from "../plan-text.ts";

const whole = planWith({});
const cells = new Map(whole.split(/^---\n/m).map((text) => [/^[a-z]+/.exec(text)?.[0] ?? "", text] as const));
const KINDS = ["site", "night", "lens", "tracker", "method", "targets"] as const;
const library = (kinds: readonly string[]): string =>
	["plan:\n  title: Shared\n  kind: library\n", ...kinds.map((kind) => cells.get(kind) ?? "")].join("---\n");

function workspace(files: Readonly<Record<string, string>>): Library {
	const plans = new Map(Object.entries(files).map(([path, text]) => [path, readPlan(text)]));
	return (path) => {
		const plan = plans.get(path);
		return plan ? { plan } : { missing: "not-found" };
	};
}
const join = (text: string, files: Readonly<Record<string, string>>): JoinedPlan =>
	new PlanJoiner().join(readPlan(text), "plans/a.lode.yaml", workspace(files));
const codes = (plan: JoinedPlan): readonly string[] => check(evaluate(plan)).map(({ code }) => code);
const taking = (kinds: readonly string[], from = "../shared.lode.yaml"): string =>
	["plan", ...KINDS]
		.filter((kind) => cells.has(kind))
		.map((kind) => (kinds.includes(kind) ? `${kind}:\n  from: ${from}\n` : (cells.get(kind) as string)))
		.join("---\n");
const shared = { "shared.lode.yaml": library(KINDS) };

describe("libraries", () => {
	test.each(KINDS.filter((kind) => cells.has(kind)))("one of a %s cell alone checks clean", (kind) => {
		expect(codes(join(library([kind]), {}))).toEqual([]);
		expect(codes(join(library([kind]).replace("kind: library", "kind: plan"), {}))).toContain("structure/missing-cell");
	});

	test("any cells of the samples together: nothing is missing, and nothing is found that the sample does not have", () => {
		for (const name of ["roofless-chapel", "gannet-cave", "terrace-near-the-line"]) {
			const text = readFileSync(new URL(`../../samples/${name}.lode.yaml`, import.meta.url), "utf8");
			const [, ...others] = text.split(/^---\n/m);
			const known = new Set(codes(join(text, {})));
			for (let chosen = 1; chosen < 1 << others.length; chosen += 3) {
				const some = others.filter((_, i) => (chosen >> i) & 1);
				// With all of these it is an evening, and is weighed as one.
				if (KINDS.every((kind) => some.some((cell) => cell.startsWith(kind)))) continue;
				const found = codes(join(["plan:\n  title: Some\n  kind: library\n", ...some].join("---\n"), {}));
				expect(
					found.filter((code) => !known.has(code)),
					some.join("---\n"),
				).toEqual([]);
			}
		}
	});

	test("what is wrong in a cell is found in a library too", () => {
		// Whether a laser is allowed is asked for a place: by who takes the method.
		expect(codes(join("plan:\n  title: A\n  kind: library\n---\nmethod:\n  kind: square-laser\n", {}))).toEqual([]);
		expect(codes(join("plan:\n  title: A\n  kind: library\n---\nmethod:\n  kind: square-lasr\n", {}))).toContain(
			"structure/unknown-word",
		);
		expect(codes(join("plan:\n  title: A\n  kind: library\n---\nnight:\n  arrive: '17:00'\n", {}))).toContain(
			"structure/missing-key",
		);
	});

	test("a name is looked for among the library's own, where it has cells of that kind", () => {
		const targets = "targets:\n  - { name: core, aim: galactic-centre, lens: long, exposure: 60 s }\n";
		const head = "plan:\n  title: A\n  kind: library\n---\n";
		expect(codes(join(head + targets, {}))).toEqual([]);
		expect(codes(join(`${head}${cells.get("lens")}---\n${targets}`, {}))).toContain("structure/unknown-reference");
	});
});

describe("every kind of cell can be taken", () => {
	test.each(KINDS.filter((kind) => cells.has(kind)))("%s: the same findings and the same numbers", (kind) => {
		const [own, taken] = [join(whole, {}), join(taking([kind]), shared)];
		expect(taken.reuse.problems).toEqual([]);
		// Whether a laser is allowed was asked for the other plan's place.
		const asked = kind === "method" ? ["method/local-rules"] : [];
		expect(codes(taken)).toEqual([...asked, ...codes(own)]);
		const numbers = (plan: JoinedPlan) => {
			const evaluation = evaluate(plan);
			return plan.cells.flatMap((cell) => evaluation.valuesOf(cell).map(({ id, value }) => [id, value]));
		};
		expect(numbers(taken)).toEqual(numbers(own));
		expect(numbers(taken).length).toBeGreaterThan(40);
	});

	test("a laser is cleared by the plan that takes the method, not by the one that it is from", () => {
		const method = "method:\n  kind: square-laser\n  guide-star: eta Virginis\n";
		const files = { "m.lode.yaml": `${method}  local-rules-checked: true\n` };
		const taken = "method:\n  from: ../m.lode.yaml\n";
		expect(codes(join(taken, files))).toContain("method/local-rules");
		expect(codes(join(`${taken}  local-rules-checked: true\n`, files))).not.toContain("method/local-rules");
	});

	test("a whole evening, and its date changes for all with one edit of the library", () => {
		const all = KINDS.filter((kind) => cells.has(kind));
		const [before, after] = [shared, { "shared.lode.yaml": library(KINDS).replace("2027-06-05", "2027-06-06") }].map(
			(files) => evaluate(join(taking(all), files)),
		);
		expect(before?.night?.date.day).toBe(5);
		expect(after?.night?.date.day).toBe(6);
		expect(after?.targets?.value?.length).toBe(before?.targets?.value?.length);
	});

	test("a method is the first of its kind, else the first; keys written here hold", () => {
		const methods =
			"method:\n  kind: compass\n---\nmethod:\n  kind: phone\n  at: '20:00'\n---\nmethod:\n  kind: phone\n  at: '21:00'\n";
		const method = (text: string) => join(`method:\n${text}`, { "m.lode.yaml": methods });
		expect(method("  from: ../m.lode.yaml\n").cells[0]?.read.content).toMatchObject({ kind: "compass" });
		expect(method("  from: ../m.lode.yaml\n  kind: phone\n").cells[0]?.read.content).toMatchObject({
			kind: "phone",
			at: 72_000,
		});
		expect(method("  from: ../m.lode.yaml\n  kind: phone\n  at: '22:00'\n").cells[0]?.read.content).toMatchObject({
			at: 79_200,
		});
		const none = method("  from: ../m.lode.yaml\n  kind: drift\n");
		expect(none.reuse.problems.map(({ type }) => type)).toEqual(["no-cell"]);
		expect(check(evaluate(none)).find(({ code }) => code === "reuse/cannot-take")?.message).toContain(
			"of the kind `drift`",
		);
	});
});

describe("targets of another plan with more behind them", () => {
	const entry = (name: string, exposure: string) => `{ name: ${name}, aim: galactic-centre, exposure: ${exposure} }`;
	const files = {
		"one.lode.yaml": `targets:\n  - ${entry("a", "10 s")}\n  - ${entry("b", "20 s")}\n`,
		"two.lode.yaml": `targets:\n  from: one.lode.yaml\n  add:\n    - ${entry("c", "30 s")}\n`,
	};
	const text = `targets:\n  from: ../two.lode.yaml\n  add:\n    - ${entry("d", "40 parsec")}\n    - ${entry("e", "50 s")}\n`;
	const plan = join(text, files);
	const [cell] = plan.cells as readonly [Cell];

	test("all in their order, through two files, and the links say so", () => {
		expect((cell.read.content as readonly { name: string }[]).map(({ name }) => name)).toEqual([
			"a",
			"b",
			"c",
			"d",
			"e",
		]);
		const [link] = plan.reuse.links;
		expect([...linksFrom(link)].map(({ path }) => path)).toEqual(["two.lode.yaml", "one.lode.yaml"]);
	});

	test("an entry's number is that in the whole list: its place, its model, its finding", () => {
		const shown = (path: string): string => {
			const { from, to } = inText(cell, placeIn(cell, path).value);
			return text.slice(from, to);
		};
		expect(shown("4.exposure")).toBe("50 s");
		expect(shown("3.name")).toBe("d");
		// What is taken is not here: `from` says where it is.
		for (const path of ["0.exposure", "2.name", "1"]) expect(shown(path)).toBe("../two.lode.yaml");
		for (const path of ["4.exposure", "add.0.exposure", "from"]) expect(modelAt("targets", path)).toBeDefined();
		const paths = [...cell.read.places].map(([path]) => path);
		expect(paths).toContain("3.exposure");
		expect(paths).not.toContain("0.exposure");
		for (const path of paths) expect(cell.read.places.has(path), path).toBe(true);
		const wrong = check(evaluate(plan)).find(
			({ code, from }) => code.startsWith("structure/") && text.slice(from).startsWith("40"),
		);
		expect(wrong).toBeDefined();
	});

	test("alone, before the other plan is read, its own entries are there", () => {
		const [alone] = readPlan(text).cells as readonly [Cell];
		expect((alone.read.content as readonly unknown[]).length).toBe(2);
		expect(placeIn(alone, "1.exposure").source).toBe("50 s");
	});

	test("no more than a list may have, and said", () => {
		const many = (count: number) => Array.from({ length: count }, (_, i) => `  - ${entry(`n${i}`, "10 s")}`).join("\n");
		const { max } = CELL_KINDS.targets.shape as unknown as { max: number };
		const long = join(text, { "two.lode.yaml": `targets:\n${many(max)}\n` });
		expect(long.reuse.problems.map(({ type }) => type)).toEqual([]);
		expect(((long.cells[0] as Cell).read.content as readonly unknown[]).length).toBe(max);
		const chain = {
			"two.lode.yaml": `targets:\n  from: x.lode.yaml\n  add:\n${many(max - 1).replace(/^/gm, "  ")}\n`,
			"x.lode.yaml": files["one.lode.yaml"],
		};
		expect(join(text, chain).reuse.problems.map(({ type }) => type)).toEqual(["too-many"]);
	});
});

describe("several sites in one library", () => {
	const sites = (...names: readonly (string | undefined)[]): string =>
		[
			"plan: { title: Sites, kind: library }\n",
			...names.map((name, i) => {
				const said = name === undefined ? "" : `name: ${name}, `;
				return `site: { ${said}latitude: ${32 + i}.5 S, longitude: 54.3622 W }\n`;
			}),
		].join("---\n");
	const taken = (site: string, text: string) =>
		join(planWith({ site }), { "plans/sites.lode.yaml": text, "sites.lode.yaml": text });

	test("the one that is named is taken", () => {
		for (const [name, latitude] of [
			["Fold", -32.5],
			["Ford", -33.5],
		] as const) {
			const joined = taken(`from: sites.lode.yaml\nname: ${name}`, sites("Fold", "Ford"));
			expect(evaluate(joined).site?.content.latitude).toBeCloseTo(latitude);
			expect(joined.reuse.problems).toEqual([]);
		}
		expect(evaluate(taken("from: sites.lode.yaml", sites("Fold", "Ford"))).site?.content.latitude).toBe(-32.5);
		// With one site alone a plan may call it what it likes.
		expect(evaluate(taken("from: sites.lode.yaml\nname: Mine", sites("Fold"))).site?.content.latitude).toBe(-32.5);
	});

	test("a name that none of them has takes none, and says so", () => {
		const joined = taken("from: sites.lode.yaml\nname: Frod", sites("Fold", "Ford"));
		const wrong = check(evaluate(joined)).filter(({ code }) => code === "reuse/cannot-take");
		expect(wrong.map(({ message }) => message)).toEqual([
			"`sites.lode.yaml` has no `site` cell called `Frod`. Name another plan, or write the cell out here.",
		]);
	});

	test("each needs a name of its own, and only in a library", () => {
		const repeated = (text: string) =>
			check(evaluate(readPlan(text))).filter(({ code }) => code === "structure/repeated-cell").length;
		expect(repeated(sites("Fold", "Ford", "Fell"))).toBe(0);
		expect(repeated(sites("Fold", "Fold"))).toBe(1);
		expect(repeated(sites("Fold", undefined))).toBe(1);
		expect(repeated(sites("Fold", "Ford").replace(", kind: library", ""))).toBe(1);
	});

	test("each is checked and computed as what it is, whichever is first", () => {
		const cell = (name: string, zone: string) =>
			`site: { name: ${name}, latitude: 32.4123 S, longitude: 54.3622 W, timezone: ${zone} }\n`;
		const head = "plan: { title: Sites, kind: library }\n";
		const night = "night: { date: 2027-07-01 }\n";
		const [right, wrong] = [cell("Fold", "America/Montevideo"), cell("Ford", "Europe/London")];
		for (const order of [
			[right, wrong],
			[wrong, right],
			[right, cell("Fell", "America/Montevideo"), wrong],
		]) {
			const text = [head, ...order, night].join("---\n");
			const evaluation = evaluate(readPlan(text));
			expect(check(evaluation).map(({ code, from }) => [code, text.slice(0, from).split("---").length - 1])).toEqual([
				["site/other-zone", order.indexOf(wrong) + 1],
			]);
			for (const one of evaluation.plan.cells.filter(({ read }) => read.kind === "site"))
				expect(evaluation.valuesOf(one).length).toBeGreaterThan(0);
		}
	});
});
