import { radius95Of } from "../../alignment/budget.ts";
import type { EpochMs } from "../../earth/zone.ts";
import { type Proposed, proposedBy } from "../../evaluate/proposals.ts";
import { ALL_METHODS, type AnyMethod, methodName } from "../../methods/methods.ts";
import { type Tonight, withDue } from "../../methods/tonight.ts";
import { errorDegrees } from "../../notation/angle.ts";
import { written } from "../../text/scalar.ts";
import { sentences } from "../../text/sentence.ts";
import { appendCell, atCell, fix, rule } from "../finding.ts";

/** A method that is not in the plan must leave this many times less to be worth a word, and the plan's own more than that many degrees (95 %). */
const FINER = 2.5;
const GOOD_ENOUGH = 1.5;

/** The finest that methods propose, done before the frames. A search is begun only where the method's own scales would let it leave less than `wanted`. */
function bestOf(
	methods: readonly AnyMethod[],
	tonight: Tonight,
	wanted: number,
): { readonly best: Proposed | undefined } {
	let best: Proposed | undefined;
	for (const method of methods) {
		const { kind, setUp } = method;
		if (!method.propose || radius95Of(setUp({ kind }, tonight)) > wanted) continue;
		for (const proposed of proposedBy(method, tonight))
			if (!proposed.costs && (!best || proposed.radius95 < best.radius95)) best = proposed;
	}
	return { best };
}

/** The cell that would plan it. */
function cellOf({ method, keys }: Proposed): string {
	const lines = Object.entries(keys).map(([key, value]) => `\n  ${key}: ${written(value)}`);
	return `method:\n  kind: ${method.kind}${lines.join("")}`;
}

const words = sentences("method/better-available", {
	title: "More accurate method available",
	about: `A method that is not in the plan would work here tonight and is expected to leave an axis error at least 2.5
		times smaller than the best one planned. The pole may be in view, a guide star may pass the aim point, a star or
		planet may be low enough for a bearing, or a landmark far enough away. Add it as a fallback or make it the first
		method.`,
	better: `The {own} is expected to leave the axis within {ownError} of the pole (19 times in 20, if your ± are
		right). The {other}{by} would bring it within {error} tonight; add it if you have what it needs.`,
	add: "Add the {other} as a fallback",
});

export default rule({
	code: "method/better-available",
	severity: "info",
	whole: true,
	words,
	wrong: {
		site: "name: Open field\nlatitude: 32.4123 S\nlongitude: 54.3622 W",
		method: "kind: phone",
	},
	instead: {
		site: "name: Open field\nlatitude: 32.4123 S\nlongitude: 54.3622 W",
		method: ["kind: pole-sighting", "kind: phone"],
	},
	right: {
		site: "name: Open field\nlatitude: 32.4123 S\nlongitude: 54.3622 W",
		method: "kind: phone\nuncertainty: { compass: ± 0.5°, aim: ± 0.3°, magnetic-model: ± 0° }",
	},
	*find({ plan, methods, aligned, tonight }) {
		const [first] = methods;
		if (!tonight || !aligned?.works || !first?.value) return;
		const own = Math.min(
			...methods.map(({ value }) => (value?.works ? value.budget.radius95 : Number.POSITIVE_INFINITY)),
		);
		if (own < GOOD_ENOUGH) return;
		const planned = methods.flatMap(({ value }) => value?.method.kind ?? []);
		const others = ALL_METHODS.filter(({ kind, corrects }) => !corrects && !planned.includes(kind));
		const bestWith = (due: EpochMs | undefined): Proposed | undefined =>
			tonight.remember(`better than ${own} of ${planned.join()} for ${due}`, () =>
				bestOf(others, withDue(tonight, due), own / FINER),
			).best;
		// Whether there is one does not depend on when the frames begin, which is edited more often than the night.
		const anytime = bestWith(undefined);
		if (!anytime || anytime.radius95 * FINER > own) return;
		const best = bestWith(tonight.due);
		if (!best || best.radius95 * FINER > own) return;
		const { by, radius95 } = best;
		const other = methodName(best.method);
		yield {
			...atCell(first.cell),
			message: words.better({
				own: aligned.name,
				ownError: errorDegrees(aligned.budget.radius95),
				error: errorDegrees(radius95),
				other,
				by,
			}),
			fixes: fix(words.add({ other }), false, appendCell(plan, cellOf(best))),
		};
	},
});
