/** The table of outputs, and what is made from it. */
import { mkdtempSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterEach, describe, expect, test, vi } from "vitest";
import { checkCommand } from "../../server/commands/check.ts";
import { compareCommand } from "../../server/commands/compare.ts";
import { showCommand } from "../../server/commands/show.ts";
import { check } from "../../shared/findings/check.ts";
import { findingRecords } from "../../shared/outputs/json/finding-record.ts";
import { summaryMarkdown } from "../../shared/outputs/markdown/summary.ts";
import { methodStateText } from "../../shared/outputs/method-state.ts";
import type { CheckedPlan, Environment, Materials, Output } from "../../shared/outputs/output.ts";
import { OUTPUTS, outputsOf } from "../../shared/outputs/outputs.ts";
import { pageBody } from "../../shared/outputs/page/page.tsx";
import { EDITOR_STYLE, STYLE } from "../../shared/outputs/page/style.ts";
import { pageView } from "../../shared/outputs/page/view.ts";
import { outputReference } from "../../shared/outputs/reference/outputs.ts";
import { planText } from "../../shared/outputs/text/plan.ts";
import { sentences } from "../../shared/text/sentence.ts";
import { evaluateText, planWith } from "../plan-text.ts";

const CHAPEL = fileURLToPath(new URL("../../samples/roofless-chapel.lode.yaml", import.meta.url));

const planOf = (text: string): CheckedPlan => {
	const evaluation = evaluateText(text);
	return { path: "a.lode.yaml", text, evaluation, findings: check(evaluation) };
};

const ENVIRONMENT: Environment = {
	now: Date.UTC(2027, 0, 1),
	version: "1.2.3",
	pageScript: "let x = '</script>';",
	paint: (text, as) => `<${as}>${text}</${as}>`,
	fromHere: (path) => `here/${path}`,
	explanation: (code: string) => `explained:${code}`,
	fromRoot: (path) => `root/${path}`,
	ground: "light",
};

const materialsOf = (text: string): Materials => {
	const plan = planOf(text);
	const { path, findings } = plan;
	return {
		plan,
		files: [{ path, text, records: findingRecords(text, findings) }],
		states: { before: plan, after: planOf(planWith({})) },
	};
};

/** Everything that every output makes of the materials. */
const everything = (materials: Materials) =>
	OUTPUTS.flatMap(({ name, of, choice }) =>
		(choice?.among ?? [""]).flatMap((which) => [
			[`${name} ${which} of a plan`, of.plan?.make(materials.plan, ENVIRONMENT, which)] as const,
			[`${name} ${which} of files`, of.files?.make(materials.files, ENVIRONMENT, which)] as const,
			[`${name} ${which} of states`, of.states?.make(materials.states, ENVIRONMENT, which)] as const,
		]),
	).filter(([, made]) => made !== undefined);

const toyWords = sentences("test.toy", { help: "print the title alone, {loud}", untitled: "the plan has no title" });
const toy: Output = {
	name: "title",
	option: "--title",
	choice: { name: "case", among: ["upper", "lower"] },
	mediaType: "text/plain",
	extension: "txt",
	of: {
		plan: {
			help: toyWords.help({ loud: "in one case" }),
			make({ evaluation }, { version }, choice) {
				const title = pageView(evaluation, []).title;
				if (title === "A plan without a title") return { why: toyWords.untitled() };
				return `${version} ${choice === "upper" ? title.toUpperCase() : title.toLowerCase()}\n`;
			},
		},
	},
};

