/** Settings of a workspace: what they change in the plans there, and what they leave alone. */
import { describe, expect, test } from "vitest";
import { evaluate } from "../../shared/evaluate/evaluate.ts";
import { check } from "../../shared/findings/check.ts";
import { exampleText } from "../../shared/findings/example-plan.ts";
import { RULES } from "../../shared/findings/rules.ts";
import { firstValue, type Plan, readPlan } from "../../shared/plan/plan.ts";
import { type JoinedPlan, type OtherPlan, PlanJoiner } from "../../shared/plan/reuse.ts";

const joiner = new PlanJoiner();

/** A plan as the workspace has it that holds these other files. */
function joined(text: string, files: Readonly<Record<string, string>>, path = "plans/a.lode.yaml"): Plan & JoinedPlan {
	const read = new Map(Object.entries(files).map(([name, other]) => [name, { plan: readPlan(other) }] as const));
	return joiner.join(readPlan(text), path, (name): OtherPlan => read.get(name) ?? { missing: "not-found" });
}

const withSettings = (settings: string): Readonly<Record<string, string>> => ({
	"lodebook.lode.yaml": `settings:\n${settings.replace(/^/gm, "  ")}\n`,
});

const better = exampleText(RULES.find(({ code }) => code === "method/better-available")?.wrong ?? {});
const told = (text: string, settings: string): readonly string[] =>
	check(evaluate(joined(text, withSettings(settings)))).map(({ code, severity }) => `${severity} ${code}`);

describe("findings", () => {
	test("are told as the settings have it, or not at all", () => {
		expect(told(better, "fail-on: error")).toContain("info method/better-available");
		expect(told(better, "findings: [{ code: method/better-available, severity: error }]")).toContain(
			"error method/better-available",
		);
		expect(told(better, "findings: [{ code: method/better-available, severity: off }]")).not.toContainEqual(
			expect.stringContaining("better-available"),
		);
	});

	test("keep their fixes", () => {
		const [one] = check(
			evaluate(joined(better, withSettings("findings: [{ code: method/better-available, severity: error }]"))),
		).filter(({ code }) => code === "method/better-available");
		expect(one?.fixes.length).toBeGreaterThan(0);
	});

	test("about safety, and of what cannot be read, stay as they are", () => {
		const laser = exampleText({ method: 'kind: square-laser\nguide-star: eta Virginis\nat: "20:01"' });
		expect(told(laser, "findings: [{ code: method/local-rules, severity: off }]")).toContain(
			"warning method/local-rules",
		);
		expect(told("site: {}\n", "findings: [{ code: structure/missing-cell, severity: note }]")).toContain(
			"error structure/missing-cell",
		);
	});

	test("settings in another file have no effect, and that is told", () => {
		const own = `${better}---\nsettings:\n  findings: [{ code: method/better-available, severity: off }]\n`;
		const codes = check(evaluate(joined(own, {}))).map(({ code }) => code);
		expect(codes).toEqual(expect.arrayContaining(["method/better-available", "settings/elsewhere"]));
		const root = check(evaluate(joined("settings:\n  fail-on: note\n", {}, "lodebook.lode.yaml")));
		expect(root).toEqual([]);
	});
});

describe("defaults", () => {
	const plan = exampleText({
		night: 'date: 2027-06-05\narrive: "17:00"\nleave: "02:00"\nprepare: { focus: 8 min }',
		method: "kind: sky-bearing\nbody: Spica\nuncertainty: { clock: ± 2 s }",
		tracker: "tilt-scale: ± 0.5°",
	});
	const defaults =
		"defaults:\n  prepare: { set-up: 25 min, focus: 1 min }\n  moon-allowed: 40 %\n  tilt-scale: ± 3°\n  pan-scale: ± 2°\n  uncertainty: { compass: ± 4°, clock: ± 9 s }";

	test("stand in where a plan says nothing, key by key, and nowhere else", () => {
		const now = joined(plan, withSettings(defaults));
		expect(firstValue(now, "night")).toMatchObject({ prepare: { "set-up": 1500, focus: 480 }, "moon-allowed": 40 });
		expect(firstValue(now, "tracker")).toMatchObject({ "tilt-scale": 0.5, "pan-scale": 2 });
		expect(firstValue(now, "method")).toMatchObject({ uncertainty: { compass: 4, clock: 2 } });
		expect(evaluate(now).evening?.steps.find(({ kind }) => kind === "focus")).toMatchObject({});
		expect(firstValue(joined(plan, {}), "tracker")).not.toHaveProperty("pan-scale");
	});

	test("have how long a method takes by its kind; what a cell says itself stays", () => {
		const takes = "defaults:\n  takes: { sky-bearing: 11 min, phone: 3 min }";
		const lasting = (method: string): number | undefined => {
			const { evening } = evaluate(joined(exampleText({ method }), withSettings(takes)));
			const step = evening?.steps.find(({ kind }) => kind === "align");
			return step && (step.until - step.from) / 60_000;
		};
		expect(lasting("kind: sky-bearing\nbody: Spica")).toBe(11);
		expect(lasting("kind: sky-bearing\nbody: Spica\ntakes: 6 min")).toBe(6);
		expect(lasting("kind: phone")).toBe(3);
		expect(lasting("kind: compass")).toBe(5);
		const wrong = check(
			evaluate(joined("settings:\n  defaults:\n    takes: { star-sweeep: 3 min }\n", {}, "lodebook.lode.yaml")),
		);
		expect(wrong.map(({ code }) => code)).toEqual(["structure/unknown-key"]);
	});

	test("the same plan with the same settings is the same cells, so that nothing is computed anew", () => {
		const read = readPlan(plan);
		const settings = { plan: readPlan(withSettings(defaults)["lodebook.lode.yaml"] ?? "") };
		const [one, two] = [1, 2].map(() => joiner.join(read, "plans/a.lode.yaml", () => settings));
		expect(one?.cells.map(({ read: cell }) => cell)).toEqual(two?.cells.map(({ read: cell }) => cell));
		for (const [i, cell] of (one?.cells ?? []).entries()) expect(cell.read).toBe(two?.cells[i]?.read);
	});

	test("settings that cannot be read change nothing, and throw nothing", () => {
		for (const broken of [
			"settings: [1, 2]",
			"settings:\n  defaults: 3\n  findings: { a: b }",
			"settings: {",
			"\0",
			"",
		]) {
			const now = joined(plan, { "lodebook.lode.yaml": broken });
			expect(firstValue(now, "tracker"), broken).not.toHaveProperty("pan-scale");
			expect(() => check(evaluate(now))).not.toThrow();
		}
	});
});
