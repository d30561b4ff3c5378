import type { EvaluatedNight } from "../../cells/night/night.ts";
import type { EvaluatedTarget } from "../../cells/targets/target.ts";
import type { EpochMs } from "../../earth/zone.ts";
import { leadStarts } from "../../evaluate/evening/leads.ts";
import type { Clash, EveningStep, StepKind } from "../../evaluate/evening/tasks.ts";
import { stepName } from "../../evaluate/evening/words.ts";
import { durationText } from "../../notation/duration.ts";
import { nightClock } from "../../notation/night-clock.ts";
import { both } from "../../sky/intervals.ts";
import { sentences } from "../../text/sentence.ts";
import { coreFrom } from "../example-plan.ts";
import { at, atCell, type Found, rule } from "../finding.ts";
import { beginFix, eachTarget } from "../target/each.ts";

const words = sentences("evening/clash", {
	title: "Too little time between two steps",
	about: `You can do only one thing at a time. Before the frames of a target the camera has to be aimed (3 min, or 6
		min above 50 mm), the lens changed if the target uses another (5 min), and a test frame taken (its exposure plus
		2 min) after an alignment, a lens change or a turn of more than 30°. Move the later step, or shorten the one before
		it.`,
	lead: `“{before}” ends at {until}, {free} before the first frame of {name} at {from}, but {steps} need {needed}. Begin the
		frames later, or end the step before them earlier.`,
	steps: `“{after}” begins at {from}, {short} before “{before}” ends at {until}. Move one of them.`,
	aim: "aiming",
	lens: "changing the lens",
	back: "winding the drive back",
	test: "a test frame",
	and: "{first} and {second}",
});

const LEADS: Partial<Record<StepKind, "aim" | "lens" | "back" | "test">> = {
	"re-aim": "aim",
	"lens-change": "lens",
	"turn-back": "back",
	"test-frame": "test",
};

/** Whether a step is part of arriving: the walk, and the first set-up, which is for no target of its own. */
export const isArriving = ({ kind, of }: EveningStep): boolean =>
	of === undefined && ["walk-in", "set-up", "focus"].includes(kind);

export default rule({
	code: "evening/clash",
	severity: "warning",
	whole: true,
	words,
	wrong: { targets: coreFrom("20:08") },
	right: { targets: coreFrom("20:12") },
	over: { targets: coreFrom("20:11") },
	*find(evaluation) {
		const { evening, night } = evaluation;
		if (!evening || !night) return;
		const clock = (moment: number): string => nightClock(night, moment);
		const targets = [...eachTarget(evaluation)];
		const said = new Set<number>();
		for (const clash of evening.clashes) {
			const { before, after } = clash;
			// A set-up that is cut short has a rule of its own.
			if (isArriving(before) || isArriving(after)) continue;
			const one = targets.find(({ target }) => target.index === after.of && after.kind !== "align");
			if (!one || !LEADS[after.kind]) {
				const found = between(clash);
				if (found) yield found;
				continue;
			}
			// What leads to a target is told once, and not where the frames themselves are too early.
			const { target, cell, timePath } = one;
			const { from } = target.series;
			if (said.has(target.index) || before.until > from) continue;
			said.add(target.index);
			const lead = evening.steps.filter(({ kind, of }) => of === target.index && LEADS[kind]);
			const needed = lead.reduce((sum, step) => sum + step.until - step.from, 0);
			const [first, ...others] = lead.map(({ kind }) => words[LEADS[kind] ?? "aim"]());
			if (!first) continue;
			yield {
				...at(cell, timePath),
				message: words.lead({
					free: durationText((from - before.until) / 1000),
					before: stepName(before, evaluation),
					until: clock(before.until),
					name: target.name,
					from: clock(from),
					steps: others.reduce((all, second) => words.and({ first: all, second }), first),
					needed: durationText(needed / 1000),
				}),
				fixes: () =>
					beginFix(one, both(target.usable, [{ from: freeFrom(target, before) + needed, until: nextAfter(from) }])),
			};
		}

		/** When hands are free of what comes before a target: the step before it, and frames that are under way as it begins. */
		function freeFrom({ index, series }: EvaluatedTarget, before: EveningStep): EpochMs {
			const running = (evening?.steps ?? []).filter(
				({ kind, of, from, beside }) => kind === "sky" && of !== index && !beside && from < series.from,
			);
			return Math.max(before.until, ...running.map(({ until }) => until));
		}

		/** When what leads to the next frames with a time of their own begins. */
		function nextAfter(from: EpochMs): EpochMs {
			const next = evening?.steps.find((step) => step.kind === "sky" && step.fixed && step.from > from);
			const lead = next?.of === undefined ? undefined : leadStarts(evening?.steps ?? []).get(next.of);
			return lead ?? next?.from ?? (night as EvaluatedNight).onSite.until;
		}

		/** Steps of which neither leads to the other; what other rules tell is left to them. */
		function between({ before, after, short }: Clash): Found | undefined {
			const tells = (step: EveningStep): boolean => step.kind === "sky" || LEADS[step.kind] !== undefined;
			if (tells(before) && tells(after)) return undefined;
			// An alignment that is too late is told by a rule of its own; a correction is not.
			const [aligning, sky] = before.kind === "align" ? [before, after] : [after, before];
			const corrects = aligning.of !== evaluation.evening?.aligned && isCorrection(aligning);
			if (aligning.kind === "align" && sky.kind === "sky" && !corrects) return undefined;
			const place = placeOf(after) ?? placeOf(before);
			return (
				place && {
					...place,
					message: words.steps({
						after: stepName(after, evaluation),
						from: clock(after.from),
						short: durationText(short / 1000),
						before: stepName(before, evaluation),
						until: clock(before.until),
					}),
				}
			);
		}

		function isCorrection({ of }: EveningStep): boolean {
			return evaluation.methods[of ?? -1]?.value?.method.corrects === true;
		}

		function placeOf({ kind, of }: EveningStep) {
			if (of === undefined) return undefined;
			if (kind === "align") {
				const cell = evaluation.methods[of]?.cell;
				return cell && (cell.read.places.has("at") ? at(cell, "at") : atCell(cell));
			}
			const one = targets.find(({ target }) => target.index === of);
			if (!one) return undefined;
			const ground = `${of}.foreground.at`;
			return at(one.cell, kind === "foreground" && one.cell.read.places.has(ground) ? ground : one.timePath);
		}
	},
});
