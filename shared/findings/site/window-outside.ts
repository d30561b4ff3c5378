import { isWithin, type Outline } from "../../sky/outline.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { outlinesIn } from "./outlines.ts";

const words = sentences("site/window-outside", {
	title: "Window outside its obstruction",
	about: `A window is a hole in the outline of an obstruction; outside that outline it has no effect. Here the two do
		not overlap, so the window opens nothing. Compare their bearings: perhaps one was measured magnetic and the
		other true, or a digit is wrong.`,
	message: `No corner of the window{of} is inside its obstruction, so it has no effect. Compare the bearings of the two.`,
	named: " of `{name}`",
});

const site = (window: string): string =>
	`name: Sheepfold\nlatitude: 32.4123 S\nlongitude: 54.3622 W\nobstructions:\n  - name: arch\n    outline: [[100, 0], [100, 40], [140, 40], [140, 0]]\n    window: ${window}`;

/** Whether a corner of one outline lies within another. */
const reachesInto = ({ points }: Outline, other: Outline): boolean =>
	points.some(([azimuth, altitude]) => isWithin(other, { azimuth, altitude }));

export default rule({
	code: "site/window-outside",
	severity: "warning",
	words,
	wrong: { site: site("[[150, 5], [150, 30], [170, 30], [170, 5]]") },
	instead: { site: site("[[110, 5], [110, 30], [130, 30], [130, 5]]") },
	right: { site: site("[[139.9, 5], [139.9, 30], [170, 30], [170, 5]]") },
	over: { site: site("[[140.1, 5], [140.1, 30], [170, 30], [170, 5]]") },
	*find({ plan }) {
		for (const { cell, path, name, outline, within } of outlinesIn(plan)) {
			if (!within || reachesInto(outline, within) || reachesInto(within, outline)) continue;
			yield {
				...at(cell, path),
				message: words.message({ of: name === undefined ? "" : words.named({ name }) }),
			};
		}
	},
});
