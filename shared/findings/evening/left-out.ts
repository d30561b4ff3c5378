import type { EvaluatedTarget } from "../../cells/targets/target.ts";
import type { EpochMs } from "../../earth/zone.ts";
import type { EveningStep } from "../../evaluate/evening/tasks.ts";
import { durationText } from "../../notation/duration.ts";
import { nightClock } from "../../notation/night-clock.ts";
import { type Phrase, sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { eachTarget, framesFix } from "../target/each.ts";

const words = sentences("evening/left-out", {
	title: "Not enough time for everything",
	about: `Frames without a clock time of their own are placed as early as they fit: after the alignment, while the
		target is usable, between fixed steps, and in time to pack up before leaving (10 min). If not everything fits,
		dark frames are left out first, then the foreground, then the last targets. A drift test that corrects the axis
		is left out before any frames are. Take fewer frames, leave later, or set the times yourself; where the target is
		out of view or the sky too bright before you leave, align and begin earlier.`,
	sky: `There is no time for {name}: it needs {length} without a break, plus the time to aim, while it is usable. Take
		fewer frames, or leave later.`,
	some: `Only {frames} of the {planned} frames of {name} fit, from {from} to {until}. Take fewer frames, or leave later.`,
	skyEnds: `There is no time for {name}: it needs {length} without a break, plus the time to aim, and can be taken only
		until {end}. Take fewer frames, or align and begin earlier.`,
	someEnds: `Only {frames} of the {planned} frames of {name} fit, from {from} to {until}: it can be taken only until
		{end}. Take fewer frames, or align and begin earlier.`,
	foreground: `There is no time for the foreground of {name} while it has the light it needs. Set its time yourself,
		or take fewer frames of the sky.`,
	darks: `The dark frames of {name} cannot be finished by {leave}, when you leave. Leave later, or take fewer.`,
	align: `The tripod is moved for {name}, and no method in the plan can align the tracker again before its first frame at
		{from}. Begin later, or add a method that works by then.`,
	correction: `There is no time for the {method}: it takes {takes} without a break, after the alignment and before the
		tracked frames. Begin the frames later, or take fewer.`,
});

const core = (frames: number): string =>
	`- name: core over the gate\n  aim: galactic-centre\n  exposure: 60 s\n  frames: ${frames}\n  trail: 2 px\n  foreground: true`;

export default rule({
	code: "evening/left-out",
	severity: "warning",
	whole: true,
	words,
	wrong: { targets: core(400) },
	right: { targets: core(338) },
	over: { targets: core(339) },
	*find(evaluation) {
		const { evening, night, methods, tasks } = evaluation;
		if (!evening || !night) return;
		const clock = (moment: number): string => nightClock(night, moment);
		for (const { kind, of } of evening.leftOut) {
			const method = kind === "correction" ? methods[of] : undefined;
			if (method?.value)
				yield {
					...at(method.cell, "kind"),
					message: words.correction({ method: method.value.name, takes: durationText(method.value.takes) }),
				};
		}
		const free = night.onSite.until - (tasks?.tasks.leaves ? tasks.tasks.packUp : 0);
		/** When a target can be taken no more while one is still there: leaving later does not help. */
		const endOf = (index: number): EpochMs | undefined => {
			const end = tasks?.tasks.targets[tasks.listed.indexOf(index)]?.windows.at(-1)?.until;
			return end !== undefined && end < free ? end : undefined;
		};
		for (const one of eachTarget(evaluation)) {
			const { target, cell } = one;
			const { name, index, usable, series, timed } = target;
			for (const { kind, of, frames } of evening.leftOut) {
				// What can be taken at no time has a finding of its own.
				if (of !== index || kind === "correction" || (kind === "sky" && usable.length === 0)) continue;
				const placed = evening.steps.find((step) => step.kind === "sky" && step.of === index);
				// So has a time at which the target is hidden, or nobody there.
				if (timed && !placed && kind !== "align") continue;
				const message = {
					sky: () => skyText(target, frames, placed, endOf(index), clock),
					foreground: () => words.foreground({ name }),
					darks: () => words.darks({ name, leave: clock(night.onSite.until) }),
					align: () => words.align({ name, from: clock(series.from) }),
				}[kind]();
				yield {
					...at(cell, `${index}.name`),
					message,
					...(kind === "sky" && placed && { fixes: framesFix(one, frames) }),
				};
			}
		}
	},
});

/** `placed`: the frames that fit, if any; `end`: when none can be taken any more, where leaving later does not help. */
function skyText(
	{ name, seconds, frameCount: planned }: EvaluatedTarget,
	frames: number,
	placed: EveningStep | undefined,
	end: EpochMs | undefined,
	clock: (at: EpochMs) => string,
): Phrase {
	if (!placed) {
		const said = { name, length: durationText(seconds) };
		return end === undefined ? words.sky(said) : words.skyEnds({ ...said, end: clock(end) });
	}
	const said = { frames, planned, name, from: clock(placed.from), until: clock(placed.until) };
	return end === undefined ? words.some(said) : words.someEnds({ ...said, end: clock(end) });
}
