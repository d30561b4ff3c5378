import { minutesText } from "../../notation/duration.ts";
import { at, rule } from "../finding.ts";
import { eachTarget } from "./each.ts";

export default rule({
	code: "target/outside-stay",
	severity: "error",
	title: "Frames outside the stay",
	about:
		"Frames and gaps begin before arriving, or last longer than the stay, or than the target's own `until`. Take fewer or shorter frames, begin earlier, or leave later.",
	wrong: {
		targets:
			'- name: core over the gate\n  aim: galactic-centre\n  from: "23:30"\n  exposure: 60 s\n  frames: 200\n  companion: true',
	},
	right: {},
	*find(evaluation) {
		for (const { cell, target, night, clock, timePath } of eachTarget(evaluation)) {
			const { series, entry, name, index, seconds } = target;
			const { onSite } = night;
			const until = entry.until === undefined ? undefined : night.instant(entry.until);
			if (series.from < onSite.from - 1000 || series.from >= onSite.until) {
				yield {
					...at(cell, timePath),
					message: `${name} begins at ${clock(series.from)}, outside the stay (${clock(onSite.from)}–${clock(onSite.until)}).`,
				};
			} else if (series.until > onSite.until + 1000) {
				const over = (series.until - onSite.until) / 60_000;
				yield {
					...at(cell, `${index}.${entry.frames === undefined ? "exposure" : "frames"}`),
					message: `${name} takes ${minutesText(seconds / 60)} with its gaps and ends at ${clock(series.until)}, ${minutesText(over)} after leaving (${clock(onSite.until)}).${fitting(target, (onSite.until - series.from) / 1000)}`,
				};
			} else if (until !== undefined && series.until > until + 1000) {
				yield {
					...at(cell, `${index}.until`),
					message: `${name} takes ${minutesText(seconds / 60)} with its gaps and ends at ${clock(series.until)}, after its \`until\` (${clock(until)}).${fitting(target, (until - series.from) / 1000)}`,
				};
			}
		}
	},
});

/** How many frames fit into some seconds. */
function fitting(
	{ entry }: { readonly entry: { readonly exposure?: number; readonly gap?: number } },
	seconds: number,
): string {
	const { exposure = 0, gap = 0 } = entry;
	const frames = Math.floor((seconds + gap) / (exposure + gap));
	return exposure > 0 && frames > 0 ? ` ${frames} ${frames === 1 ? "frame fits" : "frames fit"}.` : "";
}
