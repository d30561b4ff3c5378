/** A plan compared with an older text of it; what that takes from others is as old. Loaded on first use. */
import { evaluate } from "../shared/evaluate/evaluate.ts";
import { check } from "../shared/findings/check.ts";
import { compare } from "../shared/outputs/compare/compare.ts";
import { comparisonMarkdown } from "../shared/outputs/markdown/comparison.ts";
import { readPlan } from "../shared/plan/plan.ts";
import { DEEPEST, type JoinedPlan, type OtherPlan, PlanJoiner } from "../shared/plan/reuse.ts";
import { type COMPARE, READ_COMMITTED } from "../shared/protocol/comparison.ts";
import type { FileAnswer } from "../shared/protocol/files.ts";
import { ask, type ParamsOf } from "../shared/protocol/message.ts";
import { planUri } from "./plan-text.ts";
import type { Session } from "./session.ts";

/** The plan as it is in the editor compared with an older text of it, as Markdown. */
export async function compared(session: Session, { uri, text, as }: ParamsOf<typeof COMPARE>) {
	const old = await joinedThen(session, uri, String(text));
	return session.guardedWhenRead("compare", uri, (document, plan) => {
		const before = evaluate(old ?? readPlan(""));
		const name = planUri(document).replace(/^.*\//, "");
		return {
			markdown: comparisonMarkdown(
				compare(
					{ evaluation: before, findings: check(before) },
					{ evaluation: plan.evaluation(document), findings: plan.findings(document) },
				),
				String(as),
				decodeURIComponent(name),
			),
		};
	});
}

/** The older text with what it took: a plan that comes may take from another one. */
async function joinedThen(session: Session, uri: string, text: string): Promise<JoinedPlan | undefined> {
	const document = session.text(uri);
	if (!document) return undefined;
	const own = planUri(document);
	const { path } = session.library.seenFrom(own);
	const [known, joiner, plan] = [new Map<string, OtherPlan>(), new PlanJoiner(), readPlan(text)];
	for (let step = 0; step <= DEEPEST; step++) {
		const wanted = new Set<string>();
		const joined = joiner.join(plan, path, (other) => {
			if (!known.has(other)) wanted.add(other);
			return known.get(other);
		});
		if (wanted.size === 0) return joined;
		const answers = [...wanted].map(async (other): Promise<readonly [string, OtherPlan]> => {
			const given = await ask(session.connection, READ_COMMITTED, {
				uri: session.library.uriOf(own, other),
			}).catch((): FileAnswer => ({ missing: "not-found" }));
			return [other, "text" in given ? { plan: readPlan(given.text) } : given];
		});
		for (const [other, answered] of await Promise.all(answers)) known.set(other, answered);
	}
	return joiner.join(plan, path, (other) => known.get(other) ?? { missing: "not-found" });
}
