import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { dayNumber } from "../../shared/earth/calendar.ts";
import { evaluate } from "../../shared/evaluate/evaluate.ts";
import {
	bestOfWeeks,
	MOST_NIGHTS,
	type NightChoice,
	newMoonOf,
	nightsOf,
	ranked,
} from "../../shared/evaluate/nights.ts";
import { check } from "../../shared/findings/check.ts";
import { writeNight } from "../../shared/findings/night-edits.ts";
import { sweepPairs } from "../../shared/methods/star-sweep/search.ts";
import { dateText } from "../../shared/notation/clock.ts";
import { readPlan } from "../../shared/plan/plan.ts";
import { type Library, PlanJoiner } from "../../shared/plan/reuse.ts";
import { totalMinutes } from "../../shared/sky/intervals.ts";
import { applyEdits } from "../../shared/text/edits.ts";
import { told } from "../../shared/text/sentence.ts";
import { evaluateText } from "../plan-text.ts";

const sampleText = (name: string): string =>
	readFileSync(new URL(`../../samples/${name}.lode.yaml`, import.meta.url), "utf8");
const [chapel, gorge, cave] = [sampleText("roofless-chapel"), sampleText("dry-gorge"), sampleText("gannet-cave")];
const day = (text: string) => {
	const [year = 0, month = 0, date = 0] = text.split("-").map(Number);
	return { year, month, day: date };
};
function nights(text: string, from: string, until: string): readonly NightChoice[] {
	const outcome = nightsOf(readPlan(text), day(from), day(until));
	if (!outcome.ok) throw new Error(told(outcome.why));
	return [...outcome.nights];
}

