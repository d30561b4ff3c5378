/** A skyline from elevation tiles, and the edit that writes it: asked for by a command of the extension. */
import { SURVEY_GROUND, TILE, WRITE_GROUND } from "../../shared/protocol/ground.ts";
import { answer, ask } from "../../shared/protocol/message.ts";
import type { Feature } from "../session.ts";

export const ground: Feature = {
	capabilities: {},
	listen(session) {
		answer(session.connection, SURVEY_GROUND, async ({ uri, tiles }) => {
			const { surveyFor } = await session.loaded(() => import("../ground/survey.ts"));
			const evaluation = await session.guardedWhenRead("survey ground", uri, (document, plan) =>
				plan.evaluation(document),
			);
			return (
				evaluation && surveyFor(evaluation, tiles.map(String), (index) => ask(session.connection, TILE, { index }))
			);
		});
		answer(session.connection, WRITE_GROUND, async ({ uri, found }) => {
			const { groundEdit } = await session.loaded(() => import("../ground/edit.ts"));
			return session.guarded("write ground", uri, (document, plan) =>
				groundEdit(document, plan.evaluation(document).plan, found),
			);
		});
	},
};
