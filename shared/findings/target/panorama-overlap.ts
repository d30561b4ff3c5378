import { degrees } from "../../notation/angle.ts";
import type { LeastOverlap } from "../../optics/panorama-rows.ts";
import { type Phrase, sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { eachTarget } from "./each.ts";
import { closerPanels, LEAST_OVERLAP } from "./panorama-fixes.ts";

const words = sentences("target/panorama-overlap", {
	title: "Panels overlap too little",
	about: `Panels are joined by what both of them show; with less than 15 % of a frame this often fails (common
		practice). In bearing a frame is as wide as its field divided by the cosine of the altitude, and the steps widen
		with it; at the lower edges of panels tilted upwards less of the overlap is left than at their middles. Overlap
		them more, or take more columns over the same range.`,
	message: `{name}: in row {row}, at altitude {altitude}, {overlap}; panels join reliably from 15 %. Overlap them
		more, or take more columns over the same range.`,
	share: "neighbours overlap by {share} % of a frame at altitude {where}",
	none: "neighbours do not overlap at altitude {where}",
	noneBelow: "neighbours do not overlap at their lower edge ({where})",
});

/** What is left of the overlap where it is least. */
function overlapText({ share, at, altitude }: LeastOverlap): Phrase {
	const where = degrees(at, 0);
	if (share > 0) return words.share({ share: share < 0.01 ? "< 1" : Math.floor(share * 100), where });
	return at < altitude ? words.noneBelow({ where }) : words.none({ where });
}

const around = (overlap: number): string =>
	`- name: core over the gate\n  aim: { azimuth: 150, altitude: 30 }\n  panorama: { columns: 4, overlap: ${overlap} % }\n  from: "21:30"\n  exposure: 5 s\n  trail: 60 px`;

export default rule({
	code: "target/panorama-overlap",
	severity: "warning",
	words,
	wrong: { targets: around(20) },
	right: [{ targets: around(28) }],
	over: [{ targets: around(26) }],
	each: "target",
	*find(evaluation) {
		for (const one of eachTarget(evaluation)) {
			const { cell, target } = one;
			const { panorama, name, index, entry } = target;
			if (!panorama) continue;
			const { gaps, least } = panorama.coverage();
			// A gap is told as one.
			if (gaps.length > 0 || !least || least.share >= LEAST_OVERLAP) continue;
			yield {
				...at(cell, entry.panorama ? `${index}.panorama` : `${index}.aim`),
				message: words.message({
					name,
					row: least.row,
					altitude: degrees(least.altitude, 0),
					overlap: overlapText(least),
				}),
				fixes: () => closerPanels(one),
			};
		}
	},
});
