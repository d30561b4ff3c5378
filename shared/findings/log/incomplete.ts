import { cellsOf } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";

const words = sentences("log/incomplete", {
	title: "An entry that says nothing of the axis",
	about: `A drift needs the clock time, how long the frame ran, and the star; or give two solved frames. Two solved frames
		between which the camera turned by less than 2° do not tell the axis.`,
	unsolved: `Between these two frames the camera turned by less than 2°, or one of them cannot be read: the axis cannot be
		told. Take them further apart.`,
	nothing: "This entry has no `drift`, no two `solved` frames and no `note`: nothing follows from it.",
	drift: "A drift needs {keys} too.",
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
						message: words.drift({ keys: missing.map((key) => `\`${key}\``).join(", ") }),
					};
			}
		}
	},
});
