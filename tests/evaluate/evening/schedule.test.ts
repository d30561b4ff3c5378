/** The scheduler by itself: hand-made evenings, and random ones against a search through all orders. */
import { describe, expect, test } from "vitest";
import { inOrder } from "../../../shared/evaluate/evening/in-order.ts";
import { isLead, seriesLength } from "../../../shared/evaluate/evening/leads.ts";
import { scheduled } from "../../../shared/evaluate/evening/schedule.ts";
import type { AlignTask, Evening, EveningStep, SkyTask, Tasks } from "../../../shared/evaluate/evening/tasks.ts";
import { both, either, type Interval, totalMinutes } from "../../../shared/sky/intervals.ts";
import { random, SEED } from "../../random-plans.ts";

const MIN = 60_000;
const span = (from: number, until: number): Interval => ({ from: from * MIN, until: until * MIN });

const align = (change: Partial<AlignTask> = {}): AlignTask => ({
	at: undefined,
	fixed: false,
	windows: [span(0, 1000)],
	length: 10 * MIN,
	works: true,
	corrects: false,
	...change,
});

const sky = (change: Partial<SkyTask> = {}): SkyTask => ({
	tracked: true,
	at: undefined,
	frame: 5 * MIN,
	gap: 0,
	frames: 4,
	windows: [span(0, 1000)],
	lens: "wide",
	aim: "core",
	camera: "",
	alone: false,
	reAim: 3 * MIN,
	test: 7 * MIN,
	toward: [0, 0, 1],
	foreground: undefined,
	darks: 0,
	moved: false,
	...change,
});

const tasks = (change: Partial<Tasks> = {}): Tasks => ({
	onSite: span(0, 300),
	arrives: true,
	leaves: true,
	walkIn: 0,
	setUp: 15 * MIN,
	focus: 5 * MIN,
	starsFrom: undefined,
	packUp: 10 * MIN,
	walkOut: 0,
	lensChange: 5 * MIN,
	turnBack: 3 * MIN,
	turnLimit: undefined,
	aligns: [align()],
	targets: [sky()],
	...change,
});

/** `20–30 align 0`, minutes. */
const told = ({ steps }: Evening): readonly string[] =>
	steps.map(
		({ kind, of, from, until, fixed, frames }) =>
			`${from / MIN}–${until / MIN} ${kind}${of === undefined ? "" : ` ${of}`}${fixed ? "!" : ""}${frames === undefined ? "" : ` × ${frames}`}`,
	);

