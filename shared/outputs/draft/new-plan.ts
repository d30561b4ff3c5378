/** A new plan for a place and a date: the first draft, among a few, that checks clean. */

import { zoneAt } from "../../earth/zone.ts";
import { evaluate } from "../../evaluate/evaluate.ts";
import { check } from "../../findings/check.ts";
import { ALL_METHODS, type AnyMethod } from "../../methods/methods.ts";
import { coordinateText } from "../../notation/coordinate.ts";
import { readPlan } from "../../plan/plan.ts";
import { scalarText } from "../../text/scalar.ts";

export interface NewPlan {
	readonly title: string;
	readonly site: string;
	/** Degrees. */
	readonly latitude: number;
	readonly longitude: number;
	/** `YYYY-MM-DD`. */
	readonly date: string;
}

/** Things to aim at, in the order in which they are offered. */
const AIMS = [
	"galactic-centre",
	"Deneb",
	"Antares",
	"Rigel",
	"Sirius",
	"alpha Centauri",
	"Spica",
	"Regulus",
	"Aldebaran",
	"Fomalhaut",
];

const draftsOf = ({ kind, drafts = [] }: AnyMethod): readonly string[] =>
	drafts.map((keys) => `kind: ${kind}${keys === "" ? "" : `\n  ${keys}`}`);

/** Methods in the order in which they are tried: what works anywhere, badly, comes last. */
const LAST_RESORTS = ALL_METHODS.filter(({ lastResort }) => lastResort).flatMap(draftsOf);
const DRAFTS = [...ALL_METHODS.filter(({ lastResort }) => !lastResort).flatMap(draftsOf), ...LAST_RESORTS];

export function newPlanText(wanted: NewPlan): string {
	let best: { text: string; weight: number } | undefined;
	for (const moon of ["", "\n  moon-allowed: 100 %"]) {
		for (const method of DRAFTS) {
			for (const aim of AIMS) {
				const text = draft(wanted, method, aim, moon);
				const weight = weightOf(text);
				if (weight === 0) return text;
				if (!best || weight < best.weight) best = { text, weight };
			}
		}
	}
	// A night without darkness: something on the ground, which needs none.
	const text = draft(wanted, LAST_RESORTS[0] ?? "", undefined, "");
	return best && best.weight < weightOf(text) ? best.text : text;
}

/** How far a draft is from clean: one error is worse than any number of the rest. */
const weightOf = (text: string): number =>
	check(evaluate(readPlan(text))).reduce((sum, { severity }) => sum + (severity === "error" ? 1000 : 1), 0);

/** Names that somebody else chooses stand in quotes, whatever they hold. */
const quoted = (text: string): string => scalarText(text, { old: '"' });

function draft(
	{ title, site, latitude, longitude, date }: NewPlan,
	method: string,
	aim: string | undefined,
	moon: string,
): string {
	const target =
		aim === undefined
			? "  - name: first light\n    aim: { azimuth: 90, altitude: 10 }\n    exposure: 1 s\n    tracked: false"
			: `  - name: ${quoted(aim)}\n    aim: ${scalarText(aim)}\n    exposure: 30 s\n    frames: 10\n    gap: 5 s\n    foreground: true`;
	return `plan:
  title: ${quoted(title)}
  format: 1
---
site:
  name: ${quoted(site)}
  latitude: ${coordinateText(latitude, "latitude")}
  longitude: ${coordinateText(longitude, "longitude")}
  elevation: 0 m
  timezone: ${zoneAt(latitude, longitude)}
  place: [open]                        # or sea-cave, shore, gorge, ruin, cliff, forest: chooses the cautions
  skyline: [[0, 0]]                    # true bearing, altitude: add what hides the sky
---
night:
  date: ${date}${moon}
---
lens:
  focal-length: 24 mm
  f-number: 2
  sensor: full-frame
  pixels: 6000 x 4000
---
tracker:
  head: geared
  tilt-scale: ± 0.5°
  level: ± 0.3°
  pan-scale: ± 0.5°
---
method:
  ${method}
---
targets:
${target}
`;
}
