import { errorDegrees } from "../../notation/angle.ts";
import { sentences } from "../../text/sentence.ts";
import { atCell, rule } from "../finding.ts";

/** A fall-back must be this many times finer to be worth a word. */
const FINER = 1.5;

const words = sentences("method/fall-back-better", {
	title: "Fallback more accurate than the first method",
	about: `Methods are ranked by the order of their cells: the first is the plan, the others are fallbacks. One of the
		fallbacks works tonight and is expected to leave an axis error at least 1.5 times smaller than the first. Move
		it to the top, unless it is a fallback for reasons the plan does not know, such as effort or local rules.`,
	finer: `This fallback is expected to leave the axis within {error} of the pole (19 times in 20), the first method
		({first}) within {own}. Move the fallback to the top if you can use it.`,
	afterwards: `This fallback only corrects what the first method ({first}) has set. Used after that method, it brings
		the axis from within {own} to within {error} of the pole (19 times in 20): plan time for it before the frames,
		if you can.`,
	onlyOne: `The first method ({first}) does not work tonight as planned. The best of those that do is the {name}: axis
		within {error} (19 times in 20). Move it to the top, or correct the first.`,
});

export default rule({
	code: "method/fall-back-better",
	severity: "info",
	words,
	wrong: {
		method: [
			"kind: phone",
			'kind: square-laser\nguide-star: eta Virginis\nat: "20:01"\nlocal-rules-checked: true\nuncertainty: { aim: ± 0.2°, squareness: ± 0.2°, roll: ± 0.2°, level: ± 0.2° }',
		],
	},
	instead: {
		method: [
			'kind: square-laser\nguide-star: eta Virginis\nat: "20:01"\nlocal-rules-checked: true\nuncertainty: { aim: ± 0.2°, squareness: ± 0.2°, roll: ± 0.2°, level: ± 0.2° }',
			"kind: phone",
		],
	},
	right: {
		method: [
			"kind: compass\nuncertainty: { compass: ± 0.6°, magnetic-model: ± 0° }",
			'kind: square-laser\nguide-star: eta Virginis\nat: "20:01"\nlocal-rules-checked: true',
		],
	},
	*find({ methods, evening }) {
		const [first, ...others] = methods;
		if (!first?.value) return;
		const own = first.value.works ? first.value.budget.radius95 : Number.POSITIVE_INFINITY;
		const works = others.flatMap(({ cell, value }) => (value?.works ? [{ cell, value }] : []));
		const best = works.reduce<(typeof works)[number] | undefined>(
			(a, b) => (a && a.value.budget.radius95 <= b.value.budget.radius95 ? a : b),
			undefined,
		);
		if (!best || best.value.budget.radius95 * FINER > own) return;
		// What only corrects needs something to correct.
		if (best.value.method.corrects && !first.value.works) return;
		// The evening has it before the frames already.
		if (methods[evening?.corrected ?? -1]?.value === best.value) return;
		const error = errorDegrees(best.value.budget.radius95);
		const { name } = first.value;
		yield {
			...atCell(best.cell),
			message: !Number.isFinite(own)
				? words.onlyOne({
						first: name,
						name: best.value.name,
						error,
					})
				: best.value.method.corrects
					? words.afterwards({ error, first: name, own: errorDegrees(own) })
					: words.finer({ error, first: name, own: errorDegrees(own) }),
		};
	},
});
