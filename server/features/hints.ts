/** Inlay hints: at the end of a line the value that matters there. Switchable by kind in the settings. */
import { type InlayHint, InlayHintKind, type Range } from "vscode-languageserver";
import type { CellContent } from "../../shared/cells/kinds.ts";
import { LENS_VALUES } from "../../shared/cells/lens/values.ts";
import { METHOD_VALUES } from "../../shared/cells/method/values.ts";
import { NIGHT_VALUES } from "../../shared/cells/night/values.ts";
import { SITE_VALUES } from "../../shared/cells/site/values.ts";
import { TARGET_VALUES } from "../../shared/cells/targets/values.ts";
import type { Hint } from "../../shared/methods/method.ts";
import { ALL_METHODS } from "../../shared/methods/methods.ts";
import type { PathOf, Value } from "../../shared/notation/value.ts";
import { type PlacedPaths, placesBetween } from "../../shared/plan/places.ts";
import type { Cell } from "../../shared/plan/plan.ts";
import { sentences, told } from "../../shared/text/sentence.ts";
import type { PlanDocument } from "../plan-document.ts";
import type { PlanText } from "../plan-text.ts";
import type { Feature } from "../session.ts";
import type { Settings } from "../settings.ts";
import { toldOn } from "../told-on.ts";

export const hints: Feature = {
	capabilities: { inlayHintProvider: true },
	listen(session) {
		session.onElsewhereChange(() => {
			if (session.client.workspace?.inlayHint?.refreshSupport)
				session.askAgain(() => session.connection.languages.inlayHint.refresh());
		});
		session.connection.languages.inlayHint.on(({ textDocument, range }) =>
			session.guarded("hints", textDocument.uri, (document, plan) => hintsIn(document, plan, range, session.settings)),
		);
	},
};

const words = sentences("feature.hints", {
	pole: "pole",
	altitude: "altitude",
	bearing: "bearing",
	declination: "declination",
	dark: "dark",
	to: "to",
	moon: "Moon",
	sees: "field of view",
	npf: "NPF rule",
	untracked: "sharp untracked up to",
	leaves: "axis within (95 %)",
	works: "works",
	ends: "ends",
	holds: "sharp tracked up to",
});

/** Which values are shown behind which key of a kind, and the setting that switches them. */
interface KindHints<Path extends string> {
	readonly group: keyof Settings["hints"];
	readonly at: Readonly<Partial<Record<Path, readonly Hint[]>>>;
}

const HINTS: {
	readonly site: KindHints<PathOf<CellContent<"site">>>;
	readonly night: KindHints<PathOf<CellContent<"night">>>;
	readonly lens: KindHints<PathOf<CellContent<"lens">>>;
	readonly method: KindHints<PathOf<CellContent<"method">>>;
	readonly targets: KindHints<PathOf<CellContent<"targets">[number]>>;
} = {
	site: {
		group: "site",
		at: {
			// Its altitude is the latitude, which is written there.
			latitude: [{ value: SITE_VALUES["pole-view"], short: words.pole() }],
			longitude: [{ value: SITE_VALUES["magnetic-declination"], short: words.declination() }],
		},
	},
	night: {
		group: "night",
		at: {
			date: [
				{ value: NIGHT_VALUES["astronomical-dusk"], short: words.dark() },
				{ value: NIGHT_VALUES["astronomical-dawn"], short: words.to() },
				{ value: NIGHT_VALUES["moon-illumination"], short: words.moon() },
			],
		},
	},
	lens: {
		group: "lens",
		at: {
			"focal-length": [
				{ value: LENS_VALUES["field-of-view-horizontal"], short: words.sees() },
				{ value: LENS_VALUES["untracked-npf"], short: words.npf() },
			],
		},
	},
	method: {
		group: "method",
		at: {
			...Object.assign({}, ...ALL_METHODS.map(({ hints: own }) => own ?? {})),
			kind: [{ value: METHOD_VALUES["axis-error-95"], short: words.leaves() }],
			at: [{ value: METHOD_VALUES.window, short: words.works() }],
		},
	},
	targets: {
		group: "targets",
		at: {
			aim: [
				{ value: TARGET_VALUES["altitude-start"], short: words.altitude() },
				{ value: TARGET_VALUES["azimuth-start"], short: words.bearing() },
			],
			frames: [{ value: TARGET_VALUES.end, short: words.ends() }],
			exposure: [
				{ value: TARGET_VALUES["tracked-limit"], short: words.holds() },
				{ value: TARGET_VALUES["untracked-limit"], short: words.untracked() },
			],
		},
	},
};

