import { type EvaluatedMethod, evaluateMethod } from "../../cells/method/method.ts";
import { clockOf, wallClock } from "../../earth/zone.ts";
import type { Evaluation } from "../../evaluate/evaluate.ts";
import { costOf } from "../../evaluate/suggestions.ts";
import type { Candidate } from "../../methods/method.ts";
import type { MethodContent } from "../../methods/methods.ts";
import { degrees } from "../../notation/angle.ts";
import { nightClock } from "../../notation/night-clock.ts";
import { type Phrase, sentences } from "../../text/sentence.ts";
import { at, fix, rule, setKey } from "../finding.ts";
import { obstaclesOf } from "./obstacles.ts";
import { otherWays } from "./other-ways.ts";

const words = sentences("method/aim-hidden", {
	title: "Aim point hidden",
	about: `The aim point is where the laser's beam must be when the axis is right. It lies on the meridian, the line
		through north, south and the point overhead; for a right-angle laser its altitude is 90° minus the latitude.
		Here the horizon, the skyline or a roof hides it, so no star can be seen there. Set the laser at another angle
		(\`offset\`), which moves the aim point up or down, or use a method that has no aim point.`,
	offset: "With `offset: {offset}` {star} can be used at {at}{cost}. {others}",
	cost: ": {cost}",
	change: "Use `offset: {offset}` with {star} at {at}",
	below: `The aim point is {altitude} below the horizon: with this \`offset\` the laser would point at the ground. {advice}`,
	outside: `The aim point, at altitude {altitude} on the meridian, is outside every opening, so no star can be seen there.
		{advice}`,
	obstruction: `The aim point, at altitude {altitude} on the meridian, is behind \`{name}\`, so no star can be seen there.
		{advice}`,
	behind: `The aim point, at altitude {altitude} on the meridian, is behind the skyline ({skyline} there), so no star can
		be seen there. {advice}`,
});

export default rule({
	code: "method/aim-hidden",
	severity: "error",
	words,
	wrong: { site: "name: Gorge\nlatitude: 62 S\nlongitude: 54.3622 W\nskyline: [[0, 45], [180, 45]]" },
	instead: {
		site: "name: Gorge\nlatitude: 62 S\nlongitude: 54.3622 W\nskyline: [[0, 45], [180, 45]]",
		method: "kind: phone",
	},
	right: { site: "name: Gorge\nlatitude: 62 S\nlongitude: 54.3622 W\nskyline: [[0, 27], [180, 45]]" },
	*find(evaluation) {
		for (const { cell, obstacle, method } of obstaclesOf(evaluation, "aim-hidden", "aim-below-horizon")) {
			const others = otherWays(evaluation, method.method);
			const other = anotherOffset(evaluation, method);
			const { night } = evaluation;
			const said = other &&
				night && {
					offset: degrees(other.offset, 0),
					star: other.mark.name,
					at: nightClock(night, other.mark.at),
					cost: other.cost ? words.cost({ cost: other.cost }) : "",
				};
			const advice = said ? words.offset({ ...said, others }) : others;
			const altitude = degrees(Math.abs(obstacle.altitude));
			yield {
				...at(cell, cell.read.places.has("offset") ? "offset" : "kind"),
				message:
					obstacle.type === "aim-below-horizon"
						? words.below({ altitude, advice })
						: obstacle.by === "roof"
							? words.outside({ altitude, advice })
							: typeof obstacle.by === "object"
								? words.obstruction({ altitude, name: obstacle.by.name, advice })
								: words.behind({ altitude, skyline: degrees(obstacle.skyline), advice }),
				fixes: said
					? fix(
							words.change(said),
							false,
							setKey(cell, "", "offset", said.offset),
							...Object.entries(other.mark.keys).map(([key, value]) => setKey(cell, "", key, value)),
							setKey(cell, "", "at", clockOf(night.zone, other.mark.at)),
						)
					: [],
			};
		}
	},
});

/** Angles between axis and laser that are tried, degrees: the least change first. */
const OFFSETS = [75, 105, 60, 120, 45, 135];

interface OtherOffset {
	readonly offset: number;
	readonly mark: Candidate;
	/** What using it then costs, if anything. */
	readonly cost: Phrase | undefined;
}

/** Another angle of the pointer, with the best that it can be put on tonight; one that keeps the frames whole, if there is one. */
function anotherOffset({ tonight }: Evaluation, { content, method }: EvaluatedMethod): OtherOffset | undefined {
	if (!tonight || !method.search) return undefined;
	const { search } = method;
	return tonight.remember(`another offset ${JSON.stringify(content)}`, () => {
		const found: OtherOffset[] = [];
		for (const offset of OFFSETS) {
			const turned = { ...content, offset } as MethodContent;
			const [mark] = search.find(turned, tonight, { most: 1 });
			if (!mark) continue;
			const pointed = { ...turned, ...mark.keys, at: wallClock(tonight.zone, mark.at).secondsOfDay } as MethodContent;
			if (evaluateMethod(pointed, tonight)?.works)
				found.push({ offset, mark, cost: costOf(tonight, method, turned, mark.at) });
		}
		return found.find(({ cost }) => cost === undefined) ?? found[0];
	});
}
