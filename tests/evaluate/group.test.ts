/** A group's evening: one laser, none while any kit exposes, all aligned before the first frame where that costs nothing. */
import { describe, expect, test } from "vitest";
import { createEvaluator, type Evaluation } from "../../shared/evaluate/evaluate.ts";
import type { GroupEvening } from "../../shared/evaluate/group.ts";
import { check } from "../../shared/findings/check.ts";
import { exampleText } from "../../shared/findings/example-plan.ts";
import { eveningRows } from "../../shared/outputs/evening.ts";
import { readPlan } from "../../shared/plan/plan.ts";
import { PlanJoiner } from "../../shared/plan/reuse.ts";

const OF_KITS = { lens: null, tracker: null, method: null, targets: null } as const;
const LASER = 'kind: square-laser\nguide-star: eta Virginis\nat: "20:01"\nlocal-rules-checked: true';
const LANDMARK = "kind: landmark-bearing\nlandmark: water tower";
const CORE = "- name: core\n  aim: galactic-centre\n  exposure: 90 s\n  frames: 12\n  gap: 5 s";

const kit = (methods: readonly string[], targets = CORE): string =>
	exampleText({ site: null, night: null, method: methods, targets });

const join = (kits: Readonly<Record<string, string>>) => {
	const members = Object.keys(kits).map((name) => `- { name: ${name}, from: ${name}.lode.yaml }`);
	const text = exampleText({ ...OF_KITS, plan: "title: At the fold\nkind: group", group: members.join("\n") });
	return new PlanJoiner().join(readPlan(text), "group.lode.yaml", (path) => {
		const found = kits[path.replace(".lode.yaml", "")];
		return found === undefined ? { missing: "not-found" } : { plan: readPlan(found) };
	});
};
const evaluated = (kits: Readonly<Record<string, string>>): Evaluation & { group: GroupEvening } => {
	const evaluation = createEvaluator()(join(kits));
	if (!evaluation.group) throw new Error("not a group");
	return evaluation as Evaluation & { group: GroupEvening };
};
const stepsOf = ({ group }: { group: GroupEvening }, name: string, kind: string) =>
	group.kits.find(({ member }) => member.name === name)?.evening?.steps.filter((step) => step.kind === kind) ?? [];

describe("one laser", () => {
	test("who can be aligned without it is, when somebody else has it", () => {
		const group = evaluated({ Nia: kit([LASER, LANDMARK]), Tom: kit([LASER, LANDMARK]) });
		expect(group.group.lasers.map(({ kit: one }) => one.member.name)).toEqual(["Nia"]);
		expect(stepsOf(group, "Tom", "align")).toMatchObject([{ of: 1 }]);
		expect(group.group.problems).toEqual([]);
	});

	test("who cannot is told, and who has the laser then", () => {
		const { group, ...evaluation } = evaluated({ Nia: kit([LASER]), Tom: kit([LASER]) });
		expect(group.problems).toMatchObject([{ type: "no-alignment", laser: true, kit: { member: { name: "Tom" } } }]);
		expect(evaluation).toBeDefined();
		expect(check(evaluated({ Nia: kit([LASER]), Tom: kit([LASER]) }))).toMatchObject([
			{ code: "group/laser-shared", severity: "error", message: expect.stringContaining("the laser is with Nia then") },
		]);
	});

	test("nobody exposes while it is on, test frames neither, and all are aligned before the first frame", () => {
		const kits = { Nia: kit([LASER]), Tom: kit([LANDMARK]), Ada: kit([LANDMARK], CORE.replace("12", "40")) };
		const group = evaluated(kits);
		const [use] = group.group.lasers;
		for (const name of Object.keys(kits))
			for (const kind of ["sky", "test-frame"])
				for (const step of stepsOf(group, name, kind)) expect(step.from).toBeGreaterThanOrEqual(use?.until ?? 0);
		expect(group.group.problems).toEqual([]);
	});

	test("frames whose time is fixed keep it: the laser is refused then, or the pause is told", () => {
		const fixed = CORE.replace("  exposure", '  from: "19:50"\n  exposure');
		const group = evaluated({ Nia: kit([LASER, LANDMARK]), Tom: kit([LANDMARK], fixed) });
		expect(group.group.lasers).toEqual([]);
		expect(stepsOf(group, "Nia", "align")).toMatchObject([{ of: 1 }]);
		expect(evaluated({ Nia: kit([LASER]), Tom: kit([LANDMARK], fixed) }).group.problems).toMatchObject([
			{ type: "no-alignment", kit: { member: { name: "Nia" } } },
		]);
	});
});

