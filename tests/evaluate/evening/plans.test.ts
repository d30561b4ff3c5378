/**
 * Nine plans for very different nights (`tests/evening/`), their evenings written down by hand from the rules of DEVELOPERS
 * and `usual-times.ts`: set-up 15 min, focus 5, aiming 3 (6 above 50 mm), a test frame its exposure and 2 min, turning the
 * drive back 3, a foreground its exposures and 4, dark frames theirs and 1, packing up 10, walking out 1.25 times in.
 */
import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { clockOf } from "../../../shared/earth/zone.ts";
import { stepOwner } from "../../../shared/evaluate/evening/words.ts";
import { check } from "../../../shared/findings/check.ts";
import { evaluateText } from "../../plan-text.ts";
import { lodebook } from "../../server/commands/run.ts";

const folder = new URL("../../evening/", import.meta.url);
const textOf = (name: string): string => readFileSync(new URL(`${name}.lode.yaml`, folder), "utf8");

/** `20:00–20:20 sky core`; waiting is left out. */
const evening = (name: string): readonly string[] => eveningOf(textOf(name));

function eveningOf(text: string): readonly string[] {
	const evaluation = evaluateText(text);
	const clock = (at: number): string => clockOf(evaluation.night?.zone ?? "UTC", at);
	return (evaluation.evening?.steps ?? [])
		.filter(({ kind }) => kind !== "wait")
		.map((step) =>
			[`${clock(step.from)}–${clock(step.until)}`, step.kind, stepOwner(step, evaluation)].filter(Boolean).join(" "),
		);
}

/** Milliseconds are of no use by hand: each evening as it is told, to the minute. */
const EVENINGS: Readonly<Record<string, readonly string[]>> = {
	// The light is seen as soon as one is set up; Capella is dark enough from 23:40 (Sun 15° below). The ground waits for
	// the true dark at 00:10, two frames of 2 min.
	"northern-sea-cave": [
		"22:10–22:30 walk-in",
		"22:30–22:45 set-up",
		"22:45–22:50 focus",
		"22:50–22:58 align bearing from a landmark",
		"23:14–23:17 check",
		"23:34–23:37 re-aim Capella over the water",
		"23:37–23:40 test-frame Capella over the water",
		"23:40–00:01 sky Capella over the water",
		"00:10–00:18 foreground Capella over the water",
		"01:50–02:00 pack-up",
		"02:00–02:25 walk-out",
	],
	// The drive runs 30 min: two series of 20 min need it wound back between them, and
	// wound back the camera looks elsewhere. Five darks of a minute. Two hours after
	// it was focused the camera is looked at, 3 min.
	"southern-gorge": [
		"18:00–18:15 set-up",
		"18:15–18:20 focus",
		"18:29–18:32 check",
		"19:06–19:14 align bearing from the sky",
		"19:54–19:57 re-aim core",
		"19:57–20:00 test-frame core",
		"20:00–20:20 sky core",
		"20:32–20:35 check",
		"20:39–20:42 turn-back core again",
		"20:42–20:45 re-aim core again",
		"20:45–21:05 sky core again",
		"21:05–21:11 darks core again",
		"22:50–23:00 pack-up",
	],
	// The second camera runs for an hour by itself: 120 × 31 s less a gap. Its test frame takes 2 min 30 s, on minutes 3.
	"near-the-line": [
		"18:30–18:45 set-up",
		"18:45–18:50 focus",
		"19:09–19:12 check",
		"19:26–19:34 align bearing from the sky",
		"19:57–20:00 test-frame arcs over the valley",
		"20:00–21:02 sky arcs over the valley",
		"20:09–20:12 re-aim core",
		"20:12–20:15 test-frame core",
		"20:15–20:35 sky core",
		"23:20–23:30 pack-up",
	],
	// Nothing is tracked: nothing is aligned. Ten frames, nine pauses of 10 s.
	"far-north-june": [
		"23:00–23:15 set-up",
		"23:15–23:20 focus",
		"23:42–23:45 test-frame Moon over the bay",
		"23:45–23:47 sky Moon over the bay",
		"01:50–02:00 pack-up",
	],
	// In the cold all takes longer: 25, 10 and 20 min. 30 × 62 s less a pause.
	"far-north-march": [
		"21:00–21:25 set-up",
		"21:25–21:35 focus",
		"21:46–21:54 align bearing from the sky",
		"21:54–21:57 re-aim Orion",
		"21:57–22:00 test-frame Orion",
		"22:00–22:31 sky Orion",
		"00:40–01:00 pack-up",
	],
	// No minute is left: 39 × 61 s less a pause are 39 min 38 s of the 40.
	"one-hour": [
		"21:00–21:08 set-up",
		"21:08–21:12 focus",
		"21:12–21:15 test-frame arcs over the pass",
		"21:15–21:55 sky arcs over the pass",
		"21:55–22:00 pack-up",
	],
	// A row of ground by last light, then three panels, one right after the other: so short a turn needs no test frame.
	panorama: [
		"17:30–17:45 set-up",
		"17:45–17:50 focus",
		"17:57–18:00 test-frame ground row",
		"18:00–18:01 sky ground row",
		"18:05–18:08 check",
		"19:26–19:34 align bearing from the sky",
		"19:34–19:37 re-aim left panel",
		"19:37–19:41 test-frame left panel",
		"19:41–19:47 sky left panel",
		"19:47–19:50 re-aim middle panel",
		"19:50–19:56 sky middle panel",
		"19:56–19:59 re-aim right panel",
		"19:59–20:05 sky right panel",
		"23:20–23:30 pack-up",
	],
	// Everybody sets up in half an hour and aligns in 25 min; the way out of 15 min in takes 18 min 45 s.
	workshop: [
		"20:15–20:30 walk-in",
		"20:30–21:00 set-up",
		"21:00–21:15 focus",
		"21:15–21:40 align bearing from a landmark",
		"22:39–22:42 re-aim Milky Way in Aquila",
		"22:42–22:45 test-frame Milky Way in Aquila",
		"22:45–23:07 sky Milky Way in Aquila",
		"23:07–23:13 darks Milky Way in Aquila",
		"00:10–00:30 pack-up",
		"00:30–00:49 walk-out",
	],
	// A long lens is aimed in 6 min. What has no time of its own finds room before what has; a turn of 14° needs no test frame.
	"long-lens": [
		"18:00–18:15 set-up",
		"18:15–18:20 focus",
		"18:56–19:04 align bearing from the sky",
		"19:04–19:10 re-aim Hyades",
		"19:10–19:13 test-frame Hyades",
		"19:13–19:29 sky Hyades",
		"19:39–19:45 re-aim Pleiades",
		"19:45–20:01 sky Pleiades",
		"23:20–23:30 pack-up",
	],
};

