/** A skyline from elevation tiles, and the edit that writes it: asked for by a command of the extension. */
import { SURVEY_GROUND, TILE, WRITE_GROUND } from "../../shared/protocol/ground.ts";
import { answer, ask } from "../../shared/protocol/message.ts";
import { sentences, told } from "../../shared/text/sentence.ts";
import { shown } from "../../shared/text/shown.ts";
import type { Feature } from "../session.ts";
import { workspaceEdit } from "../text-edits.ts";

const words = sentences("feature.ground", {
	notWritten: "Nothing was written: a skyline cannot be added to this site as it is written. Add it by hand.",
});

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
		answer(session.connection, WRITE_GROUND, async ({ uri, found: { points, comments, elevation } }) => {
			const { groundEdits } = await session.loaded(() => import("../ground/write.ts"));
			return session.guarded("write ground", uri, (document, plan) => {
				const items = points.map(([bearing, altitude]) => `[${bearing.toFixed(1)}, ${altitude.toFixed(2)}]`);
				const skyline = { items, comments: comments.map(shown) };
				const edits = groundEdits(plan.evaluation(document).plan, skyline, elevation ?? undefined);
				return edits.length > 0
					? { edit: workspaceEdit(document, edits), problem: "" }
					: { edit: null, problem: told(words.notWritten()) };
			});
		});
	},
};
