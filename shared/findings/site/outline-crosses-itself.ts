import { edgesThatCross } from "../../sky/outline.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { outlinesIn } from "./outlines.ts";

const words = sentences("site/outline-crosses-itself", {
	title: "Outline that crosses itself",
	about: `The corners of an outline are written in order around it. Where two of its edges cross, it is not clear what is
		inside: one part of the area counts as inside, the other as outside. Put the corners in order, clockwise or
		anticlockwise.`,
	message: `The outline{of} crosses itself: the edges that start at corners {first} and {second} cross. Put the corners in
		order around it.`,
	named: " of `{name}`",
});

const site = (outline: string): string =>
	`name: Sheepfold\nlatitude: 32.4123 S\nlongitude: 54.3622 W\nobstructions:\n  - { name: arch, outline: ${outline} }`;

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
