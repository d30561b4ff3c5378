/** The plan as it is in the editor compared with an older text of it. */
import { COMPARE } from "../../shared/protocol/comparison.ts";
import { answer } from "../../shared/protocol/message.ts";
import type { Feature } from "../session.ts";

export const comparison: Feature = {
	capabilities: {},
	listen(session) {
		answer(session.connection, COMPARE, async (asked) =>
			(await session.loaded(() => import("../comparing.ts"))).compared(session, asked),
		);
	},
};