describe("by hand", () => {
	test("what was focused by daylight is looked at on a star as soon as there are some, also within two hours", () => {
		const looks = (starsFrom: number | undefined): readonly string[] =>
			told(scheduled(tasks({ starsFrom, targets: [sky({ at: 100 * MIN })] }))).filter((step) => step.includes("check"));
		expect(looks(50.5 * MIN)).toEqual(["51–54 check"]);
		// Focused in the dark, or where it gets dark too late for a look before the frames.
		expect(looks(20 * MIN)).toEqual([]);
		expect(looks(88 * MIN)).toEqual([]);
		expect(looks(undefined)).toEqual([]);
	});

	test("one target without a time: set up, focus, align, test frame, sky", () => {
		expect(told(scheduled(tasks()))).toEqual([
			"0–15 set-up",
			"15–20 focus",
			"20–30 align 0",
			"30–33 re-aim 0",
			"33–40 test-frame 0",
			"40–60 sky 0",
			"60–290 wait",
			"290–300 pack-up!",
		]);
	});

	test("how late a step may begin is until what is placed after it can no longer be done, not until packing up alone", () => {
		// The target is usable until 100: its 20 min begin at 80, the test frame at 73, aiming at 70, the alignment at 60,
		// focusing at 55, setting up at 40. Until packing up at 290 it would be 230.
		const latest = (change: Partial<Tasks>) =>
			Object.fromEntries(scheduled(tasks(change)).steps.map(({ kind, latest: by }) => [kind, by && by / MIN]));
		expect(latest({ targets: [sky({ windows: [span(0, 100)] })] })).toMatchObject({
			"set-up": 40,
			focus: 55,
			align: 60,
			"re-aim": 70,
			sky: 80,
		});
		// The method's own window ends before: its middle is at 45 at the latest.
		expect(latest({ aligns: [align({ windows: [span(0, 45)] })] })).toMatchObject({
			"set-up": 20,
			focus: 35,
			align: 40,
		});
		// Without a time to leave too.
		expect(latest({ leaves: false, targets: [sky({ windows: [span(0, 100)] })] })).toMatchObject({ "set-up": 40 });
	});

	test("the first method that can be placed before the first tracked frame aligns", () => {
		const late = align({ at: 100 * MIN, fixed: true });
		const evening = scheduled(tasks({ aligns: [late, align()], targets: [sky({ at: 60 * MIN })] }));
		expect(evening.aligned).toBe(1);
		expect(evening.clashes).toEqual([]);
		// Alone it keeps its time, and clashes.
		const alone = scheduled(tasks({ aligns: [late], targets: [sky({ at: 90 * MIN })] }));
		expect(alone.aligned).toBe(0);
		expect(alone.clashes.length).toBeGreaterThan(0);
	});

	test("an alignment whose time is over before one is ready keeps the last of it, and clashes", () => {
		const daylight = align({ windows: [span(0, 12)] });
		const evening = scheduled(tasks({ aligns: [daylight], targets: [sky({ at: 90 * MIN })] }));
		expect(told(evening)).toContain("7–17 align 0");
		expect(evening.clashes.map(({ before, after }) => [before.kind, after.kind])).toEqual([
			["set-up", "align"],
			["align", "focus"],
		]);
		// One minute is enough for it.
		const late = scheduled(tasks({ aligns: [align({ windows: [span(0, 25)] })], targets: [sky({ at: 90 * MIN })] }));
		expect(told(late)).toContain("20–30 align 0");
		expect(late.clashes).toEqual([]);
	});

	test("what corrects the axis at its time behind the alignment is a step, and frames without a time wait for it", () => {
		const check = align({ at: 70 * MIN, length: 20 * MIN, works: false, corrects: true });
		const evening = scheduled(tasks({ aligns: [align(), check] }));
		expect(told(evening)).toEqual([
			"0–15 set-up",
			"15–20 focus",
			"20–30 align 0",
			"30–60 wait",
			"60–80 align 1!",
			"80–83 re-aim 0",
			"83–90 test-frame 0",
			"90–110 sky 0",
			"110–290 wait",
			"290–300 pack-up!",
		]);
		expect(evening).toMatchObject({ aligned: 0, corrected: 1, clashes: [] });
		// Where they could not be taken any more afterwards they come first, and the axis is theirs as it was set.
		const setting = scheduled(tasks({ aligns: [align(), check], targets: [sky({ windows: [span(0, 62)] })] }));
		expect(told(setting)).toContain("40–60 sky 0");
		expect(setting.corrected).toBe(undefined);
		// Before the alignment there is nothing to correct.
		expect(told(scheduled(tasks({ aligns: [align(), { ...check, at: 30 * MIN }] })))).not.toContain(/align 1/);
		// Frames with a time that are in its way: both keep theirs.
		const clashing = scheduled(tasks({ aligns: [align(), check], targets: [sky({ at: 70 * MIN })] }));
		expect(clashing.clashes.map(({ before, after, short }) => [before.kind, after.kind, short / MIN])).toContainEqual([
			"align",
			"sky",
			10,
		]);
	});

	test("a correction without a time comes right behind the alignment, and is left out where it would cost frames", () => {
		const check = align({ length: 20 * MIN, works: false, corrects: true });
		expect(told(scheduled(tasks({ aligns: [align(), check] }))).slice(2, 6)).toEqual([
			"20–30 align 0",
			"30–50 align 1",
			"50–53 re-aim 0",
			"53–60 test-frame 0",
		]);
		const setting = scheduled(tasks({ aligns: [align(), check], targets: [sky({ windows: [span(0, 79)] })] }));
		expect(told(setting)).toContain("40–60 sky 0");
		expect(setting.leftOut).toEqual([{ kind: "correction", of: 1, frames: 0 }]);
		expect(setting.corrected).toBe(undefined);
		// Where they lose none, it stays.
		const lasting = scheduled(tasks({ aligns: [align(), check], targets: [sky({ windows: [span(0, 80)] })] }));
		expect(told(lasting)).toContain("60–80 sky 0");
		expect(lasting).toMatchObject({ corrected: 1, leftOut: [] });
		// It is done before frames with a time, or not at all.
		const fixed = (at: number) => scheduled(tasks({ aligns: [align(), check], targets: [sky({ at: at * MIN })] }));
		expect(told(fixed(60))).toContain("30–50 align 1");
		expect(fixed(59).leftOut).toEqual([{ kind: "correction", of: 1, frames: 0 }]);
		expect(fixed(59).clashes).toEqual([]);
	});

	test("a fixed target tells how late what comes before it may begin", () => {
		const evening = scheduled(tasks({ targets: [sky({ at: 100 * MIN })] }));
		expect(told(evening)).toContain("90–93 re-aim 0");
		const latest = Object.fromEntries(evening.steps.map(({ kind, latest }) => [kind, latest && latest / MIN]));
		expect(latest).toMatchObject({
			"set-up": 60,
			focus: 75,
			align: 80,
			"re-aim": 90,
			"test-frame": 93,
			sky: undefined,
		});
		expect(evening.secondTry).toEqual({ by: 90 * MIN, isPossible: true });
		expect(scheduled(tasks({ targets: [sky({ at: 45 * MIN })] })).secondTry?.isPossible).toBe(false);
	});

	test("another lens, a far turn and the drive's end take time", () => {
		const evening = scheduled(
			tasks({
				turnLimit: 30 * MIN,
				targets: [
					sky(),
					sky({ lens: "long", aim: "nebula", reAim: 6 * MIN }),
					sky({ lens: "long", aim: "cloud", toward: [0, 1, 0] }),
				],
			}),
		);
		expect(told(evening)).toEqual([
			"0–15 set-up",
			"15–20 focus",
			"20–30 align 0",
			"30–33 re-aim 0",
			"33–40 test-frame 0",
			"40–60 sky 0",
			"60–63 turn-back 1",
			"63–68 lens-change 1",
			"68–74 re-aim 1",
			"74–81 test-frame 1",
			"81–101 sky 1",
			"101–104 turn-back 2",
			"104–107 re-aim 2",
			"107–114 test-frame 2",
			"114–134 sky 2",
			"134–290 wait",
			"290–300 pack-up!",
		]);
	});

	test("the ground right after its sky, else before it; dark frames beside packing up", () => {
		const foreground = { length: 8 * MIN, at: undefined, windows: [span(0, 1000)], refocus: 0 };
		const after = told(scheduled(tasks({ targets: [sky({ foreground, darks: 6 * MIN })] })));
		expect(after).toContain("60–68 foreground 0");
		expect(after).toContain("68–74 darks 0");
		const before = told(
			scheduled(tasks({ targets: [sky({ at: 100 * MIN, foreground }), sky({ at: 125 * MIN, aim: "other" })] })),
		);
		expect(before).toContain("82–90 foreground 0");
	});

	test("after a foreground focused nearer the lens is focused again, where frames of the sky follow", () => {
		const foreground = { length: 8 * MIN, at: undefined, windows: [span(0, 1000)], refocus: 5 * MIN };
		const alone = told(scheduled(tasks({ targets: [sky({ foreground })] })));
		expect(alone).toContain("60–68 foreground 0");
		expect(alone.filter((line) => line.includes("focus"))).toEqual(["15–20 focus"]);
		// Behind its sky there is room for 13 min, not for 12.
		const two = (at: number) =>
			told(scheduled(tasks({ targets: [sky({ at: 100 * MIN, foreground }), sky({ at: at * MIN, aim: "other" })] })));
		expect(two(136)).toContain("120–128 foreground 0");
		expect(two(136)).toContain("128–133 focus 1");
		expect(two(135)).toContain("77–85 foreground 0");
		expect(two(135)).toContain("85–90 focus 0");
		// Its light lasts until the ground is done, not until the lens is focused.
		const light = { ...foreground, windows: [span(30, 85)] };
		expect(told(scheduled(tasks({ targets: [sky({ at: 100 * MIN, foreground: light })] })))).toContain("85–90 focus 0");
		// At a time of its own it comes all the same, and what does not fit is told.
		const fixed = scheduled(tasks({ targets: [sky({ at: 100 * MIN, foreground: { ...foreground, at: 80 * MIN } })] }));
		expect(told(fixed)).toContain("88–93 focus 0");
		expect(fixed.clashes.map(({ before, after, short }) => [before.kind, after.kind, short / MIN])).toEqual([
			["focus", "re-aim", 3],
		]);
		// Another camera keeps its focus.
		const other = sky({ at: 130 * MIN, camera: "second", tracked: false, alone: true });
		expect(
			told(scheduled(tasks({ targets: [sky({ at: 60 * MIN, foreground }), other] }))).filter((line) =>
				line.includes("focus"),
			),
		).toEqual(["15–20 focus"]);
	});

	test("the ground in its own light only; left out where that never is", () => {
		const foreground = { length: 8 * MIN, at: undefined, windows: [span(30, 55)], refocus: 0 };
		const evening = scheduled(tasks({ targets: [sky({ at: 100 * MIN, foreground })] }));
		expect(told(evening)).toContain("33–41 foreground 0");
		const never = scheduled(tasks({ targets: [sky({ foreground: { ...foreground, windows: [] } })] }));
		expect(never.leftOut).toEqual([{ kind: "foreground", of: 0, frames: 0 }]);
	});

	test("targets in the plan's order, unless more fit in another", () => {
		const early = sky({ windows: [span(0, 70)], aim: "setting" });
		const order = (targets: readonly SkyTask[]) =>
			scheduled(tasks({ targets })).steps.flatMap(({ kind, of }) => (kind === "sky" ? [of] : []));
		expect(order([sky(), sky({ aim: "other" })])).toEqual([0, 1]);
		expect(order([sky(), early])).toEqual([1, 0]);
	});

	test("what does not fit whole takes as many frames as do", () => {
		const evening = scheduled(tasks({ onSite: span(0, 70) }));
		expect(told(evening)).toContain("40–60 sky 0");
		const short = scheduled(tasks({ onSite: span(0, 66) }));
		expect(told(short)).toContain("40–55 sky 0 × 3");
		expect(short.leftOut).toEqual([{ kind: "sky", of: 0, frames: 3 }]);
		expect(scheduled(tasks({ onSite: span(0, 50) })).leftOut).toEqual([{ kind: "sky", of: 0, frames: 0 }]);
	});

	test("a moved tripod is set up and aligned again", () => {
		const evening = scheduled(
			tasks({ targets: [sky({ at: 60 * MIN }), sky({ at: 130 * MIN, moved: true, aim: "arch" })] }),
		);
		expect(told(evening).slice(7, 13)).toEqual([
			"80–95 set-up 1",
			"95–105 align 0",
			"105–120 wait",
			"120–123 re-aim 1",
			"123–130 test-frame 1",
			"130–150 sky 1!",
		]);
	});

	test("a second camera without the tracker takes hands for its test frame, and runs by itself", () => {
		const arcs = sky({ tracked: false, camera: "second", alone: true, frames: 20, aim: "arcs" });
		const evening = scheduled(tasks({ targets: [arcs, sky()] }));
		expect(told(evening)).toEqual([
			"0–15 set-up",
			"15–20 focus",
			"20–30 align 0",
			"30–37 test-frame 0",
			"37–40 re-aim 1",
			"37–137 sky 0",
			"40–47 test-frame 1",
			"47–67 sky 1",
			"67–137 wait",
			"137–290 wait",
			"290–300 pack-up!",
		]);
		expect(evening.clashes).toEqual([]);
		// With a time of its own it is no trouble either; on one camera it would be.
		const fixed = (change: Partial<SkyTask>) =>
			scheduled(tasks({ targets: [{ ...arcs, at: 60 * MIN, ...change }, sky({ at: 90 * MIN })] }));
		expect(fixed({}).clashes).toEqual([]);
		expect(fixed({ camera: "", alone: false }).clashes.length).toBeGreaterThan(0);
	});

	test("two hours after focusing the camera is looked at in the next pause, again two hours later, and not behind the last frames", () => {
		const late = [sky({ at: 130 * MIN }), sky({ at: 320 * MIN })];
		const evening = scheduled(tasks({ onSite: span(0, 600), targets: late }));
		// Focused at 20: due at 140, in the frames until 150; then at 273.
		expect(told(evening).filter((line) => line.includes("check"))).toEqual(["150–153 check", "273–276 check"]);
		expect(told(evening)).toContain("276–320 wait");
		// It can be left out: what comes before it may begin as late as without.
		const align = evening.steps.find(({ kind }) => kind === "align");
		expect(align?.latest).toBe(110 * MIN);
		// A series is not broken off for it, and where there is no pause there is none.
		const long = scheduled(tasks({ onSite: span(0, 600), targets: [sky({ frames: 60, at: 60 * MIN })] }));
		expect(told(long).filter((line) => line.includes("check"))).toEqual([]);
	});

	test("several series of a second camera: one after the other, one pair of hands for aiming both cameras", () => {
		const arcs = sky({ tracked: false, camera: "second", alone: true, frames: 8, aim: "arcs" });
		const pole = { ...arcs, aim: "pole", frames: 4 };
		const evening = scheduled(tasks({ targets: [arcs, pole, sky()] }));
		expect(told(evening)).toEqual([
			"0–15 set-up",
			"15–20 focus",
			"20–30 align 0",
			"30–33 wait",
			"33–40 test-frame 0",
			"40–43 re-aim 2",
			"40–80 sky 0",
			"43–50 test-frame 2",
			"50–70 sky 2",
			"70–87 wait",
			"87–90 re-aim 1",
			"90–110 sky 1",
			"90–110 wait",
			"110–290 wait",
			"290–300 pack-up!",
		]);
		// A series with a time of its own is kept free on its camera, with what leads to it.
		const fixed = scheduled(tasks({ targets: [{ ...arcs, at: 100 * MIN }, { ...pole, frames: 12 }, sky()] }));
		expect(told(fixed).filter((line) => line.includes("sky"))).toEqual([
			"40–60 sky 2",
			"100–140 sky 0!",
			"150–210 sky 1",
		]);
		// Ground of the second camera waits until it is free.
		const foreground = { length: 8 * MIN, at: undefined, windows: [span(0, 1000)], refocus: 0 };
		const ground = scheduled(tasks({ targets: [{ ...arcs, foreground }, pole, sky()] }));
		expect(told(ground).filter((line) => /sky 1|foreground/.test(line))).toEqual([
			"90–110 sky 1",
			"113–121 foreground 0",
		]);
	});

	test("without tracked targets nothing is aligned", () => {
		const evening = scheduled(tasks({ targets: [sky({ tracked: false })] }));
		expect(evening.aligned).toBeUndefined();
		expect(evening.secondTry).toBeUndefined();
		expect(told(evening)).toContain("27–47 sky 0");
	});

	test("nothing to do is no evening; without times of arriving and leaving it spans its steps", () => {
		expect(scheduled(tasks({ aligns: [], targets: [] })).steps).toEqual([]);
		const evening = scheduled(
			tasks({
				arrives: false,
				leaves: false,
				targets: [sky({ at: 200 * MIN })],
				walkIn: 20 * MIN,
				walkOut: 25 * MIN,
				aligns: [align({ at: 180 * MIN })],
			}),
		);
		expect(told(evening)).toEqual([
			"135–155 walk-in",
			"155–170 set-up",
			"170–175 focus",
			"175–185 align 0",
			"185–190 wait",
			"190–193 re-aim 0",
			"193–200 test-frame 0",
			"200–220 sky 0!",
			"220–230 pack-up",
			"230–255 walk-out",
		]);
	});
});

