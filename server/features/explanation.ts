/** The explanation of a finding. */
import { explanationMarkdown } from "../../shared/outputs/reference/explanation.ts";
import { EXPLANATION } from "../../shared/protocol/explanation.ts";
import { answer } from "../../shared/protocol/message.ts";
import type { Feature } from "../session.ts";

export const explanation: Feature = {
	capabilities: {},
	listen: ({ connection }) => answer(connection, EXPLANATION, ({ code }) => explanationMarkdown(String(code))),
};
