/** Three plans that were written from an empty file and read as one follows them: what was wrong or hard to follow in them. */
import { describe, expect, test } from "vitest";
import { check } from "../../../shared/findings/check.ts";
import { eveningRows } from "../../../shared/outputs/evening.ts";
import { summaryMarkdown } from "../../../shared/outputs/markdown/summary.ts";
import { pageBody } from "../../../shared/outputs/page/page.tsx";
import { pageView } from "../../../shared/outputs/page/view.ts";
import { planText } from "../../../shared/outputs/text/plan.ts";
import { applyEdits } from "../../../shared/text/edits.ts";
import { PLAIN } from "../../plain-environment.ts";
import { evaluateText, planWith } from "../../plan-text.ts";

/** 60° N in May: the pole is behind the fell, a lit mast in the south-east. */
const NORTH = `plan:
  title: Vega over the fell
---
site:
  name: Fell edge
  latitude: 60.15 N
  longitude: 6.40 E
  elevation: 920 m
  timezone: Europe/Oslo
  skyline: [[0, 66], [30, 40], [90, 6], [180, 4], [270, 8], [330, 62]]
  landmarks:
    - { name: radio mast, bearing: 142.6, altitude: 1.2°, lit: true }
---
night:
  date: 2027-05-06
  arrive: "22:30"
  leave: "02:40"
  sun-below: 9°
---
lens:
  focal-length: 50 mm
  f-number: 2
  sensor: full-frame
  pixels: 6000 x 4000
---
tracker:
  head: geared
---
method:
  kind: drift
  first: { star: Pollux }
  second: { star: Arcturus }
---
method:
  kind: landmark-bearing
  landmark: radio mast
---
method:
  kind: compass
---
targets:
  - name: Vega field
    aim: Vega
    from: "00:30"
    exposure: 60 s
    frames: 30
    gap: 2 s
    trail: 2 px
`;

const plainOf = (text: string): string => {
	const evaluation = evaluateText(text);
	return planText({ path: "north.lode.yaml", text, evaluation, findings: check(evaluation) }, PLAIN);
};

describe("what only corrects the axis", () => {
	test("is called that on every face, and is no fallback", () => {
		const evaluation = evaluateText(NORTH);
		const rows = eveningRows(evaluation).map(({ say }) => say);
		expect(rows.filter((say) => /^(?:Align|Correct)/.test(say))).toEqual([
			"Align: bearing from a landmark",
			"Correct the axis: drift test",
		]);
		const headings = ["Align: bearing from a landmark", "Fallback 1: compass", "Correct the axis: drift test"];
		const plain = plainOf(NORTH).split("\n");
		expect(plain.filter((line) => /^(?:Align: |Fallback \d: |Correct the axis: )/.test(line))).toEqual(headings);
		// Planned for 23:01 it has its steps open, not folded away below the fallbacks.
		const [before = "", after = ""] = pageBody(pageView(evaluation, [])).split("Fallback 1: ");
		expect(before).toMatch(/Correct the axis: drift test<[\s\S]*with its middle at 23:08 on Pollux/);
		expect(after).not.toContain("with its middle at 23:08 on Pollux");
		const markdown = summaryMarkdown(evaluation, check(evaluation));
		for (const heading of headings) expect(markdown).toContain(heading);
		expect(pageView(evaluation, []).methods.map(({ name, corrects }) => [name, corrects])).toEqual([
			["bearing from a landmark", false],
			["compass", false],
			["drift test", true],
		]);
	});

	test("needs no clock times of its own", () => {
		expect(
			check(evaluateText(NORTH)).flatMap(({ severity, message }) => (severity === "info" ? [] : [message])),
		).toEqual([]);
	});
});

test("an alignment at any time is done when the evening has it done; a fallback only if it is begun on arrival", () => {
	const plain = plainOf(NORTH);
	const of = (heading: string): string => plain.slice(plain.indexOf(`\n${heading}`)).split("\n\n")[0] ?? "";
	// 22:30 and 20 min for setting up and focusing, 8 min for the landmark.
	expect(of("Align: bearing from a landmark")).toMatch(/Alignment done +22:58\n/);
	expect(of("Fallback 1: compass")).toMatch(/Alignment done, if begun on arrival +22:35\n/);
});

test("a frame of the ground before arriving is not moved into the dark, but to when one is ready", () => {
	const text = planWith({
		night: 'date: 2027-06-05\narrive: "17:00"\nleave: "02:00"',
		targets: '- { name: gable, aim: { azimuth: 110, altitude: 40 }, exposure: 4 s, tracked: false, at: "16:40" }',
	});
	const [outside] = check(evaluateText(text)).filter(({ code }) => code === "target/outside-stay");
	// Ready at 17:20, aimed by 17:23, a test frame of 2 min and 4 s.
	expect(outside?.fixes.map(({ title }) => title)).toEqual(["Begin at 17:26"]);
	const after = check(evaluateText(applyEdits(text, outside?.fixes[0]?.edits ?? [])));
	expect(after.map(({ code }) => code)).not.toContain("evening/set-up-short");
});

test("that target and ground never fit is a sentence", () => {
	const text = planWith({
		lens: "focal-length: 200 mm\nf-number: 4\nsensor: full-frame\npixels: 6000 x 4000",
		night: 'date: 2027-06-05\narrive: "21:00"\nleave: "23:00"',
		targets: "- { name: core, aim: galactic-centre, exposure: 10 s, trail: 60 px, foreground: { exposure: 60 s } }",
	});
	const messages = check(evaluateText(text)).flatMap(({ code, message }) =>
		code === "target/no-ground" ? [message] : [],
	);
	expect(messages).toEqual([
		expect.stringMatching(
			/^At \d\d:\d\d no ground is in the frame of core\. Target and ground never fit into one frame while you are on site\. Use a shorter focal length, or add a row of the ground below as a panorama\.$/,
		),
	]);
});

/** Frames of the ground that find no room behind the sky: another target is taken right after it. */
const withGround = (foreground: string): ReturnType<typeof evaluateText> =>
	evaluateText(
		planWith({
			night: 'date: 2027-06-05\narrive: "17:00"\nleave: "02:00"',
			method: 'kind: landmark-bearing\nlandmark: water tower\nat: "20:15"',
			targets: `- name: core\n  aim: galactic-centre\n  at: "20:30"\n  exposure: 90 s\n  frames: 10\n  foreground: ${foreground}
- name: Antares\n  aim: Antares\n  at: "20:49"\n  exposure: 60 s\n  frames: 60`,
		}),
	);

test("ground exposed as long as the night's sky is not taken in the dusk; a short exposure is, and what asks for the dusk", () => {
	const groundOf = (foreground: string) => {
		const { evening, night } = withGround(foreground);
		const step = evening?.steps.find(({ kind }) => kind === "foreground");
		return step && night
			? { step, dark: night.sky.sunDark.some((one) => one.from <= step.from && step.until <= one.until) }
			: undefined;
	};
	// Sunset is at 17:41 there, astronomical dusk at 19:09.
	for (const foreground of ["true", "{ exposure: 120 s }", "{ exposure: 10 s }"])
		expect(groundOf(foreground)?.dark, foreground).toBe(true);
	for (const foreground of ["{ exposure: 9 s }", "{ exposure: 120 s, light: dusk }"])
		expect(groundOf(foreground)?.dark, foreground).toBe(false);
});
