import { sidesOf } from "../../cells/targets/framing.ts";
import { OVERLAP } from "../../cells/targets/panorama.ts";
import { foregroundOf } from "../../cells/targets/target.ts";
import type { Evaluation } from "../../evaluate/evaluate.ts";
import { fieldAcross } from "../../optics/camera.ts";
import { MOST_ROWS } from "../../optics/panorama-rows.ts";
import { contains, withWholeMinutes } from "../../sky/intervals.ts";
import { asYaml } from "../../text/scalar.ts";
import { sentences } from "../../text/sentence.ts";
import { at, type Fix, fix, rule, setKey } from "../finding.ts";
import { type EachTarget, eachTarget, timesText } from "./each.ts";

const words = sentences("target/no-ground", {
	title: "No ground in the frame",
	about: `The plan asks for foreground frames for this target, but at the first frame there is no ground in the
		picture: the target is too far above the skyline for the lens. Begin when it is lower, use a shorter focal
		length, turn the camera to portrait, or take a panorama with a row of the ground below it.`,
	message: `At {time} no ground is in the frame of {name}. Target and ground fit into one frame {times}. Begin then,
		or use a shorter focal length.`,
	never: `At {time} no ground is in the frame of {name}. Target and ground never fit into one frame while you are on
		site. Use a shorter focal length, or add a row of the ground below as a panorama.`,
	join: "Join the ground to it as a panorama of {rows} rows under it",
	joinOne: "Join the ground to it as a panorama of 1 row under it",
});

const LENS = "focal-length: 50 mm\nsensor: full-frame\npixels: 6000 x 4000";
const coreAt = (time: string): { readonly lens: string; readonly targets: string } => ({
	lens: LENS,
	targets: `- name: core\n  aim: galactic-centre\n  from: "${time}"\n  exposure: 5 s\n  trail: 60 px\n  foreground: { exposure: 60 s }`,
});

/** The ground of the same frames, joined to them. */
const JOINED = coreAt("22:30").targets.replace(
	"foreground: { exposure: 60 s }",
	"panorama: { columns: 1, rows: 1 }\n  foreground: { exposure: 60 s, panorama: { rows: 3 } }",
);

export default rule({
	code: "target/no-ground",
	severity: "info",
	words,
	wrong: coreAt("22:30"),
	right: [coreAt("18:40"), { ...coreAt("22:30"), targets: JOINED }],
	each: "target",
	*find(evaluation) {
		for (const one of eachTarget(evaluation)) {
			const { cell, target, night, clock, timePath } = one;
			const { entry, framing, series, name, ofTheSky, body } = target;
			if (!framing || !ofTheSky || !body || body.type === "arch" || !foregroundOf(entry)) continue;
			if (framing.showsGround()) continue;
			// A sliver of it along the lower edge is between the places that are looked at there.
			const fits = framing.fits();
			if (contains(fits, series.from)) continue;
			const times = withWholeMinutes(fits);
			yield {
				...at(cell, timePath),
				message:
					times.length === 0
						? words.never({ time: clock(series.from), name })
						: words.message({ time: clock(series.from), name, times: timesText(times, night) }),
				fixes: () => joined(one, evaluation),
			};
		}
	},
});

/** A panorama of one panel, and under it as many rows of the ground as reach below the skyline. */
function joined({ cell, target }: EachTarget, { site }: Evaluation): readonly Fix[] {
	const { entry, index, lens, series, directionAt } = target;
	if (!site || !lens) return [];
	const { camera } = lens;
	const [, height] = sidesOf(camera, entry.orientation === "portrait");
	const step = fieldAcross(camera, height) * (1 - OVERLAP);
	const { altitude, azimuth } = directionAt(series.from);
	// The middle of the lowest row is on the skyline or under it: half of it is ground.
	const rows = Math.max(1, Math.ceil((altitude - site.cover.skylineAt(azimuth)) / step));
	if (rows > MOST_ROWS) return [];
	const panorama = setKey(cell, String(index), "panorama", asYaml("{ columns: 1, rows: 1 }"));
	if (rows === 1) return fix(words.joinOne(), false, panorama);
	const ground =
		entry.foreground === true
			? setKey(cell, String(index), "foreground", asYaml(`{ panorama: { rows: ${rows} } }`))
			: setKey(cell, `${index}.foreground`, "panorama", asYaml(`{ rows: ${rows} }`));
	return fix(words.join({ rows }), false, panorama, ground);
}
