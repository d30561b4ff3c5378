import { mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, test } from "vitest";
import { chapel, lodebook } from "./run.ts";

const nights = (...args: string[]) => JSON.parse(lodebook("nights", chapel, "--json", ...args).stdout).nights;

test("the plan's own night: what show says of the target, and what stars lists", () => {
	const [night, ...more] = nights("--from", "2027-06-05", "--until", "2027-06-05");
	expect(more).toEqual([]);
	const shown = JSON.parse(lodebook("show", chapel, "--json").stdout);
	const usable = shown.windows.filter(({ what }: { what: string }) => what === "target: core over the gable");
	expect(night.windows).toEqual(usable.map(({ from, until }: { from: string; until: string }) => ({ from, until })));
	const { stars } = JSON.parse(lodebook("stars", chapel, "--json").stdout);
	const known = new Map(stars.map(({ name, best }: { name: string; best: string }) => [name, best]));
	for (const { name, at } of night.guideStars) expect(known.get(name)).toBe(at);
	// The laser is done, five minutes after its star's moment, when the core comes into view.
	expect(Date.parse(night.guideStars[0].at) + 300_000).toBeLessThanOrEqual(Date.parse(night.windows[0].from));
	expect(night).toMatchObject({ date: "2027-06-05", method: "square-laser", aligns: true, rank: 1 });
});

test("a lunar month: every night once, in order, dark around new Moon only", () => {
	// New Moon on 2027-06-04, full on 2027-06-19 (USNO, Phases of the Moon).
	const month = nights("--from", "2027-06-05", "--until", "2027-07-03");
	expect(month.map(({ date }: { date: string }) => date.slice(8))).toEqual(
		[...Array.from({ length: 26 }, (_, i) => i + 5), 1, 2, 3].map((day) => String(day).padStart(2, "0")),
	);
	const minutes = new Map<string, number>(
		month.map(({ date, minutes: n }: { date: string; minutes: number }) => [date, n]),
	);
	expect(minutes.get("2027-06-18")).toBe(0);
	expect(minutes.get("2027-07-03")).toBeGreaterThan(380);
	for (const { windows, minutes: sum } of month) {
		const total = windows.reduce(
			(n: number, { from, until }: { from: string; until: string }) =>
				n + (Date.parse(until) - Date.parse(from)) / 60_000,
			0,
		);
		if (sum > 0) expect(Math.abs(total - sum)).toBeLessThan(0.05);
	}
	expect([...month].map(({ rank }: { rank: number }) => rank).sort((a, b) => a - b)).toEqual(
		month.map((_: unknown, i: number) => i + 1),
	);
});

test("about full Moon no night is called the best of a new-moon week; those that are usable are listed all the same", () => {
	// Full Moon on 2027-06-19 (USNO, Phases of the Moon).
	const gorge = chapel.replace("roofless-chapel", "dry-gorge");
	const asked = ["--from", "2027-06-16", "--until", "2027-06-24"];
	const found = JSON.parse(lodebook("nights", gorge, "--json", ...asked).stdout).nights;
	expect(found.filter(({ bestOfNewMoonWeek }: { bestOfNewMoonWeek: boolean }) => bestOfNewMoonWeek)).toEqual([]);
	for (const paths of [[gorge], [gorge, chapel]]) {
		const said = lodebook("nights", ...paths, ...asked).stdout;
		expect(said).toMatch(/^2027-06-24 Thu +3 h/m);
		expect(said).not.toContain("The best of each new-moon week");
	}
});

test("--write puts a night into a copy, which then checks clean and keeps every other line", () => {
	const copy = join(mkdtempSync(join(tmpdir(), "lodebook-")), "copy.lode.yaml");
	const before = readFileSync(chapel, "utf8");
	writeFileSync(copy, before);
	expect(lodebook("nights", copy, "--write", "2027-07-04")).toMatchObject({ status: 0, stdout: "" });
	const after = readFileSync(copy, "utf8");
	const changed = after.split("\n").filter((line, i) => line !== before.split("\n")[i]);
	expect(changed).toEqual(["  date: 2027-07-04", "  guide-star: zeta Virginis", '  at: "19:23"']);
	expect(lodebook("check", copy).status).toBe(0);
});

