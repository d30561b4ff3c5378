/** Inlay hints: at the end of a line the figure that matters there. Switchable by kind in the settings. */
import { type InlayHint, InlayHintKind, type Range } from "vscode-languageserver";
import type { Value } from "../../shared/cells/value.ts";
import type { Cell } from "../../shared/plan/plan.ts";
import type { PlanDocument } from "../plan-document.ts";
import type { PlanText } from "../plan-text.ts";
import type { Feature } from "../session.ts";
import type { Settings } from "../settings.ts";

export const hints: Feature = {
	capabilities: { inlayHintProvider: true },
	listen(session) {
		session.onElsewhereChange(() => {
			if (session.client.workspace?.inlayHint?.refreshSupport) session.connection.languages.inlayHint.refresh();
		});
		session.connection.languages.inlayHint.on(({ textDocument, range }) =>
			session.guarded("hints", textDocument.uri, (document, plan) => hintsIn(document, plan, range, session.settings)),
		);
	},
};

/** Which figures stand behind which key, and the setting that switches them. `*` is the number of an item. */
const HINTS: readonly {
	readonly kind: string;
	readonly path: string;
	readonly ids: readonly string[];
	readonly group: keyof Settings["hints"];
}[] = [
	{ kind: "site", path: "latitude", ids: ["site.pole-altitude", "site.pole-view"], group: "site" },
	{ kind: "site", path: "longitude", ids: ["site.magnetic-declination"], group: "site" },
	{
		kind: "night",
		path: "date",
		ids: ["night.astronomical-dusk", "night.astronomical-dawn", "night.moon-illumination"],
		group: "night",
	},
	{ kind: "lens", path: "focal-length", ids: ["lens.field-of-view-horizontal", "lens.untracked-npf"], group: "lens" },
	{ kind: "method", path: "kind", ids: ["method.axis-error-95"], group: "method" },
	{
		kind: "method",
		path: "guide-star",
		ids: ["method.star-altitude", "method.star-bearing", "method.star-miss"],
		group: "method",
	},
	{
		kind: "method",
		path: "body",
		ids: ["method.star-altitude", "method.star-bearing", "method.pan-turn"],
		group: "method",
	},
	{ kind: "method", path: "landmark", ids: ["method.star-bearing", "method.pan-turn"], group: "method" },
	{ kind: "method", path: "at", ids: ["method.window"], group: "method" },
	{ kind: "targets", path: "*.aim", ids: ["target.altitude-start", "target.azimuth-start"], group: "targets" },
	{ kind: "targets", path: "*.frames", ids: ["target.end"], group: "targets" },
	{ kind: "targets", path: "*.exposure", ids: ["target.tracked-limit", "target.untracked-limit"], group: "targets" },
];

const SHORT: Readonly<Record<string, string>> = {
	"site.pole-altitude": "pole",
	"site.magnetic-declination": "declination",
	"night.astronomical-dusk": "dark",
	"night.astronomical-dawn": "to",
	"night.moon-illumination": "Moon",
	"lens.field-of-view-horizontal": "sees",
	"lens.untracked-npf": "untracked",
	"method.axis-error-95": "leaves",
	"method.window": "works",
	"method.star-miss": "misses by",
	"target.end": "ends",
	"target.tracked-limit": "holds",
	"target.untracked-limit": "untracked",
};

export function hintsIn(document: PlanText, plan: PlanDocument, range: Range, settings: Settings): InlayHint[] {
	const evaluation = plan.evaluation(document);
	const [from, to] = [document.offsetAt(range.start), document.offsetAt(range.end)];
	return evaluation.plan.cells.flatMap((cell) => {
		if (!cell.read.kind || cell.end < from || cell.start > to) return [];
		const values = evaluation.valuesOf(cell);
		return values.length === 0 ? [] : hintsOf(document, cell, values, settings);
	});
}

function hintsOf(document: PlanText, cell: Cell, values: readonly Value[], settings: Settings): InlayHint[] {
	const found: InlayHint[] = [];
	for (const [path, place] of cell.read.places) {
		if (place.flow || place.value.to <= place.value.from) continue;
		const hint = HINTS.find((one) => one.kind === cell.read.kind && one.path === path.replace(/^\d+\./, "*."));
		if (!hint || !settings.hints[hint.group]) continue;
		const index = /^(\d+)\./.exec(path)?.[1];
		const shown = hint.ids.flatMap(
			(id) =>
				values.find(
					(computed) =>
						computed.id === id &&
						computed.value !== null &&
						(index === undefined || computed.at.some((at) => at === index || at.startsWith(`${index}.`))),
				) ?? [],
		);
		// One limit is enough: the tracked one where there is a tracker.
		const valuesShown = path.endsWith("exposure") ? shown.slice(0, 1) : shown;
		if (valuesShown.length === 0) continue;
		const line = document.positionAt(cell.start + place.value.from).line;
		const end = document.offsetAt({ line: line + 1, character: 0 });
		const text = document.getText().slice(cell.start + place.value.to, end);
		// Behind the value, before a comment.
		if (/^\s*\S/.test(text.replace(/\s+#.*$/, ""))) continue;
		found.push({
			position: document.positionAt(cell.start + place.value.to),
			label: valuesShown.map(({ id, text: value }) => `${SHORT[id] ? `${SHORT[id]} ` : ""}${value}`).join(", "),
			kind: InlayHintKind.Type,
			paddingLeft: true,
			tooltip: valuesShown.map(({ label, how }) => `${label}: ${how}`).join("\n"),
		});
	}
	return found;
}
