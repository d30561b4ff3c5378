import { carried, heldLevel } from "../../alignment/attitude.ts";
import type { EvaluatedSite } from "../../cells/site/site.ts";
import { archLost, type TargetPanorama } from "../../cells/targets/panorama.ts";
import { degrees } from "../../notation/angle.ts";
import { bearingText } from "../../notation/bearing.ts";
import type { Arch } from "../../sky/arch.ts";
import { hiddenBy } from "../../sky/cover.ts";
import { toDirection } from "../../sky/horizontal.ts";
import { sentences } from "../../text/sentence.ts";
import { at, fix, rule } from "../finding.ts";
import { removal } from "../remove-key.ts";
import { eachTarget } from "./each.ts";

const words = sentences("target/arch-moves-out", {
	title: "Arch moves out of its panorama",
	about: `A panorama of the Milky Way's arch takes a while, and meanwhile the arch turns by up to 15° an hour.
		Untracked panels stay where they are, so parts of the arch may have left their panel by the time it is taken;
		with panels tracked on the stars, parts may have set behind the skyline by then. Track the panels, take fewer
		or shorter frames, or shoot the setting side first.`,
	moved: `{name}: {share} % of the arch has moved out of its panel when that panel is taken. What was at bearing
		{bearing}, altitude {altitude} at the first frame is at bearing {isBearing}, altitude {isAltitude} when row
		{row}, column {column} is taken at {time}. Track the panels, or take fewer or shorter frames.`,
	set: `{name}: {share} % of the arch is hidden when its panel is taken. What was at bearing {bearing}, altitude {altitude} at
		the first frame is behind the skyline, at bearing {isBearing}, altitude {isAltitude}, when row {row}, column {column}
		is taken at {time}. Begin earlier, or take fewer or shorter frames.`,
	track: "Track the panels",
});

/** Part of the arch that may be missing: half a degree at a foot is nobody's loss. */
const NEGLIGIBLE = 0.02;

const arch = (rest: string): string =>
	`- name: arch\n  aim: milky-way-arch\n  panorama: {}\n  from: "19:30"\n  exposure: 10 s\n  trail: 60 px\n${rest}`;

export default rule({
	code: "target/arch-moves-out",
	severity: "warning",
	words,
	wrong: { targets: arch("  tracked: false\n  frames: 40") },
	right: [{ targets: arch("  tracked: false") }],
	each: "target",
	*find(evaluation) {
		const { site } = evaluation;
		if (!site) return;
		for (const { cell, target, clock } of eachTarget(evaluation)) {
			const { panorama, arch, name, index, entry, tracked } = target;
			const lost = panorama && arch && archLost(panorama, arch.start(), site.cover, site.spot.latitude);
			if (!lost || lost.share <= NEGLIGIBLE) continue;
			const { panel, was, is, hidden } = lost;
			const say = hidden ? words.set : words.moved;
			yield {
				...at(cell, entry.panorama ? `${index}.panorama` : `${index}.aim`),
				message: say({
					name,
					share: Math.min(99, Math.max(1, Math.round(lost.share * 100))),
					bearing: bearingText(was.azimuth),
					altitude: degrees(was.altitude),
					isBearing: bearingText(is.azimuth),
					isAltitude: degrees(is.altitude),
					row: panel.row,
					column: panel.column,
					time: clock(panel.at),
				}),
				fixes: () =>
					tracked || entry.tracked !== false || setsBy(panorama, arch.start(), site)
						? []
						: fix(words.track(), false, removal(cell, `${index}.tracked`)),
			};
		}
	},
});

/** Whether any of the arch that is seen at the first frame is hidden when the last panel is taken: tracking is no help then. */
function setsBy({ panels }: TargetPanorama, { along }: Arch, { cover, spot }: EvaluatedSite): boolean {
	const [first, last] = [panels[0]?.at ?? 0, panels.at(-1)?.at ?? 0];
	return along.some((one) => {
		const then = carried(heldLevel(one), spot.latitude, (last - first) / 1000, 1).forward;
		return hiddenBy(cover, toDirection(then)) !== undefined;
	});
}
