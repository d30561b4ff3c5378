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
		findings: [...ofEntry(group, place), ...findings],
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

/** What the group's plan is told of a member; what its own plan has is told of that. */
function ofEntry({ evaluation, findings }: CheckedPlan, place: number): readonly Finding[] {
	const [cell] = cellsOf(evaluation.plan, "group");
	const entry = cell?.read.places.get(`${place}`)?.value;
	if (!cell || !entry) return [];
	const [from, to] = [cell.start + entry.from, cell.start + entry.to];
	return findings.filter(
		({ code, ...one }) => code.startsWith("group/") && code !== OF_MEMBERS && one.from >= from && one.to <= to,
	);
}

/** The outputs that are made of one member: others name lines of a plan, and a member's cells are in two. */
export const OF_MEMBER: readonly string[] = ["card", "calendar"];