/** As many characters of hints as VS Code shows in a line; what comes behind is in the tooltip. */
const MOST_SHOWN = 43;

/** Parts of a hint as long as they are shown whole; the first one always. */
function labelOf([first = "", ...others]: readonly string[]): string {
	let label = first;
	for (const part of others) if (label.length + part.length + 2 <= MOST_SHOWN) label += `, ${part}`;
	return label;
}

/** The hints of a kind by the path of a key, item numbers left out. */
function hintsAt(kind: string | undefined, path: string, settings: Settings): readonly Hint[] {
	if (kind === undefined || !Object.hasOwn(HINTS, kind)) return [];
	const { group, at } = HINTS[kind as keyof typeof HINTS] as KindHints<string>;
	return settings.hints[group] ? (at[path.replace(/^\d+\./, "")] ?? []) : [];
}

export function hintsIn(document: PlanText, plan: PlanDocument, range: Range, settings: Settings): InlayHint[] {
	const evaluation = plan.evaluation(document);
	const [from, to] = [document.offsetAt(range.start), document.offsetAt(range.end)];
	return evaluation.plan.cells.flatMap((cell) => {
		if (!cell.read.kind || cell.end < from || cell.start > to) return [];
		return hintsOf(
			document,
			cell,
			placesBetween(cell.read.places, from - cell.start, to - cell.start),
			(path) => evaluation.valuesOf(cell, path),
			(value) => toldOn(evaluation.night, value),
			settings,
		);
	});
}

function hintsOf(
	document: PlanText,
	cell: Cell,
	places: PlacedPaths,
	valuesAt: (path: string) => readonly Value[],
	textOf: (value: Value) => string,
	settings: Settings,
): InlayHint[] {
	const found: InlayHint[] = [];
	const seen = new Set<number>();
	for (const [path, place] of places) {
		if (place.flow || place.value.to <= place.value.from || seen.has(place.value.from)) continue;
		const wanted = hintsAt(cell.read.kind, path, settings);
		if (wanted.length === 0) continue;
		const values = valuesAt(path);
		const index = /^(\d+)\./.exec(path)?.[1];
		const isHere = ({ at }: Value): boolean =>
			index === undefined || at.some((one) => one === index || one.startsWith(`${index}.`));
		const shown = wanted.flatMap(({ value: { declared }, short }) => {
			const value = values.find((one) => one.id === declared.id && one.value !== null && isHere(one));
			return value ? [{ value, short }] : [];
		});
		// One limit is enough: the tracked one where there is a tracker.
		const hinted = path.endsWith("exposure") ? shown.slice(0, 1) : shown;
		if (hinted.length === 0) continue;
		seen.add(place.value.from);
		const line = document.positionAt(cell.start + place.value.from).line;
		const end = document.offsetAt({ line: line + 1, character: 0 });
		const text = document.getText().slice(cell.start + place.value.to, end);
		// Behind the value, before a comment.
		if (!/^\s*$/.test(text) && !/^\s+#/.test(text)) continue;
		found.push({
			position: document.positionAt(cell.start + place.value.to),
			label: labelOf(hinted.map(({ value, short }) => `${short ? `${told(short)} ` : ""}${textOf(value)}`)),
			kind: InlayHintKind.Type,
			paddingLeft: true,
			tooltip: hinted.map(({ value: { label, how } }) => `${label}: ${how}`).join("\n"),
		});
	}
	return found;
}
