import { budgetOf } from "../../alignment/budget.ts";
import { aimPoint } from "../../alignment/pointer.ts";
import type { MethodContent, MethodKind } from "../../cells/kinds.ts";
import { clockOf } from "../../earth/zone.ts";
import { remembered } from "../../evaluate/memo.ts";
import type { Tonight } from "../../methods/method.ts";
import { METHODS } from "../../methods/methods.ts";
import { bearingBodies } from "../../methods/other-marks.ts";
import { guideStars } from "../../methods/square-laser/guide-stars.ts";
import { DEFAULT_REACH } from "../../methods/square-laser/square-laser.ts";
import { degrees } from "../../notation/angle.ts";
import { appendCell, atCell, fix, rule } from "../finding.ts";

/** A method that is not in the plan must leave this many times less to be worth a word, and the plan's own more than that many degrees (95 %). */
const FINER = 2.5;
const GOOD_ENOUGH = 1.5;

interface Candidate {
	readonly kind: MethodKind;
	readonly radius95: number;
	/** The cell that would plan it. */
	readonly cell: string;
	readonly words: string;
}

export default rule({
	code: "method/better-available",
	severity: "info",
	title: "The stand allows a much finer way",
	about:
		"A method that is not in the plan works tonight at this stand and leaves a much smaller axis error than the plan's best one: the pole is in view, a guide star passes the laser's aim point, a body stands low enough for a bearing, or a landmark is far enough.",
	wrong: { site: "name: Open field\nlatitude: 32.4123 S\nlongitude: 20.8431 E", method: "kind: phone" },
	right: {},
	*find({ plan, methods, aligned, tonight, night }) {
		const [first] = methods;
		if (!tonight || !night || !aligned?.works || !first?.value) return;
		const own = Math.min(
			...methods.map(({ value }) => (value?.works ? value.budget.radius95 : Number.POSITIVE_INFINITY)),
		);
		if (own < GOOD_ENOUGH) return;
		const planned = methods.flatMap(({ value }) => value?.method.kind ?? []).join(" ");
		const best = candidatesFor(tonight, night.zone, own / FINER, planned).reduce<Candidate | undefined>(
			(a, b) => (a && a.radius95 <= b.radius95 ? a : b),
			undefined,
		);
		if (!best || best.radius95 * FINER > own) return;
		yield {
			...atCell(first.cell),
			message: `\`${aligned.method.kind}\` leaves ${degrees(aligned.budget.radius95)} of axis error (95 %). The stand allows ${degrees(best.radius95)} tonight by \`${best.kind}\`${best.words}.`,
			fixes: fix(`Add ${best.kind} as a further way`, false, appendCell(plan, best.cell)),
		};
	},
});

/** Ways that leave less than `wanted`. A search is begun only where the head's own scales would let it succeed. */
const candidatesFor = remembered(
	(tonight: Tonight, zone: string, wanted: number, planned: string): readonly Candidate[] => {
		const found: Candidate[] = [];
		const isNew = (kind: MethodKind): boolean => !planned.split(" ").includes(kind);
		const add = (cell: MethodContent & { kind: MethodKind }, text: string, words: string): void => {
			const method = METHODS[cell.kind].plan(cell, tonight);
			if (method.obstacles.length > 0 || method.windows.length === 0) return;
			found.push({ kind: cell.kind, radius95: budgetOf(method.sources).radius95, cell: text, words });
		};
		if (isNew("pole-sighting"))
			add({ kind: "pole-sighting" }, "method:\n  kind: pole-sighting", ": the pole is in view");
		const least = (kind: MethodKind): number => budgetOf(METHODS[kind].plan({ kind }, tonight).sources).radius95;
		const [star] =
			!isNew("square-laser") || least("square-laser") > wanted
				? []
				: guideStars(aimPoint(tonight.spot.latitude, 90), tonight, { reach: DEFAULT_REACH, most: 1 });
		if (star) {
			const at = clockOf(zone, star.best);
			add(
				{ kind: "square-laser", "guide-star": star.star.name },
				`method:\n  kind: square-laser\n  guide-star: ${star.star.name}\n  at: "${at}"\n  local-rules-checked: false`,
				` on ${star.star.name} at ${at}`,
			);
		}
		// Without a body the budget is that of one on the horizon: none leaves less.
		const [body] = !isNew("sky-bearing") || least("sky-bearing") > wanted ? [] : bearingBodies({}, tonight, 1);
		if (body) {
			const at = clockOf(zone, body.at);
			add(
				{ kind: "sky-bearing", body: body.name },
				`method:\n  kind: sky-bearing\n  body: ${body.name}\n  at: "${at}"`,
				` from ${body.name} at ${at}`,
			);
		}
		const landmark = [...tonight.landmarks].sort((a, b) => b.distance - a.distance)[0];
		if (landmark?.located)
			add(
				{ kind: "landmark-bearing", landmark: landmark.name },
				`method:\n  kind: landmark-bearing\n  landmark: ${JSON.stringify(landmark.name)}`,
				` from ${landmark.name}`,
			);
		return found;
	},
	4,
);
