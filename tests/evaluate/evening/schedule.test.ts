/** The scheduler by itself: hand-made evenings, and random ones against a search through all orders. */
import { describe, expect, test } from "vitest";
import { seriesLength } from "../../../shared/evaluate/evening/leads.ts";
import { scheduled } from "../../../shared/evaluate/evening/schedule.ts";
import type { AlignTask, Evening, SkyTask, Tasks } from "../../../shared/evaluate/evening/tasks.ts";
import type { Interval } from "../../../shared/sky/intervals.ts";

const MIN = 60_000;
const span = (from: number, until: number): Interval => ({ from: from * MIN, until: until * MIN });

const align = (change: Partial<AlignTask> = {}): AlignTask => ({
	at: undefined,
	fixed: false,
	windows: [span(0, 1000)],
	length: 10 * MIN,
	works: true,
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
			"30–38 wait",
			"38–41 re-aim 0",
			"41–48 test-frame 0",
			"48–68 sky 0",
			"68–71 turn-back 1",
			"71–76 lens-change 1",
			"76–82 re-aim 1",
			"82–89 test-frame 1",
			"89–109 sky 1",
			"109–114 wait",
			"114–117 turn-back 2",
			"117–120 re-aim 2",
			"120–127 test-frame 2",
			"127–147 sky 2",
			"147–290 wait",
			"290–300 pack-up!",
		]);
	});

	test("the ground right after its sky, else before it; dark frames beside packing up", () => {
		const foreground = { length: 8 * MIN, at: undefined, windows: [span(0, 1000)] };
		const after = told(scheduled(tasks({ targets: [sky({ foreground, darks: 6 * MIN })] })));
		expect(after).toContain("60–68 foreground 0");
		expect(after).toContain("68–74 darks 0");
		const before = told(
			scheduled(tasks({ targets: [sky({ at: 100 * MIN, foreground }), sky({ at: 125 * MIN, aim: "other" })] })),
		);
		expect(before).toContain("82–90 foreground 0");
	});

	test("the ground in its own light only; left out where that never is", () => {
		const foreground = { length: 8 * MIN, at: undefined, windows: [span(30, 55)] };
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
			"67–290 wait",
			"290–300 pack-up!",
		]);
		expect(evening.clashes).toEqual([]);
		// With a time of its own it is no trouble either; on one camera it would be.
		const fixed = (change: Partial<SkyTask>) =>
			scheduled(tasks({ targets: [{ ...arcs, at: 60 * MIN, ...change }, sky({ at: 90 * MIN })] }));
		expect(fixed({}).clashes).toEqual([]);
		expect(fixed({ camera: "", alone: false }).clashes.length).toBeGreaterThan(0);
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

/** Numbers from 0 on below another (Park and Miller): the same evenings in every run. */
function random(seed: number): (below: number) => number {
	let state = seed;
	return (below) => {
		state = (state * 48_271) % 2_147_483_647;
		return state % below;
	};
}

function randomTasks(seed: number): Tasks {
	const below = random(seed * 7919 + 1);
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
				foreground: { length: (5 + below(10)) * MIN, at: undefined, windows: [span(0, 400)] },
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

describe(`${COUNT} random evenings`, () => {
	const all = Array.from({ length: COUNT }, (_, seed) => randomTasks(seed));

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
			if (scheduled(one).leftOut.every(({ kind }) => kind !== "sky"))
				expect(left(scheduled(longer))).toBeLessThanOrEqual(left(scheduled(one)));
		}
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
