/** A group's evening: one laser, none while any kit exposes, all aligned before the first frame where that costs nothing. */
import { describe, expect, test } from "vitest";
import { createEvaluator, type Evaluation } from "../../shared/evaluate/evaluate.ts";
import { type GroupEvening, type GroupKit, inGroup, lookoutOf } from "../../shared/evaluate/group.ts";
import { nightsOf } from "../../shared/evaluate/nights.ts";
import { check } from "../../shared/findings/check.ts";
import { exampleText } from "../../shared/findings/example-plan.ts";
import { cautionsFor } from "../../shared/outputs/cautions.ts";
import { eveningRows } from "../../shared/outputs/evening.ts";
import { PlanReader, readPlan } from "../../shared/plan/plan.ts";
import { PlanJoiner } from "../../shared/plan/reuse.ts";
import { both, type Interval, overlaps } from "../../shared/sky/intervals.ts";
import { told } from "../../shared/text/sentence.ts";

const OF_KITS = { lens: null, tracker: null, method: null, targets: null } as const;
const LASER = 'kind: square-laser\nguide-star: eta Virginis\nat: "20:01"\nlocal-rules-checked: true';
const LANDMARK = "kind: landmark-bearing\nlandmark: water tower";
const CORE = "- name: core\n  aim: galactic-centre\n  exposure: 90 s\n  frames: 12\n  gap: 5 s";

const kit = (methods: readonly string[], targets = CORE): string =>
	exampleText({ site: null, night: null, method: methods, targets });

