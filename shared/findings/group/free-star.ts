/** Another star for a kit whose turn with the laser is taken. */
import type { EvaluatedMethod } from "../../cells/method/method.ts";
import type { EpochMs } from "../../earth/zone.ts";
import { eveningOf } from "../../evaluate/evening/of-plan.ts";
import { type GroupEvening, type GroupKit, isBusy, isExposing, lookoutOf } from "../../evaluate/group.ts";
import { suggestionsFor } from "../../evaluate/suggestions.ts";
import { overlaps } from "../../sky/intervals.ts";

export interface FreeStar {
	readonly name: string;
	readonly at: EpochMs;
}

/**
 * The first of those that a laser method of the kit finds tonight with which the kit is aligned while the laser is free,
 * nobody takes frames, its leader can hold it and somebody looks out, and with which none of the kit's own frames is lost; undefined where there is none.
 */
export function freeStar(kit: GroupKit, group: GroupEvening): FreeStar | undefined {
	const methods = kit.evaluation?.methods ?? [];
	for (const [place, { value }] of methods.entries()) {
		if (!value?.method.hazards(value.content).includes("laser")) continue;
		const star = starOf(kit, group, value, place);
		if (star) return star;
	}
	return undefined;
}

function starOf(
	kit: GroupKit,
	group: GroupEvening,
	{ method, content }: EvaluatedMethod,
	place: number,
): FreeStar | undefined {
	const { evaluation, alone } = kit;
	if (!evaluation || !alone || !method.search?.momentary) return undefined;
	const { at: _, ...anytime } = content;
	return suggestionsFor(evaluation, method, anytime as typeof content).find(({ at }) => {
		const aligns = alone.tasks.aligns.map((one, i) => (i === place ? { ...one, at, fixed: true, works: true } : one));
		const evening = eveningOf({ ...alone, tasks: { ...alone.tasks, aligns } });
		const step = evening?.steps.find(({ kind, of }) => kind === "align" && of === place);
		return (
			step !== undefined &&
			evening?.leftOut.length === 0 &&
			evening.clashes.length === 0 &&
			!group.lasers.some((use) => use.kit !== kit && overlaps(use, step)) &&
			!group.kits.some((other) => other !== kit && isExposing(other, step)) &&
			lookoutOf(group, { ...step, kit }) !== undefined &&
			(group.leader === kit || group.leader === undefined || !isBusy(group.leader, step))
		);
	});
}
