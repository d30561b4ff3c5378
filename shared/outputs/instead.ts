/** Why one of a group is aligned otherwise than its plan has it: others have the laser then, or take frames, or it takes too long. */
import type { EvaluatedMethod } from "../cells/method/method.ts";
import { eveningOf } from "../evaluate/evening/of-plan.ts";
import type { EveningStep } from "../evaluate/evening/tasks.ts";
import { type GroupEvening, type GroupKit, isExposing } from "../evaluate/group.ts";
import { declinationText } from "../notation/declination.ts";
import { overlaps } from "../sky/intervals.ts";
import { halfTurn } from "../sky/vector.ts";
import { listText } from "../text/list.ts";
import { type Phrase, sentences, told } from "../text/sentence.ts";

const words = sentences("output.instead", {
	laser:
		"The {method} was planned, but {others} {have} the laser then. Only one beam at a time: any other laser stays off.",
	frames: "The {method} was planned, but {others} take{s} frames then, and no laser may be on.",
	late: "The {method} was planned, but the group is not there or not ready for it then.",
	busy: "The {method} was planned, but the laser is not free for it in time.",
	declination: `The compass readings use the declination of this site and night for everybody ({common}); the {own} in
		the plan of {name} is not used.`,
});

/** What a kit's plan would be aligned with by itself. */
export interface Instead {
	readonly planned: EvaluatedMethod;
	readonly why: Phrase;
}

/** Undefined where a kit is aligned as its plan has it, or not at all: a finding tells that. */
export function insteadOf(kit: GroupKit, { kits, lasers }: GroupEvening): Instead | undefined {
	const { evaluation, evening, alone } = kit;
	const used = evening?.aligned;
	if (!evaluation || used === undefined) return undefined;
	const byItself = alone && eveningOf(alone);
	const inTime = byItself?.aligned;
	const of = inTime === used ? evaluation.evening?.aligned : inTime;
	const planned = of === undefined || of === used ? undefined : evaluation.methods[of]?.value;
	if (!planned) return undefined;
	const method = planned.name;
	if (inTime === used) return { planned, why: words.late({ method }) };
	const step = byItself?.steps.find(({ kind, of: place }) => kind === "align" && place === inTime) as EveningStep;
	const holding = lasers.filter((use) => use.kit !== kit && overlaps(use, step)).map((use) => use.kit);
	if (holding.length > 0)
		return {
			planned,
			why: words.laser({ method, others: namesOf(holding), have: holding.length === 1 ? "has" : "have" }),
		};
	const exposing = kits.filter((one) => one !== kit && isExposing(one, step));
	if (exposing.length > 0)
		return { planned, why: words.frames({ method, others: namesOf(exposing), s: exposing.length === 1 ? "s" : "" }) };
	return { planned, why: words.busy({ method }) };
}

const namesOf = (kits: readonly GroupKit[]): string => listText(kits.map(({ member }) => member.name));

/** What one of a group has to know of an alignment beside its numbers: why it is another than planned, and whose declination is not used. */
export function alignmentNotes(kit: GroupKit, group: GroupEvening, step: EveningStep): readonly string[] {
	const { evaluation, evening, member } = kit;
	const instead = step.of === evening?.aligned ? insteadOf(kit, group) : undefined;
	const value = evaluation?.methods[step.of ?? -1]?.value;
	const common = value?.method.hazards(value.content).includes("magnet") ? evaluation?.field?.declination : undefined;
	const { declination: own, name } = member;
	const differs = own !== undefined && common !== undefined && Math.abs(halfTurn(own - common)) >= LEAST_DIFFERENCE;
	return [
		...(instead ? [told(instead.why)] : []),
		...(differs ? [told(words.declination({ name, own: declinationText(own), common: declinationText(common) }))] : []),
	];
}

/** Degrees: declinations are told to a tenth. */
const LEAST_DIFFERENCE = 0.05;