describe("nights compared", () => {
	test.each([
		["the chapel", chapel, "2027-06-05"],
		["the gorge", gorge, /date: (\S+)/.exec(gorge)?.[1] ?? ""],
		["the cave", cave, /date: (\S+)/.exec(cave)?.[1] ?? ""],
	])("%s: each night has the sky that the plan has on that date", (_, text, date) => {
		const found = nights(text, "2027-05-20", "2027-07-20");
		expect(found.length).toBe(62);
		for (const { date: one, night, windows, minutes, aligns, marks } of found) {
			const alone = evaluateText(text.replace(date, dateText(one)));
			expect(night.moonless).toEqual(alone.night?.moonless);
			expect(night.sky.moonIllumination).toBe(alone.night?.sky.moonIllumination);
			expect(minutes).toBe(aligns ? totalMinutes(windows) : 0);
			for (const { from, until } of windows)
				expect(alone.night?.moonless.some((dark) => dark.from <= from && until <= dark.until)).toBe(true);
			// Frames begin when the alignment is done: half of what it takes after the mark's moment.
			const [mark] = marks;
			if (mark && windows[0]) expect(windows[0].from).toBeGreaterThan(mark.at + 120_000);
		}
	});

	test("the best first: more minutes before fewer, all nights kept", () => {
		const found = nights(chapel, "2027-01-01", "2027-12-31");
		const order = ranked(found);
		expect(order.length).toBe(365);
		for (const [i, { minutes }] of order.entries())
			if (i > 0) expect(Math.round(minutes)).toBeLessThanOrEqual(Math.round(order[i - 1]?.minutes ?? 0));
		// New Moon, not full Moon.
		expect(order[0]?.night.sky.moonIllumination).toBeLessThan(0.3);
		expect(order[0]?.marks.length).toBeGreaterThan(0);
	});

	test("a night written into the plan: its date, its star and times that fit it, and it checks without an error", () => {
		const plan = readPlan(chapel);
		for (const choice of ranked(nights(chapel, "2027-01-01", "2027-12-31")).slice(0, 12)) {
			const outcome = writeNight(plan, choice, evaluateText);
			expect(outcome.ok, dateText(choice.date)).toBe(true);
			const written = applyEdits(chapel, outcome.ok ? outcome.edits : []);
			expect(written).toContain(`date: ${dateText(choice.date)}`);
			expect(check(evaluateText(written)).filter(({ severity }) => severity !== "info")).toEqual([]);
		}
	});

	test("a night that brings a new problem is refused with that problem", () => {
		// Full Moon on 2027-06-19 (USNO, Phases of the Moon): the core is never moonless then.
		const [full] = nights(chapel, "2027-06-19", "2027-06-19");
		const outcome = full && writeNight(readPlan(chapel), full, evaluateText);
		expect(outcome?.ok === false && told(outcome.why)).toMatch(/2027-06-19 cannot be written .*moonlight/);
	});

	test("low water belongs to its date: it goes with it, and its comment too", () => {
		const text = cave.replace('low-water: "01:55"', 'low-water: "01:55" # from the harbour');
		const plan = readPlan(text);
		const choices = bestOfWeeks(nights(text, "2027-04-01", "2027-07-31")).best;
		const written = choices.flatMap((choice) => {
			const outcome = writeNight(plan, choice, evaluateText);
			return outcome.ok ? [applyEdits(text, outcome.edits)] : [];
		});
		expect(written.length).toBeGreaterThan(0);
		for (const one of written) {
			expect(one).not.toContain("low-water");
			expect(one).not.toContain("from the harbour");
		}
	});

	test("a plan without a night gets one", () => {
		const text = chapel.replace(/night:[\s\S]*?---\n/, "");
		const [choice] = nights(text, "2027-07-04", "2027-07-04");
		const outcome = choice && writeNight(readPlan(text), choice, evaluateText);
		expect(outcome?.ok && applyEdits(text, outcome.edits)).toMatch(/---\nnight:\n {2}date: 2027-07-04\n$/);
	});

	test("the best of each new-moon week first, each week once; a year has twelve or thirteen", () => {
		const { best, others } = bestOfWeeks(nights(chapel, "2027-01-01", "2027-12-31"));
		expect(new Set(best.map(newMoonOf)).size).toBe(best.length);
		expect(best.length).toBeGreaterThanOrEqual(8);
		expect(best.length).toBeLessThanOrEqual(13);
		for (const one of others) {
			if (one.night.sky.moonIllumination >= 0.5) continue;
			const first = best.find((night) => newMoonOf(night) === newMoonOf(one));
			// A week whose nights have less than half an hour has no best.
			expect(Math.round(first?.minutes ?? 30)).toBeGreaterThanOrEqual(Math.round(one.minutes));
		}
		expect(Math.min(...best.map(({ minutes }) => minutes))).toBeGreaterThanOrEqual(30);
	});

	test("a night that has hardly a usable minute is no best, unless the season has hardly more", () => {
		const found = nights(chapel, "2027-01-01", "2027-12-31");
		const few = found.filter(({ minutes, night }) => minutes >= 1 && minutes < 30 && night.sky.moonIllumination < 0.5);
		expect(few.length).toBeGreaterThan(0);
		const { best, others } = bestOfWeeks(found);
		for (const one of few) {
			expect(best).not.toContain(one);
			expect(others).toContain(one);
		}
		// Asked for a narrow framing all nights have a few minutes: the best of these are the best.
		const short = few.toSorted((a, b) => b.minutes - a.minutes)[0] as NightChoice;
		expect(bestOfWeeks(few).best).toContain(short);
	});

	test("no night of a new-moon week has more than half of the Moon lit, however few nights there are", () => {
		// 2027: full Moon on 19 June and 18 July, last quarter on 27 June, new on 4 July, first quarter on 10 July (USNO, Phases of the Moon).
		const full = nights(gorge, "2027-06-16", "2027-06-24");
		expect(ranked(full)[0]?.minutes).toBeGreaterThan(30);
		expect(ranked(full)[0]?.night.sky.moonIllumination).toBeGreaterThan(0.5);
		expect(bestOfWeeks(full).best).toEqual([]);
		expect(bestOfWeeks(full).others.length).toBeGreaterThan(1);
		const { best, others } = bestOfWeeks(nights(gorge, "2027-06-16", "2027-07-18"));
		expect(best).toHaveLength(1);
		expect(best[0]?.night.sky.moonIllumination).toBeLessThan(0.5);
		for (const { date, night } of others)
			if (dayNumber(date) < dayNumber(day("2027-06-27"))) expect(night.sky.moonIllumination).toBeGreaterThan(0.5);
		for (const text of [chapel, gorge, cave])
			for (const { night } of bestOfWeeks(nights(text, "2027-03-01", "2027-10-31")).best)
				expect(night.sky.moonIllumination).toBeLessThan(0.5);
	});

	test("some weekdays alone: 2027-06-05 is a Saturday", () => {
		const outcome = nightsOf(readPlan(chapel), day("2027-06-01"), day("2027-06-30"), new Set(["fri", "sat"]));
		expect(outcome.ok && outcome.count).toBe(8);
		expect(outcome.ok && [...outcome.nights].map(({ date }) => date.day)).toEqual([4, 5, 11, 12, 18, 19, 25, 26]);
	});

	test("an alignment late in the night leaves what is after it, and no more", () => {
		const text = chapel.replace(/---\nmethod: # the fallback[\s\S]*?---/, "---");
		for (const { minutes, windows, marks, night } of nights(text, "2027-05-25", "2027-06-20")) {
			if (!marks[0]) continue;
			const done = marks[0].at + 300_000;
			for (const { from } of windows) expect(from).toBeGreaterThanOrEqual(done);
			expect(minutes).toBeLessThanOrEqual((night.onSite.until - done) / 60_000);
		}
	});

	test.each([
		["dry-gorge", "2027-08-02"],
		["terrace-near-the-line", "2027-05-07"],
	])(
		"%s: a method that works before the dark costs none of it, and the plan's own night is not written worse",
		(name, date) => {
			const text = sampleText(name);
			const [own] = nights(text, date, date);
			const { night, methods, tonight } = evaluateText(text);
			const value = methods.find((one) => one.value?.works)?.value;
			const dark = night?.moonless[0]?.from ?? 0;
			// It works, set up and focused, in time to be done when the dark begins.
			expect(value?.setUp.windows.some(({ from, until }) => from <= dark - 600_000 && dark <= until)).toBe(true);
			const [mark] = own?.marks ?? [];
			expect(mark?.at).toBeLessThanOrEqual(dark);
			expect((mark?.at ?? 0) - (value?.takes ?? 0) * 500).toBeGreaterThanOrEqual(tonight?.ready ?? 0);
			const outcome = own && writeNight(readPlan(text), own, evaluateText);
			const written = applyEdits(text, outcome?.ok ? outcome.edits : []);
			const firstFrame = (of: string) => evaluateText(of).evening?.steps.find(({ kind }) => kind === "sky")?.from ?? 0;
			expect(firstFrame(written)).toBeLessThanOrEqual(firstFrame(text));
		},
	);

	test("what cannot be searched is said in words", () => {
		const problem = (text: string, from: string, until: string): string => {
			const outcome = nightsOf(readPlan(text), day(from), day(until));
			return outcome.ok ? "" : told(outcome.why);
		};
		expect(problem("plan:\n  title: A\n", "2027-01-01", "2027-02-01")).toContain("latitude and longitude");
		expect(problem(chapel, "2027-02-01", "2027-01-01")).toContain("before the first");
		expect(problem(chapel, "2027-01-01", "2047-01-01")).toContain(`the limit is ${MOST_NIGHTS}`);
		expect(problem(chapel, "1899-12-01", "1899-12-31")).toContain("1900 to 2100");
	});
});

describe("other marks", () => {
	test("pairs of stars for a sweep: each works when a plan names it", () => {
		const { tonight } = evaluateText(chapel);
		if (!tonight) throw new Error("no night");
		const pairs = sweepPairs({ offset: 90, reach: 1 }, tonight);
		expect(pairs.length).toBeGreaterThan(0);
		for (const { names, radius95, spread } of pairs) {
			const text = chapel.replace(
				/kind: square-laser[\s\S]*?local-rules-checked: true/,
				`kind: star-sweep\n  stars: [${names.join(", ")}]\n  local-rules-checked: true`,
			);
			const [method] = evaluateText(text).methods;
			expect(method?.value?.works).toBe(true);
			expect(method?.value?.budget.radius95).toBeCloseTo(radius95, 6);
			expect(spread).toBeGreaterThan(10);
		}
	});
});

describe("cells taken from other plans", () => {
	const files: Readonly<Record<string, string>> = {
		"stands/chapel.lode.yaml": chapel,
		"stands/again.lode.yaml": "site:\n  from: chapel.lode.yaml\n  name: Chapel, west door\n",
		"stands/a.lode.yaml": "site:\n  from: b.lode.yaml\n",
		"stands/b.lode.yaml": "site:\n  from: a.lode.yaml\n",
		"stands/none.lode.yaml": "plan:\n  title: No site\n",
	};
	const library: Library = (path) =>
		files[path] === undefined ? { missing: "not-found" } : { plan: readPlan(files[path]) };
	const joined = (from: string) => {
		const plan = readPlan(`plan:\n  title: A\n---\nsite:\n  from: ${from}\n  elevation: 1500 m\n`);
		return new PlanJoiner().join(plan, "plans/tonight.lode.yaml", library);
	};
	const problems = (from: string): readonly string[] => joined(from).reuse.problems.map(({ type }) => type);

	test("what the other has, and what this one says instead; through two files too", () => {
		const { site } = evaluate(joined("../stands/again.lode.yaml"));
		expect(site?.content.name).toBe("Chapel, west door");
		expect(site?.spot).toMatchObject({ latitude: -32.4123, longitude: -54.3622, elevation: 1500 });
		expect(joined("../stands/again.lode.yaml").reuse.links.map(({ path }) => path)).toEqual(["stands/again.lode.yaml"]);
	});

	test("circles, missing files, files without such a cell, paths that leave the workspace", () => {
		expect(problems("../stands/a.lode.yaml")).toEqual(["cycle"]);
		expect(problems("tonight.lode.yaml")).toEqual(["cycle"]);
		expect(problems("../stands/nowhere.lode.yaml")).toEqual(["not-found"]);
		expect(problems("../stands/none.lode.yaml")).toEqual(["no-cell"]);
		for (const path of ["../../x.lode.yaml", "../stands/../../../etc/passwd", "a/../../../b.lode.yaml"])
			expect(problems(path)).toEqual(["outside"]);
		for (const path of [
			"/etc/passwd",
			"file:///etc/passwd",
			"https://example.org/a.lode.yaml",
			"'\\\\server\\a'",
			"C:/a",
		])
			expect(problems(path)).toEqual(["not-relative"]);
	});

	test("equal inputs give the same cell, so that nothing is computed again", () => {
		const joiner = new PlanJoiner();
		const plan = readPlan("site:\n  from: ../stands/chapel.lode.yaml\n");
		const shared: Library = (() => {
			const read = readPlan(chapel);
			return () => ({ plan: read });
		})();
		expect(joiner.join(plan, "p/a.lode.yaml", shared).cells[0]?.read).toBe(
			joiner.join(plan, "p/a.lode.yaml", shared).cells[0]?.read,
		);
	});
});

describe("what a night is counted for", () => {
	/** A fixed direction of the sky that is in view from dusk till dawn, whatever the date. */
	const fixed = (tracked: string) =>
		`  - { name: high south, aim: { azimuth: 180, altitude: 75 }, lens: wide, exposure: 8 s${tracked} }\n`;
	const withFixed = (text: string, tracked: string) => text.replace("targets:\n", `targets:\n${fixed(tracked)}`);
	const [from, until] = ["2027-09-25", "2027-10-10"];

	test("the tracked targets: an untracked one that is always there outweighs none of them", () => {
		const alone = nights(chapel, from, until);
		const beside = nights(withFixed(chapel, ", tracked: false"), from, until);
		expect(beside.map(({ minutes }) => Math.round(minutes))).toEqual(alone.map(({ minutes }) => Math.round(minutes)));
		for (const { targets } of [...alone, ...beside]) expect(targets).toEqual(["core over the gable"]);
		// It would have: the same direction tracked counts.
		const counted = nights(withFixed(chapel, ""), from, until);
		expect(Math.max(...counted.map(({ minutes }, i) => minutes - (alone[i]?.minutes ?? 0)))).toBeGreaterThan(60);
		expect(counted[0]?.targets).toEqual(["high south", "core over the gable"]);
	});

	test("where nothing is tracked, what is of the sky", () => {
		const untracked = withFixed(chapel, ", tracked: false").replace(
			"aim: galactic-centre",
			"aim: galactic-centre\n    tracked: false",
		);
		expect(nights(untracked, from, from)[0]?.targets).toEqual(["high south", "core over the gable"]);
	});
});

describe("a meteor shower's nights", () => {
	const meteors = sampleText("meteors-over-ruin");

	test("only those on which it is active, and the plan's own, of its peak, among the first", () => {
		const found = nights(meteors, "2027-01-01", "2027-12-31");
		// Eta Aquariids: 19 April to 28 May, peak on 6 May (International Meteor Organization, Meteor Shower Calendar).
		const usable = found.filter(({ minutes }) => minutes >= 1);
		expect(usable.length).toBeGreaterThan(10);
		// A day either way: the calendar's days are whole, and follow the Sun's longitude from year to year.
		for (const { date } of usable) {
			expect(dayNumber(date)).toBeGreaterThanOrEqual(dayNumber(day("2027-04-18")));
			expect(dayNumber(date)).toBeLessThanOrEqual(dayNumber(day("2027-05-29")));
			const written = evaluateText(meteors.replace("2027-05-06", dateText(date)));
			expect(written.targets?.value?.[0]?.shower?.active(), dateText(date)).toBe(true);
		}
		// New Moon is on 6 May 2027 too (USNO, Phases of the Moon).
		const order = ranked(found).map(({ date }) => dateText(date));
		for (const [place, date] of order.slice(0, 3).entries())
			expect(Math.abs(dayNumber(day(date)) - dayNumber(day("2027-05-06"))), `${place}: ${date}`).toBeLessThanOrEqual(3);
		expect(order.indexOf("2027-05-06")).toBeLessThan(3);
		const [best] = bestOfWeeks(found).best;
		const outcome = best && writeNight(readPlan(meteors), best, evaluateText);
		expect(outcome?.ok).toBe(true);
	});

	test("each night has how near the peak it is, in days, and whether the shower is active", () => {
		const text = meteors.replace(
			/targets:\n/,
			"targets:\n  - name: core\n    aim: galactic-centre\n    exposure: 60 s\n",
		);
		const found = nights(text, "2027-05-01", "2027-06-10");
		const of = (date: string) => found.find((one) => dateText(one.date) === date);
		expect(of("2027-05-06")?.showers).toMatchObject([{ name: "eta Aquariids", active: true, counts: true }]);
		for (const { date, showers } of found)
			expect(Math.abs((showers[0]?.days ?? 99) - (dayNumber(date) - dayNumber(day("2027-05-06"))))).toBeLessThan(1);
		// Usable for the other target, and no night of the shower.
		expect(of("2027-06-05")).toMatchObject({ showers: [{ active: false }] });
		expect(of("2027-06-05")?.minutes).toBeGreaterThan(60);
	});

	test("a shower beside what is tracked counts, tracked or not: of nights that are as good for the core that nearer its peak is first", () => {
		const core = "targets:\n  - name: core\n    aim: galactic-centre\n    exposure: 60 s\n";
		const [from, until] = ["2027-05-01", "2027-06-10"];
		const both = nights(meteors.replace(/targets:\n/, core), from, until);
		const alone = nights(meteors.replace(/targets:\n[\s\S]*/, core), from, until);
		expect(both[0]?.targets).toEqual(["core", "meteors over the gable"]);
		// Alone the core has its longest night about the new Moon of June, when nothing is left of the shower.
		const first = (found: typeof both) => dateText(ranked(found)[0]?.date ?? day("2000-01-01"));
		expect(Math.abs(dayNumber(day(first(alone))) - dayNumber(day("2027-06-04")))).toBeLessThanOrEqual(5);
		expect(Math.abs(dayNumber(day(first(both))) - dayNumber(day("2027-05-06")))).toBeLessThanOrEqual(3);
		// Where the shower is not active the other target's minutes count for half, and are all that is usable.
		for (const { date, showers, minutes, worth } of both) {
			const own = alone.find((one) => dateText(one.date) === dateText(date));
			if (showers[0]?.active) continue;
			expect(minutes, dateText(date)).toBeCloseTo(own?.minutes ?? -1, 6);
			expect(worth, dateText(date)).toBeCloseTo(minutes / 2, 6);
		}
		// Only the one that is asked for, where one is.
		const wanted = { target: "core" };
		const outcome = nightsOf(readPlan(meteors.replace(/targets:\n/, core)), day(from), day(from), undefined, wanted);
		expect(outcome.ok && [...outcome.nights][0]?.targets).toEqual(["core"]);
	});

	test("without the shower the same frames have their nights by minutes alone", () => {
		const found = nights(meteors.replace(/ {4}shower: .*\n/, ""), "2027-01-01", "2027-12-31");
		expect(found.filter(({ minutes }) => minutes >= 1).length).toBeGreaterThan(150);
		for (const { minutes, worth, showers } of found) expect([worth, showers]).toEqual([minutes, []]);
	});
});
