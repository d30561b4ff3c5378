/** Tracing on a photo: what its panel shows, what follows from marks and lines, and their edit of the plan. */
import { answer } from "../../shared/protocol/message.ts";
import { TRACE, TRACE_PAGE, TRACE_PHOTO, WRITE_TRACE } from "../../shared/protocol/tracing.ts";
import type { Feature } from "../session.ts";

export const trace: Feature = {
	capabilities: {},
	listen(session) {
		const { connection } = session;
		const tracing = () => session.loaded(() => import("../tracing/asked.ts"));
		answer(connection, TRACE_PAGE, async (asked) => (await tracing()).panelAsked(session, asked));
		answer(connection, TRACE_PHOTO, async (asked) => (await tracing()).photoAsked(session, asked));
		answer(connection, TRACE, async (asked) => (await tracing()).traceAsked(session, asked));
		answer(connection, WRITE_TRACE, async (asked) => (await tracing()).traceToWrite(session, asked));
	},
};
