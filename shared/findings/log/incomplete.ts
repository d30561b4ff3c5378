import { cellsOf } from "../../plan/plan.ts";
import { listText } from "../../text/list.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";

const words = sentences("log/incomplete", {
	title: "Log entry without a measurement",
	about: `To give the axis error, an entry needs either a drift with the star, the clock time and the length of the
		frame, or two solved frames between which the camera was turned by at least 2°. This one has too little, so
		nothing is computed from it. Add what is missing, or a \`note\` if it is only a remark.`,
	unsolved: `Between these two frames the camera turned by less than 2°, or one of them cannot be read, so the axis
		cannot be computed. Use two frames further apart.`,
	nothing: `This entry has no \`drift\`, no two \`solved\` frames and no \`note\`, so nothing is computed from it. Add one of
		them.`,
	drift: "A drift also needs {keys}.",
});

/** Two frames, the camera turned by some degrees between them. */
const solved = (turn: number): string => `- solved:
    - { at: "23:30", right-ascension: 250°, declination: -26°, position-angle: 0° }
    - { at: "23:30", right-ascension: 250°, declination: -26°, position-angle: ${turn}° }`;

export default rule({
	code: "log/incomplete",
	severity: "warning",
	words,
	wrong: { log: "- star: Antares\n  drift: { right: 2 px, up: -6 px }" },
	right: [
		{ log: '- at: "23:30"\n  frame: 120 s\n  star: Antares\n  drift: { right: 2 px, up: -6 px }' },
		{ log: solved(2.01) },
		{ log: "- { date: 2027-06-04, note: dew }" },
	],
	over: [
		{ log: '- at: "23:30"\n  star: Antares\n  drift: { right: 2 px, up: -6 px }' },
		{ log: '- at: "23:30"\n  frame: 120 s\n  star: Antares' },
		{ log: solved(1.99) },
		{ log: "- { date: 2027-06-04 }" },
	],
	*find({ plan, log, night }) {
		const cell = cellsOf(plan, "log")[0];
		if (!cell || !night) return;
		for (const [index, entry] of (cell.read.content ?? []).entries()) {
			if (entry.solved && entry.solved.length === 2 && log?.value?.solved[index] === undefined) {
				yield { ...at(cell, `${index}.solved`, "key"), message: words.unsolved() };
			} else if (!entry.solved && !entry.drift && entry.note === undefined) {
				if (cell.read.places.has(`${index}.drift`) || cell.read.places.has(`${index}.solved`)) continue;
				yield { ...at(cell, `${index}`), message: words.nothing() };
			} else if (entry.drift) {
				const missing = (["at", "frame", "star"] as const).filter((key) => !cell.read.places.has(`${index}.${key}`));
				if (missing.length > 0)
					yield {
						...at(cell, `${index}.drift`, "key"),
						message: words.drift({ keys: listText(missing.map((key) => `\`${key}\``)) }),
					};
			}
		}
	},
});
