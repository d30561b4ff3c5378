/** The card of each of a group: the numbers are those of the kit, the times and what all share those of the group. */
import { describe, expect, test } from "vitest";
import { createEvaluator } from "../../shared/evaluate/evaluate.ts";
import { check } from "../../shared/findings/check.ts";
import { exampleText } from "../../shared/findings/example-plan.ts";
import memberFindings from "../../shared/findings/group/member-findings.ts";
import { calendar } from "../../shared/outputs/calendar/calendar.ts";
import { card } from "../../shared/outputs/card/card.tsx";
import { eveningRows } from "../../shared/outputs/evening.ts";
import { planRecord } from "../../shared/outputs/json/plan.ts";
import { memberNames, memberPlan } from "../../shared/outputs/member.ts";
import type { CheckedPlan, Environment } from "../../shared/outputs/output.ts";
import { PlanReader, readPlan } from "../../shared/plan/plan.ts";
import { PlanJoiner } from "../../shared/plan/reuse.ts";
import { PLAIN } from "../plain-environment.ts";

const ENVIRONMENT: Environment = { ...PLAIN, version: "1.2.3" };
const OF_KITS = { lens: null, tracker: null, method: null, targets: null } as const;
const LASER = 'kind: square-laser\nguide-star: eta Virginis\nat: "20:01"\nlocal-rules-checked: true';
const LANDMARK = "kind: landmark-bearing\nlandmark: water tower";
const core = (keys = ""): string =>
	`- name: core\n  aim: galactic-centre\n  exposure: 90 s\n  frames: 12\n  gap: 5 s${keys}`;
const kit = (methods: readonly string[], targets = core()): string =>
	exampleText({ site: null, night: null, method: methods, targets });

/** `cleared`: what one entry says for all of a laser at the group's site. */
function groupOf(kits: Readonly<Record<string, string>>, cleared = true): CheckedPlan {
	const says = cleared ? ", local-rules-checked: true" : "";
	const members = Object.keys(kits).map(
		(name, i) => `- { name: ${JSON.stringify(name)}, from: ${i}.lode.yaml${i === 0 ? says : ""} }`,
	);
	const text = exampleText({ ...OF_KITS, plan: "title: At the fold\nkind: group", group: members.join("\n") });
	const plan = new PlanJoiner().join(readPlan(text), "group.lode.yaml", (path) => {
		const found = Object.values(kits)[Number(path.replace(".lode.yaml", ""))];
		return found === undefined ? { missing: "not-found" } : { plan: readPlan(found) };
	});
	const evaluation = createEvaluator()(plan);
	return { path: "group.lode.yaml", text, evaluation, findings: check(evaluation) };
}

const group = groupOf({ Nia: kit([LANDMARK]), Tom: kit([LASER]), Ada: kit([LANDMARK], core('\n  from: "19:50"')) });
const rowsOf = (place: number) => {
	const member = memberPlan(group, place);
	if (!member) throw new Error("no member");
	return eveningRows(member.evaluation);
};
const said = (place: number): readonly string[] => rowsOf(place).map(({ say }) => say);

describe("the evening of one", () => {
	test("its steps are at the group's times", () => {
		expect(memberNames(group)).toEqual(["Nia", "Tom", "Ada"]);
		for (const [place, own] of (group.evaluation.group?.kits ?? []).entries()) {
			const steps = own.evening?.steps ?? [];
			expect(steps.length).toBeGreaterThan(4);
			const rows = rowsOf(place);
			for (const { kind, from, until } of steps)
				expect(rows.some((row) => row.kind === kind && row.at === from && row.until === until)).toBe(true);
		}
	});

	test("what holds for all is on each: heads are counted, lights are out", () => {
		for (const place of [0, 1, 2]) {
			expect(said(place).filter((text) => /Head count/.test(text)).length).toBe(2);
			expect(said(place).some((text) => text.startsWith("Lights out"))).toBe(true);
		}
	});

	test("who leads holds the laser for another, somebody else looks out, and whose frames pause is told", () => {
		const { lasers, leader } = group.evaluation.group ?? {};
		expect(leader?.member.name).toBe("Nia");
		const [use] = lasers ?? [];
		// Ada's frames keep their time, and then there is no laser.
		expect(use).toBe(undefined);
		const free = groupOf({ Nia: kit([LANDMARK]), Tom: kit([LASER]), Ada: kit([LANDMARK]) });
		const of = (place: number): readonly string[] =>
			eveningRows(memberPlan(free, place)?.evaluation ?? group.evaluation).map(({ say, about }) => `${say}; ${about}`);
		expect(free.evaluation.group?.lasers.length).toBe(1);
		expect(of(0).filter((text) => text.startsWith("Hold the laser while Tom is aligned")).length).toBe(1);
		expect(of(2).filter((text) => text.startsWith("Watch for aircraft and people while Tom")).length).toBe(1);
		expect(of(1).some((text) => text.includes("Nia holds the laser, Ada watches"))).toBe(true);
		for (const place of [0, 2]) expect(of(place).some((text) => /Tom: |Ada: |Nia: /.test(text))).toBe(false);
	});
});

