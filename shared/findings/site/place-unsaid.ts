import { cellsOf } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { atCell, rule } from "../finding.ts";

/** A skyline from this high, degrees, is a wall of some kind. */
const WALL = 45;
/** Up to this elevation the sea may be near, metres. */
const LOW = 10;

const words = sentences("site/place-unsaid", {
	title: "Kind of place not given",
	about: `High walls, openings or a low elevation suggest a place with dangers of its own: floods in gorges, tides in
		sea caves, loose stones under cliffs and in ruins. The skyline and the coordinates do not show which of them
		apply. Write \`place\`, and the page and the card show the cautions that fit; \`place: [open]\` says that none
		of these dangers is there.`,
	wall: `The skyline rises to {altitude}°. Write what kind of place it is, such as \`place: [gorge]\` or \`place:
		[ruin]\`, to see the right cautions.`,
	enclosed: `The site has openings. Write what kind of place it is, such as \`place: [sea-cave]\` or \`place: [ruin]\`, to
		see the right cautions.`,
	low: `The site is {elevation} m above the sea. Write what kind of place it is, such as \`place: [shore]\` or
		\`place: [open]\`, to see the right cautions.`,
});

export default rule({
	code: "site/place-unsaid",
	severity: "info",
	safety: true,
	words,
	wrong: { site: "name: Narrows\nlatitude: 32.4123 S\nlongitude: 54.3622 W\nskyline: [[0, 4], [180, 50]]" },
	right: {
		site: "name: Narrows\nlatitude: 32.4123 S\nlongitude: 54.3622 W\nelevation: 900 m\nskyline: [[0, 4], [180, 44]]",
	},
	over: {
		site: "name: Narrows\nlatitude: 32.4123 S\nlongitude: 54.3622 W\nelevation: 900 m\nskyline: [[0, 4], [180, 45]]",
	},
	*find({ plan }) {
		const [cell] = cellsOf(plan, "site");
		const content = cell?.read.content;
		if (!cell || !content || content.place?.length) return;
		const highest = Math.max(0, ...(content.skyline ?? []).map(([, altitude]) => altitude));
		const { elevation } = content;
		const message = content.openings?.length
			? words.enclosed()
			: highest >= WALL
				? words.wall({ altitude: Math.round(highest) })
				: elevation !== undefined && Math.abs(elevation) <= LOW
					? words.low({ elevation: Math.round(elevation) })
					: undefined;
		if (message) yield { ...atCell(cell), message };
	},
});