function randomTasks(seed: number): Tasks {
	const below = random(seed);
	const targets = Array.from({ length: 1 + below(5) }, (): SkyTask => {
		const from = below(200);
		return sky({
			tracked: below(4) > 0,
			...(below(3) === 0 && { at: (40 + below(220)) * MIN }),
			frames: 1 + below(8),
			frame: (2 + below(6)) * MIN,
			windows: [span(from, from + 20 + below(250))],
			aim: String(below(3)),
			lens: String(below(2)),
			darks: below(3) === 0 ? 5 * MIN : 0,
			...(below(3) === 0 && {
				foreground: {
					length: (5 + below(10)) * MIN,
					at: undefined,
					windows: [span(0, 400)],
					refocus: below(2) * 5 * MIN,
				},
			}),
		});
	});
	// Now and then one is on a camera of its own.
	if (targets.length > 1 && below(3) === 0)
		targets[0] = { ...(targets[0] as SkyTask), tracked: false, camera: "second", alone: true };
	return tasks({
		onSite: span(0, 200 + below(150)),
		aligns: [align({ ...(below(2) === 0 && { at: (25 + below(60)) * MIN }), length: (4 + below(12)) * MIN }), align()],
		targets,
		turnLimit: below(2) === 0 ? 60 * MIN : undefined,
	});
}

