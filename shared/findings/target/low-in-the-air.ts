import { isOfArcs } from "../../cells/targets/target.ts";
import { degrees } from "../../notation/angle.ts";
import { overLimit } from "../../notation/over-limit.ts";
import { airMass } from "../../sky/extinction.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { eachTarget } from "./each.ts";

const words = sentences("target/low-in-the-air", {
	title: "Target dimmed by the air",
	about: `Near the horizon light takes a long way through the air, which dims and reddens it. Overhead it passes
		through one air mass, at 30° through two and at 10° through nearly six, and each dims it by the site's
		\`extinction\`. Losing one magnitude is losing 60 % of the light; haze costs more. Take the frames when the
		target is higher, or plan more of them.`,
	message: `Half-way through its frames, at {time}, {name} is at altitude {altitude}: the air dims it by {loss} mag. {higher}`,
	best: "Highest at {best}, at altitude {highest}, where it loses {least} mag.",
	never: "It gets no higher while it is usable.",
});

/** Magnitudes. */
const MOST = 1;
const STEP_MS = 600_000;
/** Degrees: what is worth moving the frames for. */
const HIGHER = 1;

const site = (extinction: string): string => `name: Sheepfold
latitude: 32.4123 S
longitude: 54.3622 W
elevation: 145 m
timezone: America/Montevideo
place: [ruin]
extinction: ${extinction} mag
skyline: [[0, 4], [60, 9], [120, 18], [160, 49], [215, 52], [250, 30], [300, 6]]`;

export default rule({
	code: "target/low-in-the-air",
	severity: "info",
	words,
	wrong: { site: site("1.2") },
	right: { site: site("0.66") },
	over: { site: site("0.67") },
	each: "target",
	*find(evaluation) {
		if (!evaluation.site) return;
		const { extinction } = evaluation.site;
		const lossAt = (altitude: number): number => extinction * airMass(altitude);
		for (const { cell, target, clock, timePath } of eachTarget(evaluation)) {
			const { body, name, series, usable, directionAt, needsDark, entry } = target;
			if (!body || body.type === "arch" || !needsDark || isOfArcs(entry)) continue;
			const middle = (series.from + series.until) / 2;
			const { altitude } = directionAt(middle);
			const loss = lossAt(altitude);
			// What is never usable has a finding of its own.
			if (altitude < 0 || loss <= MOST || usable.length === 0) continue;
			const times = usable.flatMap(({ from, until }) =>
				Array.from({ length: Math.floor((until - from) / STEP_MS) + 1 }, (_, i) => from + i * STEP_MS),
			);
			const [best] = times
				.map((moment) => ({ moment, altitude: directionAt(moment).altitude }))
				.sort((a, b) => b.altitude - a.altitude);
			yield {
				...at(cell, timePath),
				message: words.message({
					time: clock(middle),
					name,
					altitude: degrees(altitude),
					loss: overLimit(loss, MOST, 1),
					higher:
						best && best.altitude > altitude + HIGHER
							? words.best({
									best: clock(best.moment),
									highest: degrees(best.altitude),
									least: lossAt(best.altitude).toFixed(1),
								})
							: words.never(),
				}),
			};
		}
	},
});
