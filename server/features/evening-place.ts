/** Where in the evening a night, a method or a target comes: for lenses and hovers. */
import type { Evaluation } from "../../shared/evaluate/evaluate.ts";
import { nightClock, nightSpan } from "../../shared/outputs/clock.ts";
import { type Cell, cellsOf } from "../../shared/plan/plan.ts";
import { sentences, told } from "../../shared/text/sentence.ts";

const words = sentences("feature.evening-place", {
	evening: "Evening {span}, {count} steps",
	aligns: "Align {span}",
	latest: "{place}, begin by {latest}",
	frames: "Frames {span}",
	ready: "{place}, aim from {from}",
	notPlaced: "No time in the evening",
});

/** Of a cell of the plan, or of the target at a place of its list. Undefined for what no evening is made of. */
export function placeInEvening(
	{ plan, evening, night, methods, targets }: Evaluation,
	cell: Cell,
	target?: number,
): string | undefined {
	if (!evening || !night) return undefined;
	const steps = evening.steps.filter(({ kind }) => kind !== "wait");
	const by = (place: string, latest: number | undefined): string =>
		latest === undefined ? place : told(words.latest({ place, latest: nightClock(night, latest) }));
	switch (cell.read.kind) {
		case "night": {
			const [first, last] = [steps[0], Math.max(...steps.map(({ until }) => until))];
			const isOwn = cellsOf(plan, "night")[0] === cell;
			return first && isOwn
				? told(words.evening({ span: nightSpan(night, { from: first.from, until: last }), count: steps.length }))
				: undefined;
		}
		case "method": {
			const place = methods.findIndex((one) => one.cell.index === cell.index);
			const step = steps.find(({ kind, of }) => kind === "align" && of === place);
			return step && by(told(words.aligns({ span: nightSpan(night, step) })), step.latest);
		}
		case "targets": {
			if (target === undefined || targets?.cell.index !== cell.index || !targets.value?.[target]) return undefined;
			const step = steps.find(({ kind, of }) => kind === "sky" && of === target);
			if (!step) return told(words.notPlaced());
			const frames = told(words.frames({ span: nightSpan(night, step) }));
			const lead = steps.find(({ kind, of }) => of === target && LEADS.has(kind));
			return lead ? told(words.ready({ place: frames, from: nightClock(night, lead.from) })) : frames;
		}
		default:
			return undefined;
	}
}

/** What is done right before the frames. */
const LEADS: ReadonlySet<string> = new Set(["turn-back", "lens-change", "re-aim", "test-frame"]);