/** One of the samples: a comet at the end of dusk. */
const COMET = [
	"20:15–20:30 set-up",
	"20:30–20:35 focus",
	// The pole star shows in a scope from 21:11 on: the 5 min lie around the whole minute.
	"21:08–21:13 align pole sighting",
	// Focused by daylight: looked at on a star when civil twilight ends at 21:15:44.
	"21:16–21:19 check",
	// Three frames of 30 s in the last light, until the Sun is 12° down at 21:53, and before one aims.
	"21:46–21:52 foreground comet over the wind pump",
	"21:52–21:55 re-aim comet over the wind pump",
	// 20 s and 2 min, on whole minutes.
	"21:55–21:58 test-frame comet over the wind pump",
	"21:58–22:05 sky comet over the wind pump",
	"23:20–23:30 pack-up",
];

describe("evenings of different nights", () => {
	test("a comet at dusk", () => {
		expect(eveningOf(readFileSync(new URL("../../../samples/dusk-comet.lode.yaml", import.meta.url), "utf8"))).toEqual(
			COMET,
		);
	});

	test.each(Object.entries(EVENINGS))("%s", (name, steps) => {
		expect(evening(name)).toEqual(steps);
		expect(
			check(evaluateText(textOf(name)))
				.filter(({ severity }) => severity !== "info")
				.map(({ message }) => message),
		).toEqual([]);
	});

	test("every plan of the folder is among them", () => {
		const plans = readdirSync(folder).map((file) => file.replace(".lode.yaml", ""));
		expect(plans.sort()).toEqual([...Object.keys(EVENINGS), "late-laser"].sort());
	});

	test("a laser that comes after the frames is a warning: the check fails on it", () => {
		const path = new URL("late-laser.lode.yaml", folder).pathname;
		const { status, stdout } = lodebook("check", path, "--fail-on", "warning");
		expect(status).toBe(1);
		// The laser is done at 21:22, the frames begin at 20:30.
		expect(stdout).toContain("ends at 21:22, 52 min after the frames of core over the gable begin (20:30)");
		const { evening: steps } = JSON.parse(lodebook("show", path, "--json").stdout);
		expect(steps.map(({ kind }: { kind: string }) => kind)).toContain("align");
	});
});

test.each([
	["terrace-near-the-line", "19:47"],
	["larch-clearing", "20:02"],
])("%s: an alignment of odd minutes ends in its method's table when it ends in the evening", (name, ends) => {
	const text = readFileSync(new URL(`../../../samples/${name}.lode.yaml`, import.meta.url), "utf8");
	const { evening, methods, night } = evaluateText(text);
	const step = evening?.steps.find(({ kind }) => kind === "align");
	expect(clockOf(night?.zone ?? "UTC", step?.until ?? 0)).toBe(ends);
	expect(methods[step?.of ?? 0]?.value?.done).toBe(step?.until);
});
