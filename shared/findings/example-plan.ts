/** The plan that the examples of findings change one cell of. It checks clean. Invented, like all stands here. */
import type { CellKindName } from "../cells/kinds.ts";
import type { Example } from "./finding.ts";

export const EXAMPLE_CELLS: Readonly<Record<CellKindName, string | null>> = {
	plan: "title: Core over the sheepfold",
	site: `name: Sheepfold
latitude: 32.4123 S
longitude: 54.3622 W
elevation: 145 m
timezone: America/Montevideo
place: [ruin]
skyline: [[0, 4], [60, 9], [120, 18], [160, 49], [215, 52], [250, 30], [300, 6]]
landmarks:
  - { name: water tower, latitude: 32.4391 S, longitude: 54.3951 W, elevation: 187 m, altitude: 0.6 }`,
	night: `date: 2027-06-05
arrive: "17:00"
leave: "02:00"`,
	lens: `focal-length: 24 mm
f-number: 2
sensor: 36 x 24 mm
pixels: 6000 x 4000`,
	tracker: `head: geared
tilt-scale: ± 0.5°
pan-scale: ± 0.5°`,
	method: `kind: square-laser
guide-star: eta Virginis
at: "20:01"
local-rules-checked: true
uncertainty: { aim: ± 0.2°, squareness: ± 0.2°, roll: ± 0.2°, level: ± 0.2° }`,
	targets: `- name: core over the gate
  aim: galactic-centre
  from: "21:30"
  exposure: 60 s
  frames: 20
  gap: 5 s
  trail: 2 px
  foreground: true`,
	note: null,
	log: null,
	group: null,
	settings: null,
};

/** The targets of an example that is about when a frame is taken: one of the core, at a clock time. */
export const coreFrom = (from: string): string =>
	`- name: core over the gate\n  aim: galactic-centre\n  from: "${from}"\n  exposure: 60 s\n  trail: 2 px\n  foreground: true`;

/** The text of an example. */
export function exampleText(example: Example): string {
	if ("text" in example) return example.text as string;
	const changes = example as Partial<Record<CellKindName, string | readonly string[] | null>>;
	const cells: string[] = [];
	for (const kind of Object.keys(EXAMPLE_CELLS) as CellKindName[]) {
		const change = changes[kind];
		const bodies =
			change === undefined ? [EXAMPLE_CELLS[kind]] : Array.isArray(change) ? change : [change as string | null];
		for (const body of bodies)
			if (typeof body === "string") cells.push(`${kind}:\n${body.replace(/^(?=.)/gm, "  ")}\n`);
	}
	return cells.join("---\n");
}
