import type { EpochMs } from "../../earth/zone.ts";
import { nightClock } from "../../notation/night-clock.ts";
import { sentences } from "../../text/sentence.ts";
import { coreFrom } from "../example-plan.ts";
import { atCell, rule } from "../finding.ts";

const words = sentences("evening/no-second-try", {
	title: "No time for a second alignment",
	about: `A guide star is missed, a knob slips, someone kicks the tripod: it is wise to leave time to align once more
		before the first tracked frame. Align earlier, begin the frames later, or add a fallback that works at any time,
		such as a compass or a phone: less accurate, but better than no alignment.`,
	message: `The alignment ends at {done}. If it fails, no method in the plan can repeat it by {by}, when preparations
		for the first tracked frame begin. Align earlier, begin the frames later, or add a fallback.`,
});

export default rule({
	code: "evening/no-second-try",
	severity: "info",
	whole: true,
	words,
	wrong: {
		targets: coreFrom("20:20"),
	},
	right: {
		method: [
			'kind: square-laser\nguide-star: eta Virginis\nat: "20:01"\nlocal-rules-checked: true\nuncertainty: { aim: ± 0.2°, squareness: ± 0.2°, roll: ± 0.2°, level: ± 0.2° }',
			"kind: compass",
		],
		targets: coreFrom("20:20"),
	},
	*find({ evening, methods, night, tonight, placed }) {
		// Frames without a time of their own begin later then.
		const first = evening?.steps.find(({ kind, of }) => kind === "sky" && placed?.value?.[of ?? -1]?.tracked);
		if (!first?.fixed) return;
		const planned = methods[evening?.aligned ?? -1];
		const alignment = evening?.steps.find(({ kind }) => kind === "align");
		if (!evening?.secondTry || evening.secondTry.isPossible || !alignment || !planned?.value || !night || !tonight)
			return;
		const { by } = evening.secondTry;
		const { method, content, takes } = planned.value;
		const half = takes * 500;
		const isInTime = (at: EpochMs): boolean => at - half >= alignment.until && at + half <= by;
		// Another guide star, or whatever the method can be pointed at, is another try.
		if (method.search?.find(content, tonight).some(({ at }) => isInTime(at))) return;
		const clock = (moment: number): string => nightClock(night, moment);
		yield {
			...atCell(planned.cell),
			message: words.message({ done: clock(alignment.until), by: clock(by) }),
		};
	},
});
