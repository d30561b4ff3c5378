import { fieldAcross } from "../../optics/camera.ts";
import { at, fix, insertKey, rule } from "../finding.ts";
import { eachTarget } from "./each.ts";

export default rule({
	code: "target/ground-blurs",
	severity: "info",
	title: "The ground blurs while the tracker turns",
	about:
		"A tracker that follows the stars turns the camera against the ground. Where the ground is in the frame, take a companion frame of it with the tracker off, the same framing, and put the two together. Write `companion: true` when it is planned.",
	wrong: {
		targets:
			'- name: core over the gate\n  aim: galactic-centre\n  from: "19:30"\n  exposure: 60 s\n  frames: 20\n  trail: 2 px',
	},
	right: {},
	*find(evaluation) {
		const { site } = evaluation;
		if (!site) return;
		for (const { cell, target } of eachTarget(evaluation)) {
			const { lens, limits, entry, index, trailLimit, series } = target;
			if (!target.tracked || !lens || !limits || entry.companion || limits.ground <= trailLimit) continue;
			const high = entry.orientation === "vertical" ? lens.camera.sensor[0] : lens.camera.sensor[1];
			const direction = target.directionAt(series.from);
			const bottom = direction.altitude - fieldAcross(lens.camera, high) / 2;
			if (bottom > site.cover.skylineAt(direction.azimuth)) continue;
			yield {
				...at(cell, `${index}.name`),
				message: `The ground is in the frame and trails by up to ${limits.ground.toFixed(0)} px over one exposure. Take an untracked companion frame of it.`,
				fixes: fix("Plan a companion frame", false, insertKey(cell, `${index}`, "companion", "true")),
			};
		}
	},
});
