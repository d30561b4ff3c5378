import { foregroundOf } from "../../cells/targets/target.ts";
import { withWholeMinutes } from "../../sky/intervals.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { eachTarget, timesText } from "./each.ts";

const words = sentences("target/no-ground", {
	title: "No ground in the frame",
	about: `The plan asks for foreground frames for this target, but at the first frame there is no ground in the
		picture: the target is too far above the skyline for the lens. Begin when it is lower, use a shorter focal
		length, turn the camera to portrait, or take a panorama with a row of the ground below it.`,
	message: "At {time} no ground is in the frame of {name}. Target and ground fit into one frame {times}.",
	never:
		"At {time} no ground is in the frame of {name}. Target and ground never fit into one frame while you are on site.",
});

const LENS = "focal-length: 50 mm\nsensor: full-frame\npixels: 6000 x 4000";
const coreAt = (time: string): { readonly lens: string; readonly targets: string } => ({
	lens: LENS,
	targets: `- name: core\n  aim: galactic-centre\n  from: "${time}"\n  exposure: 5 s\n  trail: 60 px\n  foreground: { exposure: 60 s }`,
});

export default rule({
	code: "target/no-ground",
	severity: "info",
	words,
	wrong: coreAt("22:30"),
	right: coreAt("18:40"),
	each: "target",
	*find(evaluation) {
		for (const { cell, target, night, clock, timePath } of eachTarget(evaluation)) {
			const { entry, framing, series, name, ofTheSky, body } = target;
			if (!framing || !ofTheSky || !body || body.type === "arch" || !foregroundOf(entry)) continue;
			// `true` asks for a frame of whatever is under it.
			if (entry.foreground === true) continue;
			if (framing.start().ground > 0) continue;
			const times = withWholeMinutes(framing.fits());
			yield {
				...at(cell, timePath),
				message:
					times.length === 0
						? words.never({ time: clock(series.from), name })
						: words.message({ time: clock(series.from), name, times: timesText(times, night) }),
			};
		}
	},
});