test("what the plan gives no time takes twice as long, what it does give stays", () => {
	const alone = createEvaluator()(readPlan(exampleText({ method: LANDMARK, targets: CORE })));
	const lengths = (evaluation: Evaluation | undefined, kind: string, evening = evaluation?.evening) =>
		evening?.steps.filter((step) => step.kind === kind).map(({ from, until }) => until - from);
	const group = evaluated({ Nia: kit([LANDMARK]), Tom: kit([`${LANDMARK}\ntakes: 9 min`]) });
	const [nia, tom] = group.group.kits;
	for (const kind of ["set-up", "focus", "align", "pack-up"])
		expect(lengths(nia?.evaluation, kind, nia?.evening), kind).toEqual(lengths(alone, kind)?.map((one) => one * 2));
	expect(lengths(tom?.evaluation, "align", tom?.evening)).toEqual([9 * 60_000]);
	expect(lengths(nia?.evaluation, "sky", nia?.evening)).toEqual(lengths(alone, "sky"));
});

describe("one sheet", () => {
	const kits = { Nia: kit([LASER]), Tom: kit([LANDMARK]), Ada: kit([LANDMARK]) };
	const rows = eveningRows(evaluated(kits));

	test("who does what when, in order, with head counts, the laser's two people and lights out", () => {
		const said = rows.map(({ say }) => say);
		expect(said[0]).toBe("Head count on arriving: 3");
		expect(said.at(-1)).toMatch(/^Head count before leaving: 3/);
		expect(said).toContain("All: Set up");
		expect(said).toContain("Tom and Ada: Align: bearing from a landmark");
		const laser = rows.find(({ say }) => say === "Nia: Align: right-angle laser");
		expect(laser?.about).toContain("Nia holds the laser, Tom looks out for aircraft and people, no camera exposes");
		expect(said.some((one) => one.startsWith("Lights out: Nia, Tom and Ada take frames"))).toBe(true);
		expect(rows.map(({ at }) => at)).toEqual(rows.map(({ at }) => at).sort((a, b) => a - b));
	});

	test("numbers are those of the group's minute", () => {
		const group = evaluated(kits);
		const [sky] = stepsOf(group, "Tom", "sky");
		const tom = group.group.kits.find(({ member }) => member.name === "Tom")?.evaluation?.targets?.value?.[0];
		const altitude = tom?.directionAt(sky?.from ?? 0).altitude ?? 0;
		const aim = rows.find(
			({ say }) =>
				/Tom.*: (Aim at )?core$/.test(say) && /altitude/.test(say + rows.find((row) => row.say === say)?.about),
		);
		expect(aim?.about).toContain(`altitude ${altitude.toFixed(1)}°`);
	});
});

test("a kit that is not there, a group in a group, a group cell in a plan of one", () => {
	const text = exampleText({ ...OF_KITS, plan: "title: A\nkind: group", group: "- { name: a, from: a.lode.yaml }" });
	const plan = new PlanJoiner().join(readPlan(text), "g.lode.yaml", () => ({ plan: readPlan(text) }));
	expect(plan.group).toMatchObject([{ missing: "group", plan: undefined }]);
	const codes = (joined: ReturnType<PlanJoiner["join"]>) => check(createEvaluator()(joined)).map(({ code }) => code);
	expect(codes(plan)).toEqual(["group/no-such-kit"]);
	const outside = new PlanJoiner().join(
		readPlan(text.replace("a.lode.yaml", "../a.lode.yaml")),
		"g.lode.yaml",
		() => undefined,
	);
	expect(outside.group).toMatchObject([{ missing: "outside" }]);
	const alone = exampleText({ group: "- { name: a, from: a.lode.yaml }" });
	expect(codes(new PlanJoiner().join(readPlan(alone), "g.lode.yaml", () => undefined))).toEqual(["group/no-such-kit"]);
});

test("twelve kits are evaluated, once warm, in a moment", () => {
	const kits = Object.fromEntries(
		Array.from({ length: 12 }, (_, i) => [`kit${i}`, kit(i % 3 === 0 ? [LASER, LANDMARK] : [LANDMARK])]),
	);
	createEvaluator()(join(kits)).group;
	const begun = performance.now();
	const rows = eveningRows(createEvaluator()(join(kits)));
	const took = performance.now() - begun;
	console.log(`12 kits: ${took.toFixed(0)} ms`);
	expect(rows.length).toBeGreaterThan(12);
	// Fifty on a machine that does nothing else; this one may be shared.
	expect(took).toBeLessThan(500);
});
