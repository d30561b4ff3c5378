/** One of a group: the kit's plan on the group's evening, for its own card and calendar. */
import type { Evaluation } from "../evaluate/evaluate.ts";
import { inGroup } from "../evaluate/group.ts";
import { check } from "../findings/check.ts";
import type { Finding } from "../findings/finding.ts";
import { OF_MEMBERS, OF_TEXT } from "../findings/group/member-findings.ts";
import { cellsOf, type Plan } from "../plan/plan.ts";
import { withItsTurn } from "./group-rows.ts";
import type { CheckedPlan } from "./output.ts";

/** Names of the members, in the order of the list; none of a plan that is no group. */
export const memberNames = ({ evaluation }: Pick<CheckedPlan, "evaluation">): readonly string[] =>
	(evaluation.group?.kits ?? []).map(({ member }) => member.name);

/** `place`: in the list. Undefined where there is no such member, or no plan of a kit that could be done. */
export function memberPlan(group: CheckedPlan, place: number): CheckedPlan | undefined {
	const own = memberSide(group, place);
	if (!own) return undefined;
	const { evaluation, findings } = own;
	return {
		path: group.path,
		text: evaluation.plan.text,
		evaluation,
		findings: [...ofGroup(group, place, findings), ...findings],
	};
}

/** One of a group with what is found in the kit's own plan on the group's evening. */
export function memberSide(
	{ evaluation: { group, plan } }: Pick<CheckedPlan, "evaluation">,
	place: number,
): Pick<CheckedPlan, "evaluation" | "findings"> | undefined {
	const kit = group?.kits[place];
	const evaluation = group && kit && inGroup(kit, group);
	if (!evaluation) return undefined;
	const findings = check(evaluation).filter(({ code }) => !OF_TEXT.test(code));
	return { evaluation: withTitleOf(plan, withItsTurn(evaluation)), findings };
}

/** A kit's plan under the group's title as it is now: another title leaves the rest as it was evaluated. */
function withTitleOf(group: Plan, evaluation: Evaluation): Evaluation {
	const [title] = cellsOf(group, "plan");
	const cells = evaluation.plan.cells.map((cell) => (title && cell.read.kind === "plan" ? title : cell));
	return Object.create(evaluation, { plan: { value: { ...evaluation.plan, cells } } });
}

/**
 * What the group's plan is told of a member or of all: whatever stands in no other's entry, or concerns this one beside the
 * other. `own`: what the kit's own plan is told on the group's evening, which is not said twice.
 */
function ofGroup({ evaluation, findings }: CheckedPlan, place: number, own: readonly Finding[]): readonly Finding[] {
	const [cell] = cellsOf(evaluation.plan, "group");
	const entries = (evaluation.group?.kits ?? []).flatMap(({ member }) => {
		const entry = cell?.read.places.get(`${member.place}`)?.value;
		return cell && entry ? [{ place: member.place, from: cell.start + entry.from, to: cell.start + entry.to }] : [];
	});
	const told = new Set(own.map(({ code, message }) => `${code} ${message}`));
	return findings.flatMap((one) => {
		const { code, message, severity, from, to, concerns } = one;
		if (code === OF_MEMBERS || told.has(`${code} ${message}`)) return [];
		const of = entries.find((entry) => entry.from <= from && to <= entry.to);
		if (of && of.place !== place && !concerns?.includes(place)) return [];
		// Its cell is one of the group's text, and none of the kit's plan.
		return [
			{
				code,
				severity,
				message,
				from,
				to,
				cell: undefined,
				get fixes() {
					return one.fixes;
				},
			},
		];
	});
}

/** The outputs that are made of one member: others name lines of a plan, and a member's cells are in two. */
export const OF_MEMBER: readonly string[] = ["card", "calendar"];
