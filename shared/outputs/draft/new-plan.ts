/** A new plan for a place and a date: the first draft, among a few, that checks clean. */
import { zoneAt } from "../../earth/zone.ts";
import { evaluate } from "../../evaluate/evaluate.ts";
import { check } from "../../findings/check.ts";
import { ALL_METHODS, type AnyMethod } from "../../methods/methods.ts";
import { coordinateText } from "../../notation/coordinate.ts";
import { type Plan, readPlan } from "../../plan/plan.ts";
import { scalarText, typedText } from "../../text/scalar.ts";

export interface NewPlan {
	readonly title: string;
	readonly site: string;
	/** Degrees. */
	readonly latitude: number;
	readonly longitude: number;
	/** `YYYY-MM-DD`. */
	readonly date: string;
	/** Lens, camera and head as a plan writes them. */
	readonly kit?: Kit;
	/** Lens and tracker as other plans have them, in place of the kit. */
	readonly taken?: { readonly from: string; readonly lens?: string; readonly tracker: boolean } | undefined;
	/** Reads a draft, with what it takes from others. */
	readonly read?: ((text: string) => Plan) | undefined;
	/** Whether a tracker follows the stars: else nothing is aligned. */
	readonly tracked?: boolean;
}

/** What the command line plans with unless it is told otherwise. */
const USUAL_KIT = {
	"focal-length": "24 mm",
	"f-number": "2",
	sensor: "full-frame",
	pixels: "6000 x 4000",
	head: "geared",
} as const;

type KitKey = keyof typeof USUAL_KIT;

/** Lens, camera and head: values as a plan writes them. */
type Kit = { readonly [K in KitKey]?: string };

/** Exposures that are tried, the longest first: a long lens, or an axis that is set roughly, takes a short one. */
const EXPOSURES = ["30 s", "10 s", "4 s", "1 s", "0.4 s", "0.1 s"];

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

/** The first draft that checks clean, else the best of all. */
export function newPlanText(wanted: NewPlan): string {
	const { read = readPlan } = wanted;
	let best: Weighed | undefined;
	const methods = wanted.tracked === false ? [undefined] : DRAFTS;
	for (const exposure of EXPOSURES) {
		for (const moon of ["", "\n  moon-allowed: 100 %"]) {
			for (const method of methods) {
				for (const aim of AIMS) {
					const one = weighed(wanted, { method, aim, moon, exposure }, read);
					if (one.weight === 0) return one.text;
					if (!best || one.weight < best.weight) best = one;
				}
			}
		}
		// A shorter exposure helps only where an exposure is too long.
		if (best && !best.codes.some((code) => code.endsWith("-too-long"))) break;
	}
	// A night without darkness: something on the ground, which needs none.
	const text = draft(wanted, { method: LAST_RESORTS[0], aim: undefined, moon: "", exposure: "1 s", ground: false });
	return best && best.weight < checked(text, read).weight ? best.text : text;
}

interface Weighed {
	readonly text: string;
	/** Codes of what is found in it. */
	readonly codes: readonly string[];
	/** How far it is from clean: one error is worse than any number of the rest. */
	readonly weight: number;
}

/** A draft with its weight: with the ground under its target, where that is in the frame. */
function weighed(wanted: NewPlan, parts: Omit<Draft, "ground">, read: (text: string) => Plan): Weighed {
	const whole = checked(draft(wanted, { ...parts, ground: true }), read);
	return whole.codes.includes("target/no-ground") ? checked(draft(wanted, { ...parts, ground: false }), read) : whole;
}

function checked(text: string, read: (text: string) => Plan): Weighed {
	const findings = check(evaluate(read(text)));
	return {
		text,
		codes: findings.map(({ code }) => code),
		weight: findings.reduce((sum, { severity }) => sum + (severity === "error" ? 1000 : 1), 0),
	};
}

/** Names that somebody else chooses stand in quotes, whatever they hold. */
const quoted = (text: string): string => scalarText(text, { old: '"' });

/** What is tried. */
interface Draft {
	/** Lines of the method's cell; none where nothing is aligned. */
	readonly method: string | undefined;
	/** None: something on the ground. */
	readonly aim: string | undefined;
	readonly moon: string;
	readonly exposure: string;
	/** Whether the ground is taken with a tracked target. */
	readonly ground: boolean;
}

function draft(
	{ title, site, latitude, longitude, date, kit = USUAL_KIT, taken, tracked = true }: NewPlan,
	{ method, aim, moon, exposure, ground }: Draft,
): string {
	const series = `    gap: 5 s${tracked ? (ground ? "\n    foreground: true" : "") : "\n    tracked: false"}`;
	const target =
		aim === undefined
			? `  - name: first light\n    aim: { azimuth: 90, altitude: 10 }\n    exposure: ${exposure}\n    tracked: false`
			: `  - name: ${quoted(aim)}\n    aim: ${scalarText(aim)}\n    exposure: ${exposure}\n    frames: 10\n${series}`;
	const cells = [
		`plan:
  title: ${quoted(title)}
  format: 1`,
		`site:
  name: ${quoted(site)}
  latitude: ${coordinateText(latitude, "latitude")}
  longitude: ${coordinateText(longitude, "longitude")}
  # elevation: … m                     # of the ground, by a map; elevation tiles can write it with the skyline
  timezone: ${zoneAt(latitude, longitude)}
  # place: [open]                      # or sea-cave, shore, gorge, ruin, cliff, forest: chooses the cautions
  skyline: [[0, 0]]                    # true bearing, altitude: add what hides the sky`,
		`night:
  date: ${date}${moon}`,
		taken
			? `lens:\n  from: ${scalarText(taken.from)}${taken.lens === undefined ? "" : `\n  name: ${scalarText(taken.lens)}`}`
			: `lens:${linesOf(kit, ["focal-length", "f-number", "sensor", "pixels"])}`,
		...(!tracked
			? []
			: taken?.tracker
				? [`tracker:\n  from: ${scalarText(taken.from)}`]
				: [`tracker:${linesOf({ head: USUAL_KIT.head, ...kit }, ["head"])}`]),
		...(tracked && method !== undefined ? [`method:\n  ${method}`] : []),
		`targets:\n${target}`,
	];
	return `${cells.join("\n---\n")}\n`;
}

/** Those keys of a kit that it has, each on a line. */
const linesOf = (kit: Kit, keys: readonly KitKey[]): string =>
	keys.flatMap((key) => (kit[key] === undefined ? [] : [`\n  ${key}: ${typedText(kit[key])}`])).join("");