test("--write moves the time of a target that is given by right ascension and declination, and not that of the ground", () => {
	const copy = join(mkdtempSync(join(tmpdir(), "lodebook-")), "copy.lode.yaml");
	const text = readFileSync(chapel, "utf8").replace(
		"aim: galactic-centre",
		"aim: { right-ascension: 266.42°, declination: -29° }",
	);
	writeFileSync(copy, text.replace('from: "20:30"', 'from: "17:05"'));
	expect(lodebook("nights", copy, "--write", "2027-07-04").status).toBe(0);
	const after = readFileSync(copy, "utf8");
	expect(after).not.toContain('from: "17:05"');
	// The laser on zeta Virginis at 19:23 is done at 19:28; aiming takes 3 min and a test frame of 90 s 4 min.
	expect(after).toMatch(/from: "19:35"/);
	expect(after).toContain('at: "18:10"');
});

test("ranges that cannot be searched are refused with the reason", () => {
	expect(lodebook("nights", chapel, "--from", "2027-06-05", "--until", "2027-06-04")).toMatchObject({
		status: 2,
		stderr: expect.stringContaining("before the first"),
	});
	expect(lodebook("nights", chapel, "--from", "2027-02-30")).toMatchObject({
		status: 2,
		stderr: expect.stringContaining("2027-06-05"),
	});
	expect(lodebook("nights", chapel, "--from", "2090-01-01", "--until", "2110-01-01")).toMatchObject({
		status: 2,
		stderr: expect.stringContaining("too many"),
	});
});

test("the best night of each new-moon week; --all the others too; --weekday; the plan's own date beside", () => {
	const list = (...args: string[]): readonly string[] =>
		lodebook("nights", chapel, "--from", "2027-05-01", "--until", "2027-07-31", ...args)
			.stdout.split("\n")
			.filter((line) => /^\d{4}-\d\d-\d\d /.test(line));
	const best = list();
	// New Moons of 2027: 6 May, 4 June, 4 July, 2 August (USNO, Phases of the Moon); and the plan's date.
	expect(best.length).toBe(5);
	expect(best.at(-1)).toMatch(
		/^2027-06-05 Sat +6 h 21 min +19:39–02:00 \(\+1\) +3 % +\S.* at \d\d:\d\d \(right-angle laser\)$/,
	);
	expect(list("--all").length).toBeGreaterThan(40);
	expect(list("--best", "2").length).toBe(3);
	for (const line of list("--weekday", "fri,sat").slice(0, -1)) expect(line).toMatch(/ (Fri|Sat) /);
	expect(lodebook("nights", chapel, "--weekday", "friday")).toMatchObject({
		status: 2,
		stderr: expect.stringContaining("fri,sat"),
	});
	const record = JSON.parse(lodebook("nights", chapel, "--json", "--until", "2027-06-30").stdout);
	expect(record.present).toMatchObject({ date: "2027-06-05", weekday: "Sat" });
	expect(record.nights.filter(({ bestOfNewMoonWeek: one }: { bestOfNewMoonWeek: boolean }) => one).length).toBe(2);
});

test("a night that cannot be written leaves the file as it is", () => {
	const copy = join(mkdtempSync(join(tmpdir(), "lodebook-")), "copy.lode.yaml");
	const before = readFileSync(chapel, "utf8");
	writeFileSync(copy, before);
	// Full Moon (USNO, Phases of the Moon).
	expect(lodebook("nights", copy, "--write", "2027-06-19")).toMatchObject({
		status: 2,
		stdout: "",
		stderr: expect.stringContaining("without causing a new problem"),
	});
	expect(readFileSync(copy, "utf8")).toBe(before);
});

test("by the sea low water is said to be unknown", () => {
	const cave = chapel.replace("roofless-chapel", "gannet-cave");
	expect(lodebook("nights", cave, "--until", "2027-05-20").stdout).toContain("Low water is not known");
	expect(lodebook("nights", chapel, "--until", "2027-06-20").stdout).not.toContain("Low water");
});

