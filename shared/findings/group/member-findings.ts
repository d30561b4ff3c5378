import type { Evaluation } from "../../evaluate/evaluate.ts";
import { type GroupEvening, type GroupKit, inGroup } from "../../evaluate/group.ts";
import { KeptBy } from "../../memory/memory.ts";
import { cellsOf } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { type Finding, nothing, type Others, rule } from "../finding.ts";
import { atMember, OF_KITS } from "./member.ts";

const words = sentences("group/member-findings", {
	title: "A member's evening has problems",
	about: `A kit's own file is checked for its own site and night, so it does not show what cannot be done at the
		group's. This finding counts the errors and warnings that each member's plan has on the group's evening, and
		shows up to three of them, the worst first. Whatever could hurt somebody is always shown. See all of them with
		\`lodebook show GROUP --card --member NAME\`, and correct the kit's plan, or the group's site or night.`,
	has: "{name} has {counts} on this evening. The worst is `{code}`: {worst}",
	other: "{name}, `{code}`: {message}",
	error: "{count} error{s}",
	warning: "{count} warning{s}",
	both: "{errors} and {warnings}",
});

/** So many more are shown beside the worst. */
const MOST_BESIDE = 2;

export const OF_MEMBERS = "group/member-findings";

/** How the text is written is told of the plans themselves: a member's cells are from two. */
export const OF_TEXT = /^(?:structure|reuse|ignore|settings|group)\//;

/** What was found last in a kit, and on which evening. */
interface KitFindings {
	evening: string | undefined;
	found: readonly Pick<Finding, "code" | "severity" | "message">[];
}

/** An edit elsewhere leaves what a kit's plan and its evening are, and so what is found in them. */
const kept = new KeptBy<Evaluation, KitFindings>();

function findingsOf(kit: GroupKit, group: GroupEvening, check: Others["check"]): KitFindings["found"] {
	const own = inGroup(kit, group) ?? kit.evaluation;
	if (!own || !kit.evaluation) return [];
	const last = kept.of(kit.evaluation, () => ({ evening: undefined, found: [] }));
	const evening = JSON.stringify(own.evening) ?? "";
	if (last.evening !== evening) {
		last.evening = evening;
		last.found = check(own)
			.filter(({ code, severity }) => severity !== "info" && !OF_TEXT.test(code))
			.map(({ code, severity, message }) => ({ code, severity, message }));
	}
	return last.found;
}

function countsOf(errors: number, warnings: number) {
	const s = (count: number): string => (count === 1 ? "" : "s");
	const wrong = words.error({ count: errors, s: s(errors) });
	const doubtful = words.warning({ count: warnings, s: s(warnings) });
	if (errors === 0) return doubtful;
	return warnings === 0 ? wrong : words.both({ errors: wrong, warnings: doubtful });
}

export default rule({
	code: OF_MEMBERS,
	severity: "warning",
	safety: true,
	words,
	wrong: {
		...OF_KITS,
		plan: "title: Two at the sheepfold\nkind: group",
		night: 'date: 2027-06-19\narrive: "18:30"\nleave: "23:00"',
		group: "- { name: Nia, from: ../kits/landmark.lode.yaml }\n- { name: Tom, from: ../kits/landmark.lode.yaml }",
	},
	right: {
		...OF_KITS,
		plan: "title: Two at the sheepfold\nkind: group",
		group: "- { name: Nia, from: ../kits/landmark.lode.yaml }\n- { name: Tom, from: ../kits/landmark.lode.yaml }",
	},
	find: nothing,
	*after({ plan, group }, { check, fixed, told }) {
		const [cell] = cellsOf(plan, "group");
		if (!cell || !group) return;
		const known = new Set(told().map(({ code, message }) => `${code} ${message}`));
		for (const kit of group.kits) {
			const found = findingsOf(kit, group, check).filter(({ code, message }) => !known.has(`${code} ${message}`));
			const errors = found.filter(({ severity }) => severity === "error");
			const [worst, ...others] = [...errors, ...found.filter(({ severity }) => severity !== "error")];
			if (!worst) continue;
			const { name } = kit.member;
			const where = atMember(cell, kit.member);
			const counts = countsOf(errors.length, found.length - errors.length);
			yield {
				...where,
				message: words.has({ name, counts, worst: worst.message, code: worst.code }),
				severity: worst.severity,
			};
			for (const [place, { code, message, severity }] of others.entries())
				if (place < MOST_BESIDE || (fixed.includes(code) && code !== worst.code))
					yield { ...where, message: words.other({ name, message, code }), severity };
		}
	},
});