/** `cleared`: what one entry says for all of a laser at the group's site. */
const join = (kits: Readonly<Record<string, string>>, cleared = true) => {
	const says = cleared ? ", local-rules-checked: true" : "";
	const members = Object.keys(kits).map(
		(name, i) => `- { name: ${name}, from: ${name}.lode.yaml${i === 0 ? says : ""} }`,
	);
	const text = exampleText({ ...OF_KITS, plan: "title: At the fold\nkind: group", group: members.join("\n") });
	return new PlanJoiner().join(readPlan(text), "group.lode.yaml", (path) => {
		const found = kits[path.replace(".lode.yaml", "")];
		return found === undefined ? { missing: "not-found" } : { plan: readPlan(found) };
	});
};
const evaluated = (kits: Readonly<Record<string, string>>, cleared = true): Evaluation & { group: GroupEvening } => {
	const evaluation = createEvaluator()(join(kits, cleared));
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
		expect(group.problems).toMatchObject([{ type: "no-alignment", why: "laser", kit: { member: { name: "Tom" } } }]);
		expect(evaluation).toBeDefined();
		expect(check(evaluated({ Nia: kit([LASER]), Tom: kit([LASER]) }))).toMatchObject([
			{
				code: "group/laser-shared",
				severity: "error",
				message: expect.stringContaining("the laser is in use for Nia whenever"),
			},
		]);
	});

	test("the star that is named for whoever cannot is one with which all are aligned", () => {
		// Of two, one is aligned and the other holds the laser: nobody looks out.
		expect(check(evaluated({ Nia: kit([LASER]), Tom: kit([LASER]) }))[0]?.message).not.toContain("laser is free");
		const [found] = check(evaluated({ Nia: kit([LASER]), Tom: kit([LASER]), Ada: kit([LANDMARK]) }));
		const [, star, at] = / With (.+) at (\d\d:\d\d) the laser is free for it\.$/.exec(found?.message ?? "") ?? [];
		expect(star).toBeTruthy();
		const other = LASER.replace(/guide-star: .*/, `guide-star: ${star}`).replace(/^at: .*$/m, `at: "${at}"`);
		expect(other).not.toBe(LASER);
		const both = evaluated({ Nia: kit([LASER]), Tom: kit([other]), Ada: kit([LANDMARK]) });
		expect(both.group.lasers.map(({ kit: one }) => one.member.name).sort()).toEqual(["Nia", "Tom"]);
		expect(both.group.problems).toEqual([]);
		expect(check(both).flatMap(({ code, message }) => (code === "group/laser-shared" ? [message] : []))).toEqual([]);
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

	test("a test frame before frames with a time exposes too, and so does the ground", () => {
		// The laser's middle is at 20:01, and it takes twice its usual ten minutes: 19:51 until 20:11.
		const test = CORE.replace("  exposure", '  from: "20:14"\n  exposure');
		const ground = `${CORE}\n  foreground: { at: "20:00", exposure: 60 s }`;
		for (const targets of [test, ground]) {
			const group = evaluated({ Nia: kit([LASER, LANDMARK]), Tom: kit([LANDMARK], targets) });
			expect(group.group.lasers, targets).toEqual([]);
			expect(stepsOf(group, "Nia", "align")).toMatchObject([{ of: 1 }]);
		}
		const later = CORE.replace("  exposure", '  from: "20:17"\n  exposure');
		expect(evaluated({ Nia: kit([LASER, LANDMARK]), Tom: kit([LANDMARK], later) }).group.lasers).toHaveLength(1);
	});

	test("why somebody is not aligned", () => {
		const fixed = CORE.replace("  exposure", '  from: "19:50"\n  exposure');
		// Up already, while the core is below the skyline.
		const early = CORE.replace("galactic-centre", "Spica").replace("  exposure", '  from: "18:40"\n  exposure');
		const told = (tom: string, nia = kit([LASER])): readonly string[] =>
			check(evaluated({ Nia: nia, Tom: tom }))
				.filter(({ code }) => code === "group/laser-shared")
				.map(({ message }) => message);
		expect(told(kit(["kind: square-laser\nlocal-rules-checked: true"]))).toEqual([
			expect.stringMatching(/^Tom .* `square-laser` in this kit's plan needs `guide-star`/),
		]);
		expect(told(kit(["kind: landmark-bearing\nlandmark: nowhere"]))).toEqual([
			expect.stringMatching(/^Tom .* no method in this kit's plan works here/),
		]);
		expect(told(kit([]))).toEqual([expect.stringMatching(/^Tom .* no method in this kit's plan works here/)]);
		expect(told(kit([LASER], early))).toEqual([expect.stringMatching(/^Tom .* can be done here before those frames/)]);
		expect(told(kit([LANDMARK], fixed))).toEqual([
			expect.stringMatching(/^Nia .* others take frames whenever the laser could be used/),
		]);
	});

	test("who holds it aims when it is off again", () => {
		const last = LASER.replace("eta Virginis", "zeta Virginis").replace("20:01", "21:17");
		const group = evaluated({ Nia: kit([LANDMARK]), Tom: kit([last]), Ada: kit([LANDMARK]) });
		const [use] = group.group.lasers;
		expect(use).toBeDefined();
		for (const step of stepsOf(group, "Nia", "re-aim")) expect(step.from).toBeGreaterThanOrEqual(use?.until ?? 0);
		expect(check(group).filter(({ code }) => code === "group/laser-shared")).toEqual([]);
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

describe("lights are out while frames are taken", () => {
	const late = LASER.replace("eta Virginis", "zeta Virginis").replace("20:01", "21:17");
	// Waiting would cost Tom frames: they are on when the laser is.
	const long = CORE.replace("12", "60").replace("  exposure", '  until: "21:25"\n  exposure');
	const paused = evaluated({ Nia: kit([late]), Tom: kit([LANDMARK], long), Ada: kit([LANDMARK]) });
	const [use] = paused.group.lasers;
	const [sky] = stepsOf(paused, "Tom", "sky");

	test("and the laser is off: where frames pause for it, they are not out", () => {
		expect(paused.group.problems).toMatchObject([{ type: "pause", kit: { member: { name: "Tom" } } }]);
		expect(paused.group.lightsOut.some((one) => one.until === use?.from)).toBe(true);
		expect(paused.group.lightsOut.filter((one) => overlaps(one, use as Interval))).toEqual([]);
	});

	test("the pause and what it costs are told with the frames, on the sheet and on the card", () => {
		const tom = inGroup(paused.group.kits[1] as GroupKit, paused.group) as Evaluation;
		const until = Math.min(sky?.until ?? 0, use?.until ?? 0);
		// 90 s and 5 s each: one that the laser comes on in is lost too.
		const before = Math.floor(((use?.from ?? 0) - (sky?.from ?? 0)) / 95_000);
		const lost = Math.ceil((until - (sky?.from ?? 0)) / 95_000) - before;
		expect(lost).toBeGreaterThan(1);
		for (const [of, say] of [
			[paused, "Tom: core"],
			[tom, "core"],
		] as const) {
			const row = eveningRows(of).find((one) => one.kind === "sky" && one.say === say);
			expect(row?.about).toMatch(/; pause 21:07–21:\d\d while Nia is aligned with the laser: \d+ frames fewer$/);
			expect(row?.about).toContain(`: ${lost} frames fewer`);
		}
		expect(eveningRows(paused).find(({ say }) => /Ada.*: core$/.test(say))?.about).not.toMatch(/pause/);
	});

	test("of the ground too, where no lamp of its own lights it", () => {
		const withGround = (light: string) =>
			evaluated({
				Nia: kit([LANDMARK]),
				Tom: kit([LANDMARK], `${CORE}\n  foreground: { exposure: 240 s, light: ${light} }`),
			});
		const dark = withGround("dark");
		const [ground] = stepsOf(dark, "Tom", "foreground");
		expect(ground).toBeDefined();
		expect(
			dark.group.lightsOut.some(({ from, until }) => from <= (ground?.from ?? 0) && until >= (ground?.until ?? 0)),
		).toBe(true);
		expect(
			eveningRows(dark).some(({ say, until }) => /^Lights out: .*Tom/.test(say) && until >= (ground?.until ?? 0)),
		).toBe(true);
		const lamp = withGround("lamp");
		const [lit] = stepsOf(lamp, "Tom", "foreground");
		expect(lit).toBeDefined();
		expect(lamp.group.lightsOut.filter((one) => overlaps(one, lit as Interval))).toEqual([]);
	});

	test("what is aligned before the first frames of the sky is so whatever is taken of the ground before", () => {
		const early = `${CORE}\n  foreground: { at: "18:40", exposure: 60 s, light: dusk }`;
		const latest = (targets: string): unknown => {
			const { group } = evaluated({ Nia: kit([LANDMARK]), Tom: kit([LANDMARK], targets) });
			return inGroup(group.kits[0] as GroupKit, group)?.evening?.steps.find(({ kind }) => kind === "align")?.latest;
		};
		expect(latest(CORE)).toBeDefined();
		expect(latest(early)).toBe(latest(CORE));
	});
});

test("who takes no tracked frame is neither waited for nor aligned, and does the rest with all", () => {
	const last = LASER.replace("eta Virginis", "zeta Virginis").replace("20:01", "21:17");
	// Not to be taken after an alignment at that time.
	const none = CORE.replace("  exposure", '  until: "21:20"\n  exposure');
	const group = evaluated({ Nia: kit([LANDMARK]), Tom: kit([last], none), Ada: kit([LANDMARK]) });
	const without = evaluated({ Nia: kit([LANDMARK]), Ada: kit([LANDMARK]) });
	expect(stepsOf(group, "Tom", "sky")).toEqual([]);
	expect(stepsOf(group, "Tom", "align")).toEqual([]);
	expect(group.group.lasers).toEqual([]);
	expect(group.group.kits[1]?.evening?.leftOut).toMatchObject([{ kind: "sky", frames: 0 }]);
	for (const name of ["Nia", "Ada"]) expect(stepsOf(group, name, "sky")).toEqual(stepsOf(without, name, "sky"));
	const said = eveningRows(group).map(({ say }) => say);
	expect(said).toContain("All: Set up");
	expect(said).toContain("All: Pack up");
	expect(said.filter((one) => /wait|Hold|Look out/.test(one))).toEqual([]);
});

describe("who looks out", () => {
	test("has nothing else to do then, wherever in the list", () => {
		const busy = kit([LANDMARK]);
		const sighting = kit([LASER.replace("local-rules-checked: true", "pointer: sight")]);
		const { group } = evaluated({ Nia: kit([LASER]), Tom: sighting, Ada: busy });
		const [use] = group.lasers;
		expect(use && lookoutOf(group, use)?.member.name).toBe("Ada");
	});

	test("is found missing where all others have work of their own", () => {
		const sighting = kit([LASER.replace("local-rules-checked: true", "pointer: sight")]);
		const found = check(evaluated({ Nia: kit([LASER]), Tom: sighting }));
		expect(found).toContainEqual(
			expect.objectContaining({
				code: "group/laser-shared",
				severity: "error",
				message: expect.stringMatching(/^Nobody is free to watch for .* while Nia is aligned/),
			}),
		);
		const holds = check(evaluated({ Tom: sighting, Nia: kit([LASER]), Ada: kit([LANDMARK]) }));
		expect(holds.map(({ message }) => message)).toContainEqual(expect.stringMatching(/^Tom holds the laser while Nia/));
	});
});

describe("what a member's evening has is told of the group", () => {
	const HIDDEN = `${CORE}\n  from: "18:00"`;
	const told = (kits: Readonly<Record<string, string>>, cleared = true) =>
		check(evaluated(kits, cleared)).filter(({ code }) => code === "group/member-findings");

	test("how many, up to three of them, the worst first, and at whose name", () => {
		const kits = { Nia: kit([LANDMARK]), Tom: kit([LANDMARK], HIDDEN) };
		const found = told(kits);
		expect(found.map(({ message }) => message)).toEqual([
			expect.stringMatching(/^Tom has 1 error and \d warnings? on this evening/),
			expect.stringMatching(/^Tom, `[a-z/-]+`: /),
		]);
		expect(found[0]).toMatchObject({
			severity: "error",
			message: expect.stringMatching(/^Tom has \d+ errors?.*`target\/hidden`: /),
		});
		expect(join(kits).text.slice(found[0]?.from, found[0]?.to)).toBe("Tom");
	});

	test("nothing where all is well", () => {
		expect(told({ Nia: kit([LANDMARK]), Tom: kit([LANDMARK]) })).toEqual([]);
	});

	test("a laser that is not cleared for the group, whatever its kit's plan says, beside whatever is worse", () => {
		expect(told({ Nia: kit([LASER]), Tom: kit([LANDMARK]) }, false)).toMatchObject([
			{ severity: "warning", message: expect.stringMatching(/^Nia has .*`method\/local-rules`: /) },
		]);
		const messages = told({ Nia: kit([LASER], HIDDEN), Tom: kit([LANDMARK]) }, false).map(({ message }) => message);
		expect(messages).toHaveLength(3);
		expect(messages.some((one) => /^Nia, `method\/local-rules`: /.test(one))).toBe(true);
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

test("who comes late is aligned when set up and focused at the group's pace, as long as that takes, and with the numbers of then", () => {
	const text = exampleText({
		...OF_KITS,
		site: "name: A\nlatitude: 47.1 N\nlongitude: 8.7 E\nelevation: 780 m\ntimezone: Europe/Zurich",
		night: 'date: 2027-08-06\narrive: "21:30"\nleave: "03:30"',
		plan: "title: A\nkind: group",
		group: "- { name: Nia, from: Nia.lode.yaml }",
	});
	const own = readPlan(exampleText({ site: null, night: null, method: "kind: pole-sighting", targets: CORE }));
	const evaluation = createEvaluator()(new PlanJoiner().join(readPlan(text), "g.lode.yaml", () => ({ plan: own })));
	const group = { group: evaluation.group as GroupEvening };
	const [focus] = stepsOf(group, "Nia", "focus");
	const [align] = stepsOf(group, "Nia", "align");
	expect((focus?.until ?? 0) - (evaluation.night?.onSite.from ?? 0)).toBe(40 * 60_000);
	expect(align?.from).toBeGreaterThanOrEqual(focus?.until ?? Number.POSITIVE_INFINITY);
	expect((align?.until ?? 0) - (align?.from ?? 0)).toBe(10 * 60_000);
	const at = inGroup(group.group.kits[0] as GroupEvening["kits"][number], group.group)?.methods[0]?.value?.setUp.at;
	expect(at).toBe(((align?.from ?? 0) + (align?.until ?? 0)) / 2);
	expect(check(evaluation).map(({ code }) => code)).not.toContain("group/member-findings");
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
		expect(laser?.about).toMatch(/^tilt 32\.4°; laser to \S+ \(000\.0°T\); beam .* eta Virginis at 20:\d\d/);
		expect(rows.find(({ say }) => say.endsWith("bearing from a landmark"))?.about).toMatch(/^tilt 32\.4°; pan 46\.1°/);
		expect(laser?.about).toContain("Nia holds the laser, Tom watches for aircraft and people, no camera exposes");
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

describe("what a leader reads of it", () => {
	const late = 'kind: square-laser\nguide-star: zeta Virginis\nat: "21:17"';
	const kits = { Nia: kit([LASER]), Tom: kit([LANDMARK]), Ada: kit([late]) };

	test("for whom frames wait, on the sheet and on each one's own", () => {
		const group = evaluated(kits);
		const rows = eveningRows(group);
		const wait = rows.find(({ kind }) => kind === "wait");
		expect(wait?.say).toBe("Frames wait until Ada is aligned: Nia and Tom");
		expect(wait?.until).toBe(stepsOf(group, "Ada", "align")[0]?.until);
		for (const name of ["Nia", "Tom"])
			for (const step of stepsOf(group, name, "sky")) expect(step.from).toBeGreaterThan(wait?.until ?? 0);
		const [nia, tom] = group.group.kits.map((one) => inGroup(one, group.group));
		expect(eveningRows(tom as Evaluation).map(({ say }) => say)).toContain("Wait: frames begin when Ada is aligned");
		expect(eveningRows(nia as Evaluation).map(({ say }) => say)).toContain("Wait: frames begin when Ada is aligned");
		const together = eveningRows(evaluated({ Nia: kit([LANDMARK]), Tom: kit([LANDMARK]) }));
		expect(together.filter(({ kind }) => kind === "wait")).toEqual([]);
	});

	test("whose laser is not cleared, above all steps and before the numbers of each", () => {
		const group = evaluated(kits, false);
		const [first] = cautionsFor(group);
		expect(first).toMatch(/^Not cleared for Nia and Ada: nothing in the group says/);
		const laser = eveningRows(group).filter(({ kind, about }) => kind === "align" && /holds the laser/.test(about));
		expect(laser.map(({ say, about }) => [say.slice(0, 3), /^Not cleared/.test(about)])).toEqual([
			["Nia", true],
			["Ada", true],
		]);
		expect(cautionsFor(evaluated(kits)).filter((one) => /^Not cleared/.test(one))).toEqual([]);
	});

	test("one name twice", () => {
		const text = exampleText({
			...OF_KITS,
			plan: "title: A\nkind: group",
			group: "- { name: Nia, from: Nia.lode.yaml }\n- { name: Nia, from: Tom.lode.yaml }",
		});
		const plan = new PlanJoiner().join(readPlan(text), "g.lode.yaml", () => ({ plan: readPlan(kit([LANDMARK])) }));
		expect(check(createEvaluator()(plan)).map(({ code }) => code)).toEqual(["structure/name-repeated"]);
	});
});

test("an edit that changes nothing of a kit leaves its evaluation and the evening of all as they were", () => {
	const reader = new PlanReader();
	const joiner = new PlanJoiner();
	const evaluate = createEvaluator();
	const kits = new Map(["Nia", "Tom"].map((name) => [`${name}.lode.yaml`, readPlan(kit([LANDMARK]))]));
	const next = (change: (text: string) => string) => {
		const group = "- { name: Nia, from: Nia.lode.yaml }\n- { name: Tom, from: Tom.lode.yaml }";
		const text = change(exampleText({ ...OF_KITS, plan: "title: A\nkind: group", group }));
		return evaluate(
			joiner.join(reader.read(text), "group.lode.yaml", (path) => {
				const plan = kits.get(path);
				return plan ? { plan } : { missing: "not-found" };
			}),
		).group;
	};
	const first = next((text) => text);
	expect(next((text) => `${text}---\nnote: bring tape\n`)).toBe(first);
	expect(next((text) => text.replace("title: A\n", "title: Two on the hill\n  summary: Bring tape.\n"))).toBe(first);
	const renamed = next((text) => text.replace("name: Tom", "name: Tim"));
	expect(renamed).not.toBe(first);
	expect(renamed?.kits.map(({ evaluation }) => evaluation)).toEqual(first?.kits.map(({ evaluation }) => evaluation));
	kits.set("Tom.lode.yaml", readPlan(kit([LANDMARK], CORE.replace("90 s", "60 s"))));
	const edited = next((text) => text);
	expect(edited?.kits[1]?.evaluation).not.toBe(first?.kits[1]?.evaluation);
	expect(edited?.kits[0]?.evaluation).toBe(renamed?.kits[0]?.evaluation);
	const moved = next((text) => text.replace('"17:00"', '"17:30"'));
	expect(moved?.kits[0]?.evening?.steps[0]?.from).not.toBe(edited?.kits[0]?.evening?.steps[0]?.from);
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

describe("the group's times are the group's", () => {
	// The example's group arrives at 17:00 and leaves at 02:00; packing up takes twice its usual ten minutes.
	const at = (time: string, frames = 12): string =>
		CORE.replace("12", `${frames}`).replace("  exposure", `  from: "${time}"\n  exposure`);
	const plain = () => evaluated({ Nia: kit([LANDMARK]), Tom: kit([LANDMARK]) });
	const timesOf = (evaluation: ReturnType<typeof evaluated>) => {
		const { group, night } = evaluation;
		const steps = group.kits.flatMap(({ evening }) => evening?.steps ?? []);
		return {
			first: Math.min(...steps.map(({ from }) => from)) - (night?.onSite.from ?? 0),
			last: Math.max(...steps.map(({ until }) => until)) - (night?.onSite.until ?? 0),
			counts: eveningRows(evaluation)
				.filter(({ say }) => /Head count/.test(say))
				.map(({ from }) => from),
		};
	};
	const withTom = (targets: string, methods: readonly string[] = [LANDMARK]) =>
		evaluated({ Nia: kit([LANDMARK]), Tom: kit(methods, targets) });

	test.each([
		["after the group leaves", at("02:30")],
		["before it arrives", at("16:30")],
		["beyond its leaving", at("23:30", 200)],
		["while packing up", at("01:30", 18)],
	])("frames %s move neither its end nor its beginning, and are told of that member", (_, targets) => {
		const group = withTom(targets);
		expect(timesOf(group)).toEqual({ first: 0, last: 0, counts: ["17:00", "02:00 (+1)"] });
		const { onSite } = group.night as NonNullable<Evaluation["night"]>;
		for (const { from, until } of group.group.lightsOut) {
			expect(from).toBeGreaterThan(onSite.from);
			expect(until).toBeLessThanOrEqual(onSite.until - 20 * 60_000);
		}
		expect(check(group).map(({ message }) => message)).toContainEqual(expect.stringMatching(/^Tom has \d /));
	});

	test("of a series that ends too late the frames are left that fit, and how many is told", () => {
		const [sky] = stepsOf(withTom(at("23:30", 200)), "Tom", "sky");
		// 90 s and 5 s each, until 01:40.
		expect(sky?.frames).toBe(Math.floor((130 * 60 + 5) / 95));
		expect((sky?.until ?? 0) - (sky?.from ?? 0)).toBe((sky?.frames ?? 0) * 95_000 - 5000);
	});

	test("frames of what is hidden then keep no lights out, and keep nobody from the laser", () => {
		const hidden = at("18:00");
		expect(withTom(hidden).group.lightsOut).toEqual(
			evaluated({ Nia: kit([LANDMARK]), Tom: kit([LANDMARK], "[]") }).group.lightsOut,
		);
		expect(check(withTom(hidden)).map(({ message }) => message)).toContainEqual(
			expect.stringMatching(/^Tom has 1 error.*`target\/hidden`: /),
		);
		const seen = withTom(CORE.replace("galactic-centre", "Spica").replace("  exposure", '  from: "18:40"\n  exposure'));
		expect(seen.group.lightsOut.length).toBe(2);
	});

	test("an alignment after the group has left is none, and neither is the ground", () => {
		const late = withTom(CORE, ['kind: compass\nat: "02:40"', LANDMARK]);
		expect(stepsOf(late, "Tom", "align")).toMatchObject([{ of: 1 }]);
		expect(timesOf(late)).toEqual({ first: 0, last: 0, counts: ["17:00", "02:00 (+1)"] });
		const ground = withTom(`${CORE}\n  foreground: { at: "03:00", exposure: 60 s, light: dark }`);
		expect(timesOf(ground).last).toBe(0);
		expect(ground.group.kits[1]?.evening?.leftOut).toMatchObject([{ kind: "foreground" }]);
	});

	test("nothing is changed where all can be taken", () => {
		expect(plain().group.kits.flatMap(({ evening }) => evening?.leftOut)).toEqual([]);
	});
});

describe("how late each may begin follows from one rule", () => {
	const chained = (evening: Evaluation["evening"]): number => {
		let pairs = 0;
		const steps = (evening?.steps ?? []).filter(
			({ kind, beside }) => !beside && !["wait", "check", "darks"].includes(kind),
		);
		for (const [i, step] of steps.entries()) {
			const next = steps[i + 1];
			if (step.latest === undefined || !next) continue;
			const due = next.fixed ? next.from : next.latest;
			if (due === undefined) continue;
			expect(step.latest + (step.until - step.from), `${step.kind} before ${next.kind}`).toBeLessThanOrEqual(due);
			expect(step.latest).toBeGreaterThanOrEqual(step.from);
			pairs++;
		}
		return pairs;
	};

	test("of one and of a group: who begins as late as told with one step is in time for the next", () => {
		const late = CORE.replace("  exposure", '  from: "21:30"\n  exposure');
		for (const kits of [
			{ Nia: kit([LANDMARK]), Tom: kit(["kind: compass"]), Ada: kit([LANDMARK], late) },
			{ Nia: kit([LASER]), Tom: kit([LANDMARK]), Ada: kit(["kind: compass"], late) },
		]) {
			const { group } = evaluated(kits);
			for (const one of group.kits) {
				const own = inGroup(one, group)?.evening;
				expect(chained(own)).toBeGreaterThan(1);
				expect(chained(one.evaluation?.evening)).toBeGreaterThan(1);
				const { latest = 0 } = own?.steps.find(({ kind }) => kind === "set-up") ?? {};
				const focused = own?.steps.find(({ kind }) => kind === "focus");
				// Set up and focused as late as told, all are still aligned before the group's first frame.
				expect(latest + 40 * 60_000).toBeLessThan(group.lightsOut[0]?.from ?? 0);
				expect(focused).toBeDefined();
			}
		}
	});
});

describe("one site and night have one declination", () => {
	const OWN = 'kind: compass\ndeclination: "12.3°"';
	test("a compass reading that a kit's plan corrects otherwise is the group's, and the sheet says so", () => {
		const group = evaluated({ Nia: kit(["kind: compass"]), Tom: kit([OWN]) });
		const [nia, tom] = group.group.kits.map(({ evaluation }) => evaluation?.methods[0]?.value?.setUp.compassBearing);
		expect(tom).toBe(nia);
		const rows = eveningRows(group).filter(({ kind }) => kind === "align");
		expect(new Set(rows.map(({ about }) => /\d+°M/.exec(about)?.[0])).size).toBe(1);
		expect(rows.find(({ say }) => say.startsWith("Tom"))?.about).toMatch(
			/; the 12\.3° east in the plan of Tom is not used\.$/,
		);
		expect(rows.find(({ say }) => say.startsWith("Nia"))?.about).not.toMatch(/not used/);
		const found = check(group).filter(({ code }) => code === "magnetic/declination-differs");
		expect(found).toMatchObject([
			{ severity: "warning", message: expect.stringMatching(/^The plan of Tom .* 12\.3° east/) },
		]);
	});

	test("one that a change of the kit's plan corrects or takes away is told anew", () => {
		const [joiner, evaluate] = [new PlanJoiner(), createEvaluator()];
		const text = exampleText({
			...OF_KITS,
			plan: "title: A\nkind: group",
			group: "- { name: Tom, from: t.lode.yaml }",
		});
		const plan = readPlan(text);
		const told = (method: string) =>
			check(evaluate(joiner.join(plan, "g.lode.yaml", () => ({ plan: readPlan(kit([method])) })))).filter(
				({ code }) => code === "magnetic/declination-differs",
			);
		expect(told(OWN)).toHaveLength(1);
		expect(told(OWN.replace("12.3", "20"))[0]?.message).toMatch(/20\.0° east/);
		expect(told('kind: compass\ndeclination: "-14.7°"')).toEqual([]);
		expect(told("kind: compass")).toEqual([]);
	});
});

describe("why another method than the planned one aligns", () => {
	const aboutOf = (kits: Readonly<Record<string, string>>, name: string) =>
		eveningRows(evaluated(kits)).find(({ kind, say }) => kind === "align" && say.startsWith(name))?.about ?? "";

	test("somebody else has the laser then, or takes frames then", () => {
		expect(aboutOf({ Nia: kit([LASER]), Tom: kit([LASER, LANDMARK]) }, "Tom")).toMatch(
			/The right-angle laser was planned, but Nia has the laser then\. Only one beam at a time: any other laser stays off\.$/,
		);
		const fixed = CORE.replace("galactic-centre", "Spica").replace("  exposure", '  from: "19:50"\n  exposure');
		expect(aboutOf({ Nia: kit([LASER, LANDMARK]), Tom: kit([LANDMARK], fixed) }, "Nia")).toMatch(
			/The right-angle laser was planned, but Tom takes frames then, and no laser may be on\.$/,
		);
	});

	test("the group is not ready for it: everything takes twice as long", () => {
		// Alone one is set up and focused at 17:20, with the group at 17:40.
		const early = 'kind: compass\nat: "17:30"';
		expect(aboutOf({ Nia: kit([early, LANDMARK]), Tom: kit([LANDMARK]) }, "Nia")).toMatch(
			/The compass was planned, but the group is not there or not ready for it then\.$/,
		);
	});

	test("nothing where it is as planned", () => {
		for (const name of ["Nia", "Tom"])
			expect(aboutOf({ Nia: kit([LASER]), Tom: kit([LANDMARK, LASER]) }, name)).not.toMatch(/was planned/);
	});
});

describe("nights of a group", () => {
	const date = { year: 2027, month: 6, day: 5 };
	const nightOf = (kits: Readonly<Record<string, string>>) => {
		const outcome = nightsOf(join(kits), date, date);
		if (!outcome.ok) throw new Error(told(outcome.why));
		const [night] = outcome.nights;
		return night;
	};

	test("count the time that all of its kits can use, once each is aligned", () => {
		const until = CORE.replace("galactic-centre", "Spica");
		const [core, spica] = [nightOf({ Nia: kit([LANDMARK]) }), nightOf({ Tom: kit([LANDMARK], until) })];
		const group = nightOf({ Nia: kit([LANDMARK]), Tom: kit([LANDMARK], until) });
		expect(group?.windows).toEqual(both(core?.windows ?? [], spica?.windows ?? []));
		expect(group?.minutes).toBeGreaterThan(0);
		expect(group?.minutes).toBeLessThan(Math.max(core?.minutes ?? 0, spica?.minutes ?? 0));
		expect(group).toMatchObject({ aligns: true, method: undefined, targets: ["core"] });
	});

	test("are none where a kit has no method that works", () => {
		const broken = nightOf({ Nia: kit([LANDMARK]), Tom: kit(["kind: landmark-bearing\nlandmark: nowhere"]) });
		expect(broken).toMatchObject({ aligns: false, minutes: 0 });
	});
});
