import { cellsOf } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { atCell, rule } from "../finding.ts";

/** A skyline from this high, degrees, is a wall of some kind. */
const WALL = 45;
/** Up to this elevation the sea may be near, metres. */
const LOW = 10;

const words = sentences("site/place-unsaid", {
	title: "What kind of place it is",
	about: `High walls, openings and an elevation near the sea's point to a place with dangers of its own: floods in gorges,
		tides in sea caves, loose stones under cliffs and ruins. Neither a skyline nor coordinates can tell which.
		\`place\` says it, and the page and the card then show the cautions that fit; \`open\` says that there is nothing
		of the kind.`,
	wall: "The skyline rises to {altitude}°: say in `place` what it is (gorge, ruin, cliff, …), so that the fitting cautions are shown.",
	enclosed:
		"The site has openings: say in `place` what it is (cave, sea-cave, ruin, …), so that the fitting cautions are shown.",
	low: "The site lies {elevation} m above the sea: say in `place` what it is (sea-cave, shore, open, …), so that the fitting cautions are shown.",
});

export default rule({
	code: "site/place-unsaid",
	severity: "info",
	words,
	wrong: { site: "name: Narrows\nlatitude: 32.4123 S\nlongitude: 20.8431 E\nskyline: [[0, 4], [180, 50]]" },
	right: {
		site: "name: Narrows\nlatitude: 32.4123 S\nlongitude: 20.8431 E\nelevation: 900 m\nskyline: [[0, 4], [180, 44]]",
	},
	over: {
		site: "name: Narrows\nlatitude: 32.4123 S\nlongitude: 20.8431 E\nelevation: 900 m\nskyline: [[0, 4], [180, 45]]",
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