/** Frames of the series that are taken whole. */
const framesKept = (all: Tasks): number =>
	scheduled(all).steps.reduce(
		(sum, { kind, of, frames }) =>
			sum + (kind === "sky" && frames === undefined ? (all.targets[of as number]?.frames ?? 0) : 0),
		0,
	);

const COUNT = Number(process.env.LODEBOOK_EVENINGS ?? 400);

describe(`${COUNT} random evenings from LODEBOOK_SEED=${SEED} on`, () => {
	const all = Array.from({ length: COUNT }, (_, i) => randomTasks(SEED + i));

	test("fixed times are kept, and only what is fixed clashes", () => {
		for (const one of all) {
			const { steps, clashes } = scheduled(one);
			for (const [index, { at }] of one.targets.entries()) {
				if (at === undefined) continue;
				expect(steps.find(({ kind, of }) => kind === "sky" && of === index)?.from).toBe(at);
			}
			for (const { before, after } of clashes) {
				const isFixed = (step: typeof before): boolean =>
					step.fixed || (step.of !== undefined && one.targets[step.of]?.at !== undefined) || step.kind === "align";
				expect(isFixed(before) || isFixed(after), JSON.stringify([before, after])).toBe(true);
			}
			const free = { ...one, targets: one.targets.map((target) => ({ ...target, at: undefined })) };
			expect(scheduled({ ...free, aligns: [align()] }).clashes).toEqual([]);
		}
	});

	test("the alignment comes before all tracked frames that have no time of their own", () => {
		for (const one of all) {
			const { steps } = scheduled(one);
			const aligned = steps.find(({ kind }) => kind === "align");
			for (const { kind, of, from } of steps)
				if (kind === "sky" && one.targets[of as number]?.tracked && one.targets[of as number]?.at === undefined)
					expect(from).toBeGreaterThanOrEqual(aligned?.until ?? Number.NaN);
		}
	});

	test("each step lies in its window, in the time on site, and is as long as it takes", () => {
		for (const one of all) {
			for (const { kind, of, from, until, frames } of scheduled(one).steps) {
				expect(until).toBeGreaterThanOrEqual(from);
				if (kind !== "sky") continue;
				const target = one.targets[of as number] as SkyTask;
				expect(until - from).toBe(seriesLength(target, frames));
				if (target.at !== undefined) continue;
				expect(target.windows.some((window) => window.from <= from && until <= window.until)).toBe(true);
				expect(until).toBeLessThanOrEqual(one.onSite.until - one.packUp);
			}
		}
	});

	test("no order of what has no time keeps more whole series", () => {
		for (const lenses of all) {
			// What is left out must not change how long the others take, nor whether anything is aligned.
			const one = {
				...lenses,
				targets: lenses.targets.map((target) => ({ ...target, lens: "wide", tracked: true })),
			};
			const fixed = one.targets.filter(({ at }) => at !== undefined);
			const free = one.targets.filter(({ at }) => at === undefined);
			// Each order as the plan's own, one by one: what comes later can only take what is left.
			const most = Math.max(...ordersOf(free).map((order) => wholeInOrder({ ...one, targets: [...fixed, ...order] })));
			expect(framesKept(one)).toBeGreaterThanOrEqual(most);
		}
		/** Of the first ones of an order, as many as fit one after the other. */
		function wholeInOrder(one: Tasks): number {
			let kept = one.targets.filter(({ at }) => at !== undefined);
			let best = kept.reduce((sum, { frames }) => sum + frames, 0);
			for (const target of one.targets.filter(({ at }) => at === undefined)) {
				const next = [...kept, target];
				const evening = scheduled({ ...one, targets: next });
				if (evening.leftOut.some(({ kind }) => kind === "sky")) continue;
				kept = next;
				best = kept.reduce((sum, { frames }) => sum + frames, 0);
			}
			return best;
		}
	});

	test("a longer time on site never loses a whole series", () => {
		for (const one of all) {
			const longer = { ...one, onSite: { ...one.onSite, until: one.onSite.until + 45 * MIN } };
			expect(framesKept(longer)).toBeGreaterThanOrEqual(framesKept(one));
			const left = (evening: Evening) => evening.leftOut.filter(({ kind }) => kind !== "sky").length;
			// Where all frames fit in the plan's order only in the longer one, other steps than theirs may have no room there.
			const inTurn = ({ steps }: Evening) => steps.flatMap(({ kind, of }) => (kind === "sky" ? [of] : [])).join();
			if (inTurn(scheduled(one)) !== inTurn(scheduled(longer))) continue;
			if (scheduled(one).leftOut.every(({ kind }) => kind !== "sky"))
				expect(left(scheduled(longer))).toBeLessThanOrEqual(left(scheduled(one)));
		}
	});

	test("a longer time on site, at its end or at its beginning, never has fewer usable minutes after the alignment", () => {
		let more = 0;
		for (const one of all) {
			const { from, until } = one.onSite;
			const known = usableMinutes(one);
			for (const onSite of [
				{ from, until: until + 45 * MIN },
				{ from: from - 30 * MIN, until },
			]) {
				const longer = usableMinutes({ ...one, onSite });
				// Frames and the plan's first method come before minutes: there may be room for them in a longer evening only.
				if (framesKept({ ...one, onSite }) > framesKept(one) || first({ ...one, onSite }) !== first(one)) continue;
				expect(longer).toBeGreaterThanOrEqual(known);
				if (longer > known) more++;
			}
		}
		expect(more).toBeGreaterThan(COUNT / 4);
		function first(one: Tasks): number | undefined {
			return scheduled(one).aligned;
		}
		/** In which a tracked target may be taken, once it is aligned and until one packs up. */
		function usableMinutes(one: Tasks): number {
			const aligned = scheduled(one).steps.find(({ kind }) => kind === "align");
			const tracked = one.targets.filter((target) => target.tracked).map(({ windows }) => windows);
			if (!aligned || tracked.length === 0) return 0;
			return totalMinutes(
				both(tracked.reduce(either), [{ from: aligned.until, until: one.onSite.until - one.packUp }]),
			);
		}
	});

	test("of several cameras each takes one series at a time, and hands do one thing at a time", () => {
		let beside = 0;
		for (const one of all) {
			const targets = one.targets.map((target, i) =>
				i % 2 === 0 ? target : { ...target, tracked: false, camera: `camera ${i % 4}`, alone: true },
			);
			const { steps, clashes } = scheduled({ ...one, targets });
			if (targets.every(({ at }) => at === undefined)) expect(clashes).toEqual([]);
			for (const [index, target] of targets.entries()) {
				const own = steps.filter(
					({ kind, of }) => kind === "sky" && of !== undefined && targets[of]?.camera === target.camera,
				);
				const series = own.find(({ of }) => of === index);
				if (!series || target.at !== undefined) continue;
				expect(target.windows.some(({ from, until }) => from <= series.from && series.until <= until)).toBe(true);
				// With what leads to it, as far as hands do it.
				const leads = steps.filter(
					({ kind, of }) => of === index && ["lens-change", "re-aim", "test-frame"].includes(kind),
				);
				const begin = Math.min(series.from, ...leads.map(({ from }) => from));
				for (const other of own)
					if (other !== series)
						expect(begin >= other.until || series.until <= other.from, JSON.stringify(own)).toBe(true);
				if (
					target.alone &&
					steps.some(
						({ kind, of, from, until }) => kind === "sky" && of !== index && from < series.until && until > series.from,
					)
				)
					beside++;
			}
		}
		expect(beside).toBeGreaterThan(COUNT / 10);
	});

	test("nobody waits before what has no time of its own and could begin", () => {
		let followed = 0;
		for (const one of all) {
			// Between a camera that runs by itself and the others hands are kept free.
			if (one.targets.some(({ alone }) => alone)) continue;
			const { steps } = scheduled(one);
			for (const { kind, of, from, until } of steps) {
				const target = kind === "sky" ? one.targets[of as number] : undefined;
				if (!target || target.at !== undefined) continue;
				const begin = Math.min(
					from,
					...steps.filter((step) => step.of === of && isLead(step.kind)).map((step) => step.from),
				);
				const window = target.windows.find((open) => open.from <= from && until <= open.until);
				if (steps.some((step) => step.kind === "wait" && step.until === begin))
					expect(from).toBe(Math.ceil((window?.from ?? 0) / MIN) * MIN);
				else followed++;
			}
		}
		expect(followed).toBeGreaterThan(COUNT / 4);
	});

	test("no frames of the sky are taken with the focus of a ground that is nearer", () => {
		let refocused = 0;
		for (const one of all) {
			const { steps } = scheduled(one);
			for (const { kind, of, until } of steps) {
				const target = kind === "foreground" ? one.targets[of as number] : undefined;
				if (!target || target.foreground?.refocus === 0) continue;
				const next = steps.find(
					(step) =>
						step.kind === "sky" && step.from >= until && one.targets[step.of as number]?.camera === target.camera,
				);
				const focus = steps.find((step) => step.kind === "focus" && step.from >= until);
				if (next) refocused++;
				expect(next === undefined || (focus !== undefined && focus.until <= next.from)).toBe(true);
			}
		}
		expect(refocused).toBeGreaterThan(COUNT / 20);
	});

	test("the same plan gives the same evening", () => {
		for (const one of all.slice(0, 20)) expect(scheduled(one)).toEqual(scheduled(structuredCloneOf(one)));
		function structuredCloneOf(one: Tasks): Tasks {
			return { ...one, targets: one.targets.map((target) => ({ ...target })) };
		}
	});
});

