import { clockOf } from "../../earth/zone.ts";
import { durationText } from "../../notation/duration.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { eachTarget, framesFix } from "../target/each.ts";

const words = sentences("evening/left-out", {
	title: "No time for all of it",
	about: `What has no clock time of its own is placed where the evening has room: after the alignment, while the target can
		be taken, between what is fixed, and 10 min before leaving. Where not all fits, dark frames go first, then the
		foreground, then the last of the targets. Take fewer frames, leave later, or give the times yourself.`,
	sky: `{name} finds no time: nowhere are {length} free in a row, with the time to aim, while it can be taken.`,
	some: `Only {frames} of the {planned} frames of {name} fit, from {from} to {until}.`,
	foreground: `The foreground of {name} finds no time while its light is there.`,
	darks: `The dark frames of {name} are not done by {leave}, when the plan leaves.`,
	align: `The tripod is moved for {name}, and no method of the plan can align the tracker again before its first frame at
		{from}.`,
});

const core = (frames: number): string =>
	`- name: core over the gate\n  aim: galactic-centre\n  exposure: 60 s\n  frames: ${frames}\n  trail: 2 px\n  foreground: true`;

export default rule({
	code: "evening/left-out",
	severity: "warning",
	words,
	wrong: { targets: core(400) },
	right: { targets: core(338) },
	over: { targets: core(339) },
	*find(evaluation) {
		const { evening, night } = evaluation;
		if (!evening || !night) return;
		const clock = (moment: number): string => clockOf(night.zone, moment);
		for (const one of eachTarget(evaluation)) {
			const { target, cell } = one;
			const { name, index, usable, entry, series } = target;
			for (const { kind, of, frames } of evening.leftOut) {
				// What can be taken at no time has a finding of its own.
				if (of !== index || (kind === "sky" && usable.length === 0)) continue;
				const placed = evening.steps.find((step) => step.kind === "sky" && step.of === index);
				yield {
					...at(cell, `${index}.name`),
					message:
						kind === "sky" && placed
							? words.some({
									frames,
									planned: entry.frames ?? 1,
									name,
									from: clock(placed.from),
									until: clock(placed.until),
								})
							: kind === "sky"
								? words.sky({ name, length: durationText(target.seconds) })
								: kind === "foreground"
									? words.foreground({ name })
									: kind === "darks"
										? words.darks({ name, leave: clock(night.onSite.until) })
										: words.align({ name, from: clock(series.from) }),
					...(kind === "sky" && placed && { fixes: framesFix(one, frames) }),
				};
			}
		}
	},
});