describe("what the others count on", () => {
	const late = 'kind: square-laser\nguide-star: zeta Virginis\nat: "21:17"\nlocal-rules-checked: true';
	// Ada is done at dusk, and looks out later.
	const early = core('\n  until: "21:05"').replace("frames: 12", "frames: 24");
	const free = groupOf({ Nia: kit([LANDMARK]), Tom: kit([late]), Ada: kit([LANDMARK], early) });
	const of = (place: number) => eveningRows(memberPlan(free, place)?.evaluation ?? group.evaluation);

	test("is no wait, and nobody packs up before it", () => {
		const rows = of(2);
		const duty = rows.find(({ say }) => say.startsWith("Watch for aircraft and people while Tom"));
		const waits = rows.filter(({ kind }) => kind === "wait");
		expect(duty).toBeDefined();
		const [at = 0, until = 0] = [duty?.at, duty?.until];
		expect(waits.filter((row) => row.at < until && at < row.until)).toEqual([]);
		const before = waits.find((row) => row.until === at);
		expect(before?.say).toBe("Wait");
		expect(before?.times).toMatch(/–21:07$/);
		expect(waits.find((row) => row.at === until)?.say).toBe("Wait, or pack up: nothing is left to do");
	});

	test("whoever is aligned is told who has the laser in hand, the leader is not", () => {
		const handed = (place: number) => of(place).filter(({ about }) => /Nia does that at your word$/.test(about));
		expect(handed(1).map(({ kind }) => kind)).toEqual(["align"]);
		const own = groupOf({ Tom: kit([late]), Nia: kit([LANDMARK]) });
		const rows = eveningRows(memberPlan(own, 0)?.evaluation ?? group.evaluation);
		expect(own.evaluation.group?.lasers.length).toBe(1);
		expect(rows.some(({ about }) => /at your word/.test(about))).toBe(false);
	});
});

