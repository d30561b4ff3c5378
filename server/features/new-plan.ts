/** A new plan: its questions are checked one at a time, and its text is made. */
import { answer } from "../../shared/protocol/message.ts";
import { CHECK_VALUE, KITS, NEW_PLAN, PLACE, PLAN_TO_FILL, WORDS } from "../../shared/protocol/new-plan.ts";
import type { Feature } from "../session.ts";

export const newPlan: Feature = {
	capabilities: {},
	listen(session) {
		const { connection } = session;
		const choosing = () => session.loaded(() => import("../choosing/new-plan.ts"));
		answer(connection, CHECK_VALUE, async ({ kind, key, text }) =>
			(await choosing()).problemOf(String(kind), String(key), String(text)),
		);
		answer(connection, WORDS, async ({ key }) => (await choosing()).wordsOf(key));
		answer(connection, PLACE, async ({ text }) => (await choosing()).placeOf(String(text)));
		answer(connection, NEW_PLAN, async (wishes) => (await choosing()).newPlanAsked(session, wishes));
		answer(connection, KITS, async ({ uri }) => (await choosing()).kitsAsked(session, String(uri)));
		answer(connection, PLAN_TO_FILL, async ({ kit }) => (await choosing()).planToFill(kit));
	},
};
