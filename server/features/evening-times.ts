/** The evening's placed times as an edit of the plan: asked for by a command of the extension. */
import { WRITE_EVENING } from "../../shared/protocol/choices.ts";
import { answer } from "../../shared/protocol/message.ts";
import type { Feature } from "../session.ts";

export const eveningTimes: Feature = {
	capabilities: {},
	listen(session) {
		answer(session.connection, WRITE_EVENING, ({ uri }) =>
			session.answered("write evening", uri, (document, plan, { eveningEdit }) => eveningEdit(document, plan)),
		);
	},
};