function ordersOf<T>(all: readonly T[]): readonly (readonly T[])[] {
	if (all.length <= 1) return [all];
	return all.flatMap((one, i) => ordersOf([...all.slice(0, i), ...all.slice(i + 1)]).map((rest) => [one, ...rest]));
}

/** An evening of half an hour in which everything is short, and takes as long to get ready whatever comes before it. */
function smallTasks(seed: number): Tasks {
	const below = random(seed);
	const leave = 16 + below(15);
	// Far from each other: each turn needs a test frame.
	const toward: readonly SkyTask["toward"][] = [
		[1, 0, 0],
		[0, 1, 0],
		[0, 0, 1],
	];
	return tasks({
		onSite: span(0, leave),
		setUp: 2 * MIN,
		focus: MIN,
		packUp: MIN,
		aligns: [align({ length: (1 + below(3)) * MIN, windows: [span(below(10), 8 + below(20))] })],
		targets: Array.from({ length: 2 + below(2) }, (_, i) => {
			const from = below(24);
			return sky({
				tracked: below(3) > 0,
				...(i > 0 && below(4) === 0 && { at: (9 + below(leave - 15)) * MIN }),
				frame: MIN,
				frames: 1 + below(6),
				windows: [span(from, from + 2 + below(20)), ...(below(3) === 0 ? [span(from + 23, 40)] : [])],
				aim: String(i),
				reAim: MIN,
				test: MIN,
				toward: toward[i] as SkyTask["toward"],
			});
		}),
	});
}

