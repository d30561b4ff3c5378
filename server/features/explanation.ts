/** The explanation of a finding. */
import { EXPLANATION } from "../../shared/protocol/explanation.ts";
import { answer } from "../../shared/protocol/message.ts";
import type { Feature } from "../session.ts";

export const explanation: Feature = {
	capabilities: {},
	listen: (session) =>
		answer(session.connection, EXPLANATION, async ({ code }) =>
			(await session.onRequest()).explanationMarkdown(String(code)),
		),
};