describe("its card", () => {
	const cardOf = (of: CheckedPlan, place: number): string => {
		const made = card.of.plan?.make(memberPlan(of, place) as CheckedPlan, ENVIRONMENT, "");
		if (typeof made !== "string") throw new Error("no card");
		return made;
	};

	test("names it, has its method's numbers, and the caution of a laser that another uses", () => {
		const free = groupOf({ Nia: kit([LANDMARK]), Tom: kit([LASER]) });
		const [nia, tom] = [cardOf(free, 0), cardOf(free, 1)];
		expect(nia).toContain("<h1>At the fold: Nia</h1>");
		expect(tom).toContain("<h1>At the fold: Tom</h1>");
		expect(nia).toMatch(/water tower/);
		expect(tom).toMatch(/eta Virginis/);
		expect(nia).not.toMatch(/eta Virginis/);
		for (const text of [nia, tom]) expect(text).toMatch(/Never point it at or near aircraft/);
	});

	test("has on paper who holds the laser for it, whose numbers are elsewhere on it", () => {
		const free = groupOf({ Nia: kit([LANDMARK]), Tom: kit([LASER]), Ada: kit([LANDMARK]) });
		const [, paper = ""] = cardOf(free, 1).split('<div class="paper">');
		expect(paper.replace(/<[^>]+>/g, "")).toMatch(
			/Align: right-angle laser Nia holds the laser, Ada watches for aircraft and people, no camera exposes; where the steps lay/,
		);
	});

	test("has heads counted before anybody walks out", () => {
		const night = 'date: 2027-06-05\narrive: "17:00"\nleave: "02:00"\nprepare: { walk-in: 20 min }';
		const text = exampleText({
			...OF_KITS,
			plan: "title: At the fold\nkind: group",
			night,
			group: "- { name: Nia, from: 0.lode.yaml }",
		});
		const plan = new PlanJoiner().join(readPlan(text), "group.lode.yaml", () => ({ plan: readPlan(kit([LANDMARK])) }));
		const evaluation = createEvaluator()(plan);
		const member = memberPlan({ path: "group.lode.yaml", text, evaluation, findings: [] }, 0);
		const rows = eveningRows((member as CheckedPlan).evaluation);
		expect(rows.at(-1)?.kind).toBe("walk-out");
		expect(rows.at(-2)?.say).toMatch(/^Head count before leaving/);
	});

	test("the sheet of all has each one's numbers on paper too: whoever leads has nothing else at hand", () => {
		const late = 'kind: square-laser\nguide-star: zeta Virginis\nat: "21:17"\nlocal-rules-checked: true';
		const made = card.of.plan?.make(groupOf({ Nia: kit([LANDMARK]), Tom: kit([late]) }), ENVIRONMENT, "");
		const paper =
			String(made)
				.split('<div class="paper">')[1]
				?.replace(/<[^>]+>/g, "") ?? "";
		expect(paper).toMatch(/Nia: Align: bearing from a landmark tilt 32\.4°; pan 46\.1° anticlockwise/);
		expect(paper).toMatch(/Tom: Align: right-angle laser tilt 32\.4°; laser to .*; beam .* zeta Virginis at 21:17/);
		expect(paper).toContain("Nia holds the laser, somebody else watches for aircraft and people");
		expect(paper).toContain("Frames wait until Tom is aligned: Nia");
		expect(paper).toMatch(/: core (?:at .*)?\d+ × \d+ s/);
	});

	test("a laser that is not cleared is told on the card of whoever holds it too, and of nobody once it is", () => {
		expect(cardOf(groupOf({ Nia: kit([LANDMARK]), Tom: kit([LASER]) }, false), 0)).toMatch(/Not cleared/);
		expect(cardOf(groupOf({ Nia: kit([LANDMARK]), Tom: kit([LASER]) }), 0)).not.toMatch(/Not cleared/);
	});

	test("tells what is wrong with the kit and with the group for this one, and nothing of how the plans are written", () => {
		const two = groupOf({ Nia: kit([LASER]), Tom: kit([LASER]) });
		const of = (place: number) => memberPlan(two, place)?.findings.map(({ code }) => code);
		expect(of(1)).toContain("group/laser-shared");
		expect(of(0)).not.toContain("group/laser-shared");
		for (const place of [0, 1]) expect(of(place)?.filter((code) => /^(?:structure|reuse)/.test(code))).toEqual([]);
		expect(cardOf(two, 1)).toContain("the laser is in use for Nia whenever this kit could be aligned");
	});

	test("tells what concerns all or this one beside another, and is not ready where that is an error", () => {
		const sighting = kit([LASER.replace("local-rules-checked: true", "pointer: sight")]);
		const nobody = groupOf({ Nia: kit([LASER]), Tom: sighting });
		for (const place of [0, 1]) {
			expect(cardOf(nobody, place)).toContain("Nobody is free to watch for aircraft and people while Nia");
			expect(cardOf(nobody, place)).toContain("Not ready: ");
			expect(cardOf(nobody, place)).not.toContain("Ready: no problems found");
		}
		const holds = groupOf({ Tom: sighting, Nia: kit([LASER]), Ada: kit([LANDMARK]) });
		expect(cardOf(holds, 0)).toContain("Tom holds the laser while Nia is aligned");
		expect(cardOf(holds, 2)).not.toContain("Tom holds the laser while Nia is aligned (");
	});

	test("tells what is wrong with the group's own plan, and takes nothing for the kit's cell of the same place", () => {
		const members = "- { name: Nia, from: 0.lode.yaml, leads: true }\n- { name: Tom, from: 0.lode.yaml, leads: true }";
		const text = `${exampleText({ ...OF_KITS, plan: "title: A\nkind: group", group: members })}---\nnigth:\n  date: 2027-06-05\n`;
		const plan = new PlanJoiner().join(readPlan(text), "group.lode.yaml", () => ({ plan: readPlan(kit([LANDMARK])) }));
		const evaluation = createEvaluator()(plan);
		const broken = { path: "group.lode.yaml", text, evaluation, findings: check(evaluation) };
		for (const place of [0, 1]) {
			const found = memberPlan(broken, place)?.findings ?? [];
			expect(found.map(({ code }) => code)).toEqual(
				expect.arrayContaining(["group/two-leaders", "structure/unknown-kind"]),
			);
			expect(found.every(({ code, cell }) => cell === undefined || !/^(?:group|structure)/.test(code))).toBe(true);
			expect(cardOf(broken, place)).toContain("Not ready: ");
		}
	});

	test("is under the group's title as it is now, although another title evaluates and checks nothing of it anew", () => {
		const [reader, joiner, evaluate] = [new PlanReader(), new PlanJoiner(), createEvaluator()];
		const own = readPlan(kit([LANDMARK]));
		const called = (title: string): CheckedPlan => {
			const group = "- { name: Nia, from: kit.lode.yaml }";
			const text = exampleText({ ...OF_KITS, plan: `title: ${title}\nkind: group`, group });
			const evaluation = evaluate(joiner.join(reader.read(text), "group.lode.yaml", () => ({ plan: own })));
			return { path: "group.lode.yaml", text, evaluation, findings: check(evaluation) };
		};
		const first = called("At the fold");
		const second = called("At the cairn");
		expect(second.evaluation.group).toBe(first.evaluation.group);
		let checked = 0;
		const counting = (): [] => {
			checked++;
			return [];
		};
		const others = { codes: [], fixed: [], used: new Set<never>(), told: () => [], check: counting };
		expect([...(memberFindings.after?.(second.evaluation, others) ?? [])]).toEqual([]);
		expect(checked).toBe(0);
		expect(cardOf(first, 0)).toContain("<h1>At the fold: Nia</h1>");
		expect(cardOf(second, 0)).toContain("<h1>At the cairn: Nia</h1>");
		const ics = calendar.of.plan?.make(memberPlan(second, 0) as CheckedPlan, ENVIRONMENT, "");
		expect(ics).toMatch(/X-WR-CALNAME:At the cairn/);
		expect(ics).not.toContain("At the fold");
	});

	test("a name is text", () => {
		const html = cardOf(groupOf({ "<img src=x onerror=alert(1)>": kit([LANDMARK]) }), 0);
		expect(html).toContain("&lt;img");
		expect(html).not.toMatch(/<img/);
	});

	test("there is none of somebody who is not there, or whose plan is not", () => {
		expect(memberPlan(group, 3)).toBe(undefined);
		expect(memberPlan(group, -1)).toBe(undefined);
		const alone = createEvaluator()(readPlan(kit([LANDMARK])));
		expect(memberNames({ evaluation: alone })).toEqual([]);
	});
});

