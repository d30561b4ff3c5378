import { cellsOf } from "../../plan/plan.ts";
import { at, rule } from "../finding.ts";

export default rule({
	code: "log/incomplete",
	severity: "warning",
	title: "An entry that says nothing of the axis",
	about:
		"A drift needs the clock time, how long the frame ran, and the star; or give two solved frames. Two solved frames between which the camera turned by less than 2° do not tell the axis.",
	wrong: { log: "- star: Antares\n  drift: { right: 2 px, up: -6 px }" },
	right: {},
	*find({ plan, log, night }) {
		const cell = cellsOf(plan, "log")[0];
		if (!cell || !night) return;
		for (const [index, entry] of (cell.read.content ?? []).entries()) {
			if (entry.solved && entry.solved.length === 2 && log?.value?.solved[index] === undefined) {
				yield {
					...at(cell, `${index}.solved`, "key"),
					message:
						"Between these two frames the camera turned by less than 2°, or one of them cannot be read: the axis cannot be told. Take them further apart.",
				};
			} else if (!entry.solved && !entry.drift) {
				if (cell.read.places.has(`${index}.drift`) || cell.read.places.has(`${index}.solved`)) continue;
				yield {
					...at(cell, `${index}`),
					message: "This entry has neither a `drift` nor two `solved` frames: nothing follows from it.",
				};
			} else if (entry.drift) {
				const missing = (["at", "frame", "star"] as const).filter((key) => !cell.read.places.has(`${index}.${key}`));
				if (missing.length > 0)
					yield {
						...at(cell, `${index}.drift`, "key"),
						message: `A drift needs ${missing.map((key) => `\`${key}\``).join(", ")} too.`,
					};
			}
		}
	},
});
