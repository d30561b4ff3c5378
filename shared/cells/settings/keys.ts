/**
 * The keys of a `settings` cell: what holds for all plans below the folder it lies at the root of. It is read from the
 * file `SETTINGS_FILE` there, and nowhere else.
 */
import { COMMON_KEYS } from "../../methods/common-keys.ts";
import { TAKES_BY_KIND } from "../../methods/takes-by-kind.ts";
import { type Decoded, list, mapping, optional, required, text, word } from "../../notation/shape.ts";
import { NIGHT_DEFAULTS } from "../night/keys.ts";
import { TRACKER_DEFAULTS } from "../tracker/keys.ts";

/** At the root of a workspace, or of a repository. */
export const SETTINGS_FILE = "lodebook.lode.yaml";

/** What a finding may be told as. */
export const SEVERITY_WORDS = {
	off: "Not shown.",
	note: "Worth knowing.",
	warning: "It works, but not as well as planned.",
	error: "The plan cannot be carried out as written.",
} as const;

/** Keys that a plan's cells have where they say nothing themselves, by the kind of cell they belong to. */
export const DEFAULT_KEYS = {
	night: NIGHT_DEFAULTS,
	tracker: TRACKER_DEFAULTS,
	method: { takes: TAKES_BY_KIND, uncertainty: COMMON_KEYS.uncertainty },
};

/** The settings. */
export const settings = mapping("Settings for all plans of a folder", {
	findings: optional(
		list(
			mapping("A finding and its severity", {
				code: required(text(), {
					doc: "Its code, given in brackets after each finding.",
					example: "method/better-available",
				}),
				severity: required(word(SEVERITY_WORDS), { doc: "The severity it is shown with.", example: "off" }),
			}),
			{ max: 200 },
		),
		{
			doc: `Findings that are shown with another severity, or not at all. Those that keep a plan from being read,
				and those about danger, are always shown.`,
			example: "[{ code: method/better-available, severity: off }]",
			otherwise: "each with its usual severity",
		},
	),
	"fail-on": optional(
		word({
			error: "Only errors.",
			warning: "Errors and warnings.",
			note: "Any finding.",
		}),
		{
			doc: "Lowest severity that makes `lodebook check` fail.",
			example: "warning",
			otherwise: "error",
		},
	),
	exclude: optional(list(text(), { max: 100 }), {
		doc: `Files and folders that are skipped when a folder is searched for plans: paths from this folder, \`*\` for
			part of a name, \`**\` for any folders.`,
		example: "[drafts, old/**/2025-*.lode.yaml]",
		otherwise: "none",
	}),
	defaults: optional(
		mapping("Defaults for plans that do not give a value", {
			...DEFAULT_KEYS.night,
			...DEFAULT_KEYS.tracker,
			...DEFAULT_KEYS.method,
		}),
		{
			doc: "Durations and ± for plans that do not give them: those of `night`, `tracker` and `method` cells.",
			example: "{ prepare: { set-up: 25 min }, takes: { square-laser: 12 min }, tilt-scale: ± 0.5° }",
			otherwise: "common practice",
		},
	),
});

export type SettingsContent = Decoded<typeof settings>;