test("only the time in which a target is framed as it is asked for counts, which is said", () => {
	const framed = lodebook("nights", chapel, "--until", "2027-07-04", "--bearing", "100-140", "--above", "40°");
	expect(framed).toMatchObject({ status: 0, stderr: "" });
	expect(framed.stdout).toContain(
		"Counted only while a target is between bearings 100° and 140° (clockwise) and is above 40°.",
	);
	const month = ["--from", "2027-06-01", "--until", "2027-06-10"];
	const sum = (...args: string[]) =>
		nights(...month, ...args).reduce((all: number, { minutes }: { minutes: number }) => all + minutes, 0);
	expect(sum("--bearing", "100-140", "--above", "40")).toBeLessThan(sum());
	expect(sum("--target", "core over the gable")).toBe(sum());
	for (const [args, says] of [
		[["--target", "nobody"], "no target of the plan is called nobody"],
		[["--whole-arch"], "milky-way-arch"],
		[["--bearing", "400-20"], "170-190"],
		[["--above", "high"], "an altitude in degrees, such as 15"],
	] as const)
		expect(lodebook("nights", chapel, ...args)).toMatchObject({ status: 2, stderr: expect.stringContaining(says) });
	const none = lodebook("nights", chapel, ...month, "--above", "89.9").stdout;
	expect(none).toContain("framed in the way you asked for");
	expect(none).not.toContain("tallest bar");
});

test("why a column or a list is empty, and a night on which the clock is changed", () => {
	const of = (sample: string, ...args: string[]): string =>
		lodebook("nights", chapel.replace("roofless-chapel", sample), ...args).stdout;
	expect(of("mistakes", "--until", "2027-06-10")).toContain("the plan has errors; see lodebook check");
	// Untracked frames.
	expect(of("meteors-over-ruin", "--until", "2027-05-10")).toMatch(/ \d+ % .* nothing to align\n/);
	// With a meteor shower there is a column of how near its peak a night is, or that it is not active.
	const shown = of("meteors-over-ruin", "--from", "2027-05-01", "--until", "2027-05-10");
	expect(shown).toMatch(/^evening .* shower +align on$/m);
	expect(shown).toMatch(/^2027-05-06 .* eta Aquariids: peak +nothing to align$/m);
	expect(shown).not.toContain("not active");
	const [later] = JSON.parse(of("meteors-over-ruin", "--from", "2027-06-20", "--until", "2027-06-20", "--json")).nights;
	expect(later.showers).toEqual([{ name: "eta Aquariids", active: false, daysFromPeak: expect.closeTo(45.5, 0) }]);
	const present = lodebook(
		"nights",
		chapel.replace("roofless-chapel", "meteors-over-ruin"),
		"--from",
		"2027-06-01",
		"--until",
		"2027-06-02",
	);
	expect(present.stdout).toContain("the meteor shower of the plan (eta Aquariids) is not active on them");
	expect(of("roofless-chapel", "--until", "2027-06-10")).not.toContain("shower");
	// Summer time begins on the first Sunday of October and ends on that of April (New South Wales, Standard Time Act 1987).
	const sky = join(mkdtempSync(join(tmpdir(), "lodebook-")), "sky.lode.yaml");
	const meteors = readFileSync(chapel.replace("roofless-chapel", "meteors-over-ruin"), "utf8");
	writeFileSync(sky, meteors.replace(/^ *shower: .*\n/m, ""));
	const changes = (from: string, until: string): readonly string[] =>
		lodebook("nights", sky, "--from", from, "--until", until, "--all")
			.stdout.split("\n")
			.filter((line) => /clocks go/.test(line));
	expect(changes("2027-09-25", "2027-10-10")).toEqual([expect.stringMatching(/^2027-10-02 .*, clocks go forward/)]);
	expect(changes("2028-03-25", "2028-04-09")).toEqual([expect.stringMatching(/^2028-04-01 .*, clocks go back/)]);
});
