import { missOf } from "../../alignment/pointer.ts";
import { isOfArcs } from "../../cells/targets/target.ts";
import { degrees } from "../../notation/angle.ts";
import { overLimit } from "../../notation/over-limit.ts";
import { objectName, objectOf } from "../../notation/sky-object.ts";
import { fieldAcross } from "../../optics/camera.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { eachTarget, framesFix } from "./each.ts";

const words = sentences("target/leaves-frame", {
	title: "Target does not fit in the frame",
	about: `Either the target is larger than the field of view, or the camera does not track and the sky carries the
		target out of the frame. Either way part of it is missing from the picture. Use a shorter focal length, take a
		panorama, shorten the series, or reframe in between.`,
	wide: `{name} is {extent} across; the frame covers {across} by {high}. Use a shorter focal length, or take a panorama.`,
	object: `{name}: {object} is {extent} across on maps; the frame covers {across} by {high}. Use a shorter focal
		length, or take a panorama; if you want only a part of it, write the size of that part as \`extent\`.`,
	moves: `Untracked, {name} moves by {moved} during the series and leaves the frame, which covers {across} by {high}. Take
		fewer frames, or reframe in between.`,
});

const LONG_LENS = "focal-length: 200 mm\nsensor: full-frame\npixels: 6000 x 4000";

export default rule({
	code: "target/leaves-frame",
	severity: "warning",
	words,
	wrong: {
		lens: LONG_LENS,
		targets:
			'- name: core over the gate\n  aim: galactic-centre\n  extent: 20°\n  from: "21:30"\n  exposure: 5 s\n  trail: 60 px',
	},
	instead: {
		lens: "focal-length: 50 mm\nsensor: full-frame\npixels: 6000 x 4000",
		targets:
			'- name: core over the gate\n  aim: galactic-centre\n  extent: 20°\n  from: "21:30"\n  exposure: 5 s\n  trail: 60 px',
	},
	right: [
		{
			lens: LONG_LENS,
			targets: '- name: band\n  aim: Orion\n  from: "21:30"\n  exposure: 5 s\n  trail: 60 px',
		},
		{
			lens: LONG_LENS,
			targets: '- name: cloud\n  aim: LMC\n  extent: 5°\n  from: "21:30"\n  exposure: 5 s\n  trail: 60 px',
		},
		{
			lens: LONG_LENS,
			targets:
				'- name: core\n  aim: galactic-centre\n  extent: 10.28°\n  from: "21:30"\n  exposure: 5 s\n  trail: 60 px',
		},
		{
			lens: LONG_LENS,
			targets:
				'- name: core\n  aim: galactic-centre\n  from: "21:30"\n  exposure: 5 s\n  frames: 198\n  tracked: false\n  trail: 60 px',
		},
	],
	over: [
		{
			lens: LONG_LENS,
			targets: '- name: cloud\n  aim: LMC\n  from: "21:30"\n  exposure: 5 s\n  trail: 60 px',
		},
		{
			lens: LONG_LENS,
			targets:
				'- name: core\n  aim: galactic-centre\n  extent: 10.29°\n  from: "21:30"\n  exposure: 5 s\n  trail: 60 px',
		},
		{
			lens: LONG_LENS,
			targets:
				'- name: core\n  aim: galactic-centre\n  from: "21:30"\n  exposure: 5 s\n  frames: 199\n  tracked: false\n  trail: 60 px',
		},
	],
	each: "target",
	*find(evaluation) {
		for (const one of eachTarget(evaluation)) {
			const { cell, target } = one;
			const { lens, entry, index, series, body, name } = target;
			// What a panorama covers has findings of its own.
			if (!lens || target.panorama) continue;
			const [width, height] =
				entry.orientation === "portrait" ? [lens.camera.sensor[1], lens.camera.sensor[0]] : lens.camera.sensor;
			const [across, high] = [fieldAcross(lens.camera, width), fieldAcross(lens.camera, height)];
			if (entry.extent !== undefined && entry.extent > Math.max(across, high)) {
				const places = overLimit(entry.extent, Math.max(across, high), 1).split(".")[1]?.length;
				yield {
					...at(cell, `${index}.extent`),
					message: words.wide({
						name,
						extent: degrees(entry.extent, places),
						across: degrees(across, places),
						high: degrees(high, places),
					}),
				};
			}
			const object = objectOf(body);
			const size = object && object.kind !== "constellation" ? object.size[0] : undefined;
			if (object && size !== undefined && entry.extent === undefined && size > Math.max(across, high)) {
				const places = overLimit(size, Math.max(across, high), 1).split(".")[1]?.length;
				yield {
					...at(cell, `${index}.aim`),
					message: words.object({
						name,
						object: objectName(object),
						extent: degrees(size, places),
						across: degrees(across, places),
						high: degrees(high, places),
					}),
				};
			}
			if (target.tracked || !body || isOfArcs(entry)) continue;
			const start = target.directionAt(series.from);
			const movedAt = (t: number) => missOf(start, target.directionAt(t));
			const stays = (t: number): boolean => {
				const { right, up } = movedAt(t);
				return Math.abs(right) <= across / 2 && Math.abs(up) <= high / 2;
			};
			if (stays(series.until)) continue;
			const { exposure = 0, gap = 0, frames = 1 } = entry;
			const endOf = (count: number) => series.from + (count * exposure + (count - 1) * gap) * 1000;
			yield {
				...at(cell, `${index}.${entry.frames === undefined ? "exposure" : "frames"}`),
				message: words.moves({
					name,
					moved: degrees(movedAt(series.until).total),
					across: degrees(across),
					high: degrees(high),
				}),
				fixes: () =>
					framesFix(
						one,
						last((count) => stays(endOf(count)), frames),
					),
			};
		}
	},
});

/** The last whole number from 1 on, and below another, that holds; 0 when none does. */
function last(holds: (count: number) => boolean, below: number): number {
	let [low, high] = [0, below];
	while (high - low > 1) {
		const middle = Math.floor((low + high) / 2);
		if (holds(middle)) low = middle;
		else high = middle;
	}
	return low;
}
