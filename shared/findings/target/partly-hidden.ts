import { sizeOf } from "../../cells/targets/size.ts";
import { degrees } from "../../notation/angle.ts";
import { type Cover, hiddenBy } from "../../sky/cover.ts";
import { type Direction, toDirection, toVector } from "../../sky/horizontal.ts";
import { whereTrue } from "../../sky/roots.ts";
import { cross, RAD, unit } from "../../sky/vector.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { eachTarget, timesText } from "./each.ts";

const words = sentences("target/partly-hidden", {
	title: "A part of the target is hidden",
	about: `The middle of the target is in view, but a quarter or more of its extent is behind the ground, the skyline,
		an obstruction or the edge of a roof at some time during its frames. The extent is the object's size on maps or
		the plan's \`extent\`, taken as a circle. Begin when all of the target is in view, or, if a part of it is
		enough, write the \`extent\` of that part.`,
	message: `{name} is {size} across, and {share} % of that is hidden at {time}, though its middle is in view. Less
		than a quarter is hidden: {times}. Take the frames then.`,
});

/** Part of the extent that may be hidden. Common practice, no source. */
const MOST = 0.25;
/** Smaller than this, degrees, nobody sees a part of it missing. */
const LEAST_SIZE = 1;
/** Points of the disc, of equal shares of its area: by Vogel's spiral (Mathematical Biosciences 44 (1979) 179). */
const POINTS = 200;
const GOLDEN = Math.PI * (3 - Math.sqrt(5));

/** The share of a disc round a direction that is hidden. */
function hiddenShare(cover: Cover, middle: Direction, size: number): number {
	const out = toVector(middle);
	const right = unit(cross(out, Math.abs(middle.altitude) > 89 ? [1, 0, 0] : [0, 0, 1]));
	const up = cross(right, out);
	let hidden = 0;
	for (let i = 0; i < POINTS; i++) {
		const from = (size / 2) * RAD * Math.sqrt((i + 0.5) / POINTS);
		const [a, b, c] = [Math.cos(from), Math.sin(from) * Math.cos(i * GOLDEN), Math.sin(from) * Math.sin(i * GOLDEN)];
		const along = (axis: 0 | 1 | 2): number => a * out[axis] + b * right[axis] + c * up[axis];
		if (hiddenBy(cover, toDirection([along(0), along(1), along(2)]))) hidden += 1;
	}
	return hidden / POINTS;
}

const walled = (skyline: number, extent: string): { readonly site: string; readonly targets: string } => ({
	site: `name: walls\nlatitude: 32.4123 S\nlongitude: 20.8431 E\nelevation: 1450 m\nskyline: [[0, ${skyline}]]`,
	targets: `- name: lagoon\n  aim: M8\n  extent: ${extent}\n  from: "21:30"\n  exposure: 5 s\n  trail: 60 px`,
});

export default rule({
	code: "target/partly-hidden",
	severity: "warning",
	words,
	wrong: walled(33.8, "4.5°"),
	instead: walled(20, "4.5°"),
	right: walled(32.9, "4.5°"),
	over: walled(33.2, "4.5°"),
	each: "target",
	*find(evaluation) {
		const { site } = evaluation;
		if (!site) return;
		for (const { cell, target, firstDay, clock, timePath, night } of eachTarget(evaluation)) {
			const size = sizeOf(target);
			if (size === undefined || size < LEAST_SIZE || target.fixed || target.panorama || !target.ofTheSky) continue;
			if (target.body === undefined || target.entry.opening !== undefined) continue;
			const { directionAt, name } = target;
			const share = (t: number): number => hiddenShare(site.cover, directionAt(t), size);
			// A hidden middle is told by another finding.
			const ends = [firstDay.from, firstDay.until].filter((t) => !hiddenBy(site.cover, directionAt(t)));
			const [worst] = ends.map((t) => ({ t, part: share(t) })).sort((one, other) => other.part - one.part);
			if (!worst || worst.part < MOST) continue;
			yield {
				...at(cell, timePath),
				message: words.message({
					name,
					size: degrees(size),
					share: Math.round(worst.part * 100),
					time: clock(worst.t),
					times: timesText(
						target.usable.flatMap((within) => whereTrue((t) => share(t) < MOST, within, 600_000)),
						night,
					),
				}),
			};
		}
	},
});
