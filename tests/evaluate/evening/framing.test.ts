/** Whether the ground has the framing of its sky, by what lies between them in the evening. */
import { expect, test } from "vitest";
import { groundFraming } from "../../../shared/evaluate/evening/framing.ts";
import { eveningRows } from "../../../shared/outputs/evening.ts";
import { pointingOf, pointingText } from "../../../shared/outputs/pointing.ts";
import { turn } from "../../../shared/sky/vector.ts";
import { evaluateText, planWith } from "../../plan-text.ts";

function framings(targets: string, lens?: readonly string[]): readonly (string | undefined)[] {
	const { evening, tasks, targets: found } = evaluateText(planWith({ targets, ...(lens && { lens }) }));
	return (found?.value ?? []).map((one) => evening && tasks && one && groundFraming(evening, tasks, one.index));
}

const core = (from: string, more = ""): string =>
	`- name: core ${from}\n  aim: galactic-centre\n  from: "${from}"\n  exposure: 60 s\n  frames: 10\n  trail: 4 px\n  ${more}`;
const other = (from: string): string =>
	`- name: Antares\n  aim: Antares\n  from: "${from}"\n  exposure: 60 s\n  frames: 5\n  trail: 4 px\n`;

test("right after tracked frames it has, once the drive is wound back", () => {
	expect(framings(core("21:00", "foreground: true"))).toEqual(["turned"]);
});

test("not where the camera was aimed at something else, or aligned, in between", () => {
	// Before the alignment at 20:01.
	expect(framings(core("21:00", 'foreground: { at: "19:30" }'))).toEqual(["anew"]);
	expect(framings(core("21:00", 'foreground: { at: "21:40" }\n') + other("21:20"))).toEqual(["anew", undefined]);
});

test("untracked it has, before and after, as long as nobody moves the camera; another camera may be moved", () => {
	const arcs = (more: string): string =>
		`- name: arcs\n  aim: { azimuth: 120, altitude: 20 }\n  from: "21:00"\n  exposure: 5 s\n  tracked: false\n  ${more}`;
	expect(framings(arcs('foreground: { at: "21:05" }'))).toEqual(["same"]);
	expect(framings(arcs('foreground: { at: "21:40" }\n') + other("21:20"))).toEqual(["anew", undefined]);
	const lens = ["wide", "second"].map(
		(name) =>
			`name: ${name}\ncamera: ${name}\nfocal-length: 24 mm\nf-number: 2\nsensor: full-frame\npixels: 6000 x 4000`,
	);
	const two = `${arcs('lens: second\n  foreground: { at: "21:40" }\n')}${other("21:20")}  lens: wide\n`;
	expect(framings(two, lens)).toEqual(["same", undefined]);
});

test("the evening says where the camera looks for the ground: where the target is when its own frames begin", () => {
	const rows = (targets: string) => eveningRows(evaluateText(planWith({ targets })));
	const about = (targets: string): string => rows(targets).find(({ kind }) => kind === "foreground")?.about ?? "";
	const aim = (targets: string): string => rows(targets).find(({ kind }) => kind === "re-aim")?.about ?? "";
	const after = core("21:00", "foreground: true");
	expect(aim(after)).toMatch(/^\d{3}°M \(\d{3}\.\d°T\), altitude \d\d\.\d°$/);
	expect(about(after)).toBe(
		`1 × 60 s, ${aim(after)}. Turn the tracker back to the framing of the first sky frame, then switch it off`,
	);
	const before = core("21:00", 'foreground: { at: "19:30" }');
	expect(about(before)).toBe(
		`1 × 60 s, ${aim(before)}: frame it as you will frame the sky, and mark the tripod's place`,
	);
	const arcs =
		'- name: arcs\n  aim: { azimuth: 120, altitude: 20 }\n  from: "21:00"\n  exposure: 5 s\n  tracked: false\n  foreground: { at: "21:05" }';
	expect(about(arcs)).toMatch(/^1 × 5 s, \d{3}°M \(120\.0°T\), altitude 20\.0°\. Same framing as the sky$/);
	// Without an alignment nothing lies between them; the tracker would run on.
	const targets = core("21:00", 'foreground: { at: "20:30" }');
	const unaligned = eveningRows(evaluateText(planWith({ targets, method: null })));
	expect(unaligned.find(({ kind }) => kind === "foreground")?.about).toMatch(
		/\. Same framing as the sky; tracker off$/,
	);
	// Of a panorama the first of the ground's panels and the last, as the list of panels has them.
	const panels = `${core("21:00", "foreground: true")}\n  panorama: { columns: 3, rows: 1 }`;
	const { targets: found, field } = evaluateText(planWith({ targets: panels }));
	const [row] = found?.value?.[0]?.panorama?.ground()?.rows ?? [];
	const ends = [row?.bearings[0], row?.bearings.at(-1)].map((bearing = Number.NaN) =>
		pointingText(pointingOf({ azimuth: turn(bearing), altitude: row?.altitude ?? Number.NaN }, { field })),
	);
	expect(new Set(ends).size).toBe(2);
	expect(about(panels)).toBe(`${row?.bearings.length} × 60 s, ${ends.join(" to ")}, tracker off`);
	const one = `${core("21:00", "foreground: { panorama: { columns: 1 } }")}\n  panorama: { columns: 1, rows: 1 }`;
	expect(about(one)).toMatch(/^1 × 60 s, \d{3}°M \([\d.]+°T\), altitude \S+°, tracker off$/);
});