/** The lead of each of them. */
const LEAD = 2;

/**
 * The most frames that whole series can have, by trying each minute for the alignment and for every series, or leaving it
 * out; undefined where nothing can align. A minute is a bit of what hands do: nothing is taken over from the scheduler.
 */
function mostFrames({ onSite, aligns, targets, ...one }: Tasks): number | undefined {
	const bits = (from: number, until: number): number => (2 ** (until - from) - 1) * 2 ** from;
	const [first, last] = [(onSite.from + one.setUp + one.focus) / MIN, (onSite.until - one.packUp) / MIN];
	const minutes = Array.from({ length: 32 }, (_, minute) => minute);
	const series = targets.map((target) => {
		const length = target.frames * (target.frame / MIN);
		const fits = (at: number): boolean =>
			at - LEAD >= first &&
			at + length <= last &&
			target.windows.some(({ from, until }) => from <= at * MIN && (at + length) * MIN <= until);
		const starts = target.at === undefined ? minutes.filter(fits) : [target.at / MIN];
		return { target, starts, takes: (at: number) => bits(at - LEAD, at + length) };
	});
	const timed = series.filter(({ target }) => target.at !== undefined);
	const fixed = timed.reduce((all, { starts: [at = 0], takes }) => all | takes(at), 0);
	const most = (rest: typeof series, taken: number, aligned: number): number => {
		const [next, ...others] = rest;
		if (!next) return 0;
		const { target, starts, takes } = next;
		let best = most(others, taken, aligned);
		for (const at of starts) {
			if ((takes(at) & taken) !== 0 || (target.tracked && at - LEAD < aligned)) continue;
			best = Math.max(best, target.frames + most(others, taken | takes(at), aligned));
		}
		return best;
	};
	const untimed = series.filter(({ target }) => target.at === undefined);
	const isTracked = targets.some(({ tracked }) => tracked);
	if (!isTracked) return most(untimed, fixed, 0);
	const [{ length, windows } = align()] = aligns;
	const takes = length / MIN;
	const due = Math.min(last, ...timed.flatMap(({ target, starts: [at = 0] }) => (target.tracked ? [at - LEAD] : [])));
	const found = minutes.flatMap((at) => {
		const middle = at * MIN + length / 2;
		const works = windows.some(({ from, until }) => from <= middle && middle <= until);
		const taken = bits(at, at + takes);
		if (!works || at < first || at + takes > due || (taken & fixed) !== 0) return [];
		return [most(untimed, fixed | taken, at + takes)];
	});
	return found.length === 0 ? undefined : Math.max(...found);
}

test(`${COUNT} small evenings from LODEBOOK_SEED=${SEED} on: no choice of minutes keeps more frames of whole series`, () => {
	let tried = 0;
	for (let i = 0; i < COUNT; i++) {
		const one = smallTasks(SEED + i);
		const most = mostFrames(one);
		if (most === undefined) continue;
		tried++;
		const timed = one.targets.reduce((sum, { at, frames }) => sum + (at === undefined ? 0 : frames), 0);
		expect(framesKept(one) - timed, `small evening ${SEED + i}`).toBe(most);
	}
	expect(tried).toBeGreaterThan(COUNT / 3);
});

test("with two cameras that run by themselves one waits for the one that is done last, whichever began last", () => {
	const run = (from: number, until: number): EveningStep => ({
		kind: "sky",
		...span(from, until),
		fixed: true,
		beside: true,
	});
	const steps = inOrder([
		{ kind: "set-up", ...span(0, 5), fixed: false },
		run(5, 90),
		run(10, 40),
		{ kind: "pack-up", ...span(120, 130), fixed: true },
	]);
	expect(steps.filter(({ kind }) => kind === "wait")).toMatchObject([span(5, 90), span(90, 120)]);
});
