/** Nights of the months to come as choices and as a picture: asked for by commands of the extension, with their progress. */
import { NIGHTS, WRITE_NIGHT, YEAR_OF_NIGHTS } from "../../shared/protocol/choices.ts";
import { answer } from "../../shared/protocol/message.ts";
import type { Feature } from "../session.ts";

export const nightChoice: Feature = {
	capabilities: {},
	listen(session) {
		const { connection } = session;
		const choosing = () => session.loaded(() => import("../choosing/nights.ts"));
		answer(connection, NIGHTS, async (asked) => (await choosing()).nightsAsked(session, asked));
		answer(connection, YEAR_OF_NIGHTS, async (asked) => (await choosing()).yearAsked(session, asked));
		answer(connection, WRITE_NIGHT, async (asked) => (await choosing()).nightToWrite(session, asked));
	},
};