test("JSON has each one's evening and what they share", () => {
	const free = groupOf({ Nia: kit([LANDMARK]), Tom: kit([LASER]), Ada: kit([LANDMARK]) });
	const record = planRecord(free).group;
	expect(record).toMatchObject({
		leader: "Nia",
		members: [
			{ name: "Nia", plan: "0.lode.yaml" },
			{ name: "Tom", plan: "1.lode.yaml" },
			{ name: "Ada", plan: "2.lode.yaml" },
		],
		lasers: [{ name: "Tom", lookout: "Ada" }],
	});
	for (const { evening } of record?.members ?? []) expect(evening.length).toBeGreaterThan(4);
	const [laser] = record?.lasers ?? [];
	const aligned = record?.members[1]?.evening.find(({ kind }) => kind === "align");
	expect({ from: laser?.from, until: laser?.until }).toEqual({ from: aligned?.from, until: aligned?.until });
	expect(planRecord(memberPlan(free, 0) as CheckedPlan).group).toBe(null);
});

describe("who cannot have the laser at the minute", () => {
	const free = LASER.replace('\nat: "20:01"', "");
	const two = groupOf({ Nia: kit([LASER]), Tom: kit([free, "kind: compass"]), Ada: kit([LANDMARK]) });
	const tom = memberPlan(two, 1);

	test("is told nowhere on the card to use it", () => {
		expect(tom?.evaluation.evening?.aligned).toBe(1);
		expect(tom?.evaluation.aligned?.method.kind).toBe("compass");
		const made = card.of.plan?.make(tom as CheckedPlan, ENVIRONMENT, "");
		expect(made).toMatch(/Align: compass/);
		const why =
			"The right-angle laser was planned, but Nia has the laser then. Only one beam at a time: any other laser stays off.";
		const [, paper = ""] = String(made).split('<div class="paper">');
		expect(paper).toContain(why);
		expect(planRecord(two).group?.members.map(({ instead }) => instead)).toEqual([
			null,
			{ of: "square-laser", why },
			null,
		]);
		const body = String(made)
			.replace(/[\s\S]*<body/, "")
			.replaceAll(why, "");
		expect(body).not.toContain("right-angle laser");
		expect(String(card.of.plan?.make(memberPlan(two, 0) as CheckedPlan, ENVIRONMENT, ""))).toContain(
			"Align: right-angle laser",
		);
	});

	test("has frames at the group's times, with the trails of that axis", () => {
		const [target] = tom?.evaluation.targets?.value ?? [];
		const sky = tom?.evaluation.evening?.steps.find(({ kind }) => kind === "sky");
		expect(target?.series.from).toBe(sky?.from);
		const axis = (place: number) => memberPlan(two, place)?.evaluation.axis?.budget.radius95 ?? 0;
		expect(axis(1)).toBeGreaterThan(axis(0));
	});
});