describe("the table of outputs", () => {
	test("each has a name, an option and an ending of its own; each material has one output without an option", () => {
		const names = OUTPUTS.map(({ name }) => name);
		expect(new Set(names).size).toBe(names.length);
		const options = OUTPUTS.flatMap(({ option }) => option ?? []);
		expect(new Set(options).size).toBe(options.length);
		for (const option of options) expect(option).toMatch(/^--[a-z]+$/);
		for (const { mediaType, extension, of } of OUTPUTS) {
			expect(mediaType).toMatch(/^[a-z]+\/[a-z+]+$/);
			expect(extension).toMatch(/^[a-z]+$/);
			expect(Object.keys(of).length).toBeGreaterThan(0);
		}
		for (const material of ["plan", "files", "states"] as const)
			expect(outputsOf(material).filter(({ output }) => output.option === undefined).length).toBe(1);
	});

	test("every folder of an output is in it", () => {
		const folder = fileURLToPath(new URL("../../shared/outputs/", import.meta.url));
		const declared = readdirSync(folder, { recursive: true, encoding: "utf8" }).filter(
			(path) => /\.tsx?$/.test(path) && /^export const \w+: Output = /m.test(readFileSync(folder + path, "utf8")),
		);
		expect(declared.map((path) => path.split(/[\\/]/)[0]).sort()).toEqual(OUTPUTS.map(({ name }) => name).sort());
	});

	test("of a plan that holds everything every output is made, with what it is told from outside", () => {
		const made = new Map(everything(materialsOf(planWith({ method: "kind: sky-bearing\nbody: Spica" }))));
		// The dial of a pole scope is of a plan that sights the pole.
		const dial = "svg pole-dial of a plan";
		const field = "name: Field\nlatitude: 32.4123 N\nlongitude: 54.3622 W\ntimezone: America/Montevideo";
		const sighting = planWith({ site: field, method: "kind: pole-sighting" });
		made.set(dial, new Map(everything(materialsOf(sighting))).get(dial) ?? "");
		expect(made.size).toBeGreaterThanOrEqual(24);
		for (const [name, text] of made) {
			expect(typeof text, name).toBe("string");
			expect(text, name).not.toMatch(/\[object|undefined|NaN/);
		}
		expect(made.get("page  of a plan")).toContain("let x = '<\\/script>';");
		expect(made.get("calendar  of a plan")).toContain("DTSTAMP:20270101T000000Z");
		expect(made.get("text  of a plan")).toMatch(/^<bold>.*<\/bold>\n/);
		expect(made.get("sarif  of files")).toContain('"semanticVersion": "1.2.3"');
		expect(made.get("sarif  of files")).toContain('"uri": "root/a.lode.yaml"');
	});

	test("of an empty plan they are made, or say why not", () => {
		const reasons = everything(materialsOf("")).flatMap(([, made]) => (typeof made === "object" ? [made.why.key] : []));
		expect(new Set(reasons)).toEqual(
			new Set(["output.svg.notEnough", "output.calendar.unknown", "output.geojson.unknown"]),
		);
	});

	test("the reference names every output, its option and what it is made of", () => {
		const page = outputReference();
		for (const { name, option, mediaType } of OUTPUTS) {
			expect(page).toContain(`| ${name} |`);
			if (option) expect(page).toContain(option);
			expect(page).toContain(mediaType);
		}
	});
});

describe("commands made from the table", () => {
	afterEach(() => {
		vi.restoreAllMocks();
	});

	const optionsOf = (command: ReturnType<typeof showCommand>): readonly string[] =>
		command.options.map(({ long }) => long ?? "");

	test("have an option for each output that can be made of what they are given, in its order", () => {
		const wanted = (material: keyof Materials) => outputsOf(material).flatMap(({ output }) => output.option ?? []);
		expect(optionsOf(showCommand())).toEqual([...wanted("plan"), "--ground", "--member", "--out"]);
		expect(optionsOf(checkCommand())).toEqual([...wanted("files"), "--fail-on", "--stdin-path", "--fix", "--jobs"]);
		expect(optionsOf(compareCommand())).toEqual([...wanted("states"), "--exit-code"]);
	});

	test("one more line in the table is one more option, in the help and when it is run", async () => {
		const table = [...OUTPUTS, toy];
		expect(optionsOf(showCommand(table))).toContain("--title");
		expect(optionsOf(checkCommand(table))).not.toContain("--title");
		expect(showCommand(table).helpInformation().replace(/\s+/g, " ")).toContain(
			'--title <case> print the title alone, in one case (choices: "upper", "lower")',
		);
		const printed: string[] = [];
		vi.spyOn(process.stdout, "write").mockImplementation((text) => printed.push(String(text)) > 0);
		await showCommand(table).parseAsync([CHAPEL, "--title", "upper"], { from: "user" });
		expect(printed).toEqual(["test CORE OVER THE ROOFLESS CHAPEL\n"]);
	});

	test("what cannot be made is said with the file and the reason", async () => {
		const empty = join(mkdtempSync(join(tmpdir(), "lodebook-outputs-")), "empty.lode.yaml");
		writeFileSync(empty, "");
		await expect(
			showCommand([...OUTPUTS, toy]).parseAsync([empty, "--title", "lower"], { from: "user" }),
		).rejects.toThrow(`${empty}: the plan has no title; lodebook check says what is wrong`);
	});
});

describe("one sentence, one place", () => {
	const text = planWith({ method: "kind: landmark-bearing\nlandmark: nowhere" });
	const { evaluation, findings } = planOf(text);

	test("page and Markdown say in the same words why a method does not work tonight", () => {
		const [method] = pageView(evaluation, findings).methods;
		if (!method) throw new Error("no method");
		expect(method.works).toBe(false);
		const sentence = methodStateText(method);
		expect(sentence).toBe(`The ${method.name} does not work tonight. ${method.why}`);
		const page = pageBody(pageView(evaluation, findings)).replace(/<[^>]+>/g, "");
		// What stands between backticks in a text is code on a page.
		expect(page).toContain(sentence.replace(/"/g, "&quot;").replaceAll("`", ""));
		expect(page).not.toContain("Works never");
		expect(summaryMarkdown(evaluation, findings).replaceAll("\\", "")).toContain(sentence);
	});

	test("text, page and Markdown say alike of a method that works at other times than the one planned", () => {
		const late = planOf(
			planWith({ method: 'kind: square-laser\nguide-star: eta Virginis\nat: "22:50"\nlocal-rules-checked: true' }),
		);
		const view = pageView(late.evaluation, late.findings);
		const sentence = methodStateText(view.methods[0] as (typeof view.methods)[number]);
		expect(sentence).toMatch(/^The right-angle laser does not work at 22:50; it works 20:0\d–20:0\d\. At 22:50 /);
		const text = planText(late, { ...ENVIRONMENT, paint: (one) => one });
		expect(text).toContain(`\n${sentence}\n`);
		expect(summaryMarkdown(late.evaluation, late.findings).replaceAll("\\", "")).toContain(sentence);
		expect(pageBody(view).replace(/<[^>]+>/g, "")).toContain(sentence);
	});

	test("the reason is left out where it stands beside the sentence already, or is not known", () => {
		const method = {
			name: "compass",
			works: false,
			corrects: false,
			windows: "never",
			radius95: 1,
			needs: "a level",
			why: "Because.",
			notAt: "",
		};
		expect(methodStateText(method)).toBe("The compass does not work tonight. Because.");
		expect(methodStateText(method, { whyIsTold: true })).toBe("The compass does not work tonight.");
		expect(methodStateText({ ...method, why: "" })).toBe("The compass does not work tonight.");
		expect(methodStateText({ ...method, works: true, windows: "19:00–20:00" })).toBe(
			"Works 19:00–20:00. Axis within 1.0° of the pole, 19 times in 20, if your ± are right. Needs a level.",
		);
	});
});

describe("the look of the page in an editor", () => {
	test("has the colours of the page, each written once", () => {
		const values = (css: string, name: string): ReadonlySet<string> =>
			new Set([...css.matchAll(new RegExp(`--${name}: ([^;]+);`, "g"))].map(([, value]) => value as string));
		for (const name of ["ink", "ground", "sky", "band", "blue", "ochre", "error", "warning", "info"])
			for (const value of values(EDITOR_STYLE, name))
				expect(value === "#000" || values(STYLE, name).has(value), `${name} ${value}`).toBe(true);
		const client = readFileSync(new URL("../../client/preview.ts", import.meta.url), "utf8");
		expect(client).not.toMatch(/#[0-9a-f]{3,6}\b/i);
	});
});
