import { edgesThatCross } from "../../sky/outline.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { outlinesIn } from "./outlines.ts";

const words = sentences("site/outline-crosses-itself", {
	title: "An outline that crosses itself",
	about: `Corners of an outline are written in order around it. Where two of its edges cross, what is between them counts
		as inside in one part and as outside in the other. Sort the corners, clockwise or anticlockwise.`,
	message: `The outline{of} crosses itself: the edge from corner {first} crosses the edge from corner {second}. Write the
		corners in order around it.`,
	named: " of `{name}`",
});

const site = (outline: string): string =>
	`name: Sheepfold\nlatitude: 32.4123 S\nlongitude: 20.8431 E\nobstructions:\n  - { name: arch, outline: ${outline} }`;

export default rule({
	code: "site/outline-crosses-itself",
	severity: "warning",
	words,
	wrong: { site: site("[[100, 0], [100, 40], [140, 0], [140, 40]]") },
	right: [
		{ site: site("[[100, 0], [100, 40], [140, 40], [140, 0]]") },
		{ site: site("[[100, 0], [140, 0], [140, 40], [100, 40]]") },
		{ site: site("[[340, 0], [340, 40], [20, 40], [20, 0]]") },
		{ site: site("[[0, 70], [90, 60], [180, 70], [270, 60]]") },
	],
	over: { site: site("[[100, 0], [100, 40], [140, -1], [140, 40]]") },
	*find({ plan }) {
		for (const { cell, path, name, outline } of outlinesIn(plan)) {
			const crossing = edgesThatCross(outline);
			if (!crossing) continue;
			const [first, second] = crossing;
			yield {
				...at(cell, path),
				message: words.message({
					of: name === undefined ? "" : words.named({ name }),
					first: first + 1,
					second: second + 1,
				}),
			};
		}
	},
});
