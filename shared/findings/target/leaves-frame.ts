import { missOf } from "../../methods/method.ts";
import { degrees } from "../../notation/angle.ts";
import { fieldAcross } from "../../optics/camera.ts";
import { at, rule } from "../finding.ts";
import { eachTarget } from "./each.ts";

export default rule({
	code: "target/leaves-frame",
	severity: "warning",
	title: "It does not stay in the frame",
	about:
		"The thing is wider than the field of view, or the camera stands still while the sky carries the target out of the frame before the series ends.",
	wrong: {
		lens: "focal-length: 200 mm\nsensor: full-frame\npixels: 6000 x 4000",
		targets:
			'- name: core over the gate\n  aim: galactic-centre\n  extent: 20°\n  from: "21:30"\n  exposure: 5 s\n  trail: 60 px',
	},
	right: {},
	*find(evaluation) {
		for (const { cell, target } of eachTarget(evaluation)) {
			const { lens, entry, index, series, body } = target;
			if (!lens) continue;
			const [width, height] =
				entry.orientation === "vertical" ? [lens.camera.sensor[1], lens.camera.sensor[0]] : lens.camera.sensor;
			const [across, high] = [fieldAcross(lens.camera, width), fieldAcross(lens.camera, height)];
			if (entry.extent !== undefined && entry.extent > Math.max(across, high)) {
				yield {
					...at(cell, `${index}.extent`),
					message: `${target.name} is ${degrees(entry.extent)} wide; the frame is ${degrees(across)} by ${degrees(high)}. Take a shorter lens, or several frames side by side.`,
				};
			}
			if (target.tracked || !body) continue;
			const moved = missOf(target.directionAt(series.from), target.directionAt(series.until));
			if (Math.abs(moved.right) <= across / 2 && Math.abs(moved.up) <= high / 2) continue;
			yield {
				...at(cell, `${index}.${entry.frames === undefined ? "exposure" : "frames"}`),
				message: `Untracked, ${target.name} moves by ${degrees(moved.total)} over the series and leaves the frame (${degrees(across)} by ${degrees(high)}, set on it at the start). Set the frame anew in between, or ahead of it.`,
			};
		}
	},
});
