/** The explanation of a finding: linked from its diagnostic, asked for by the client when the link is opened. */
import { explanationMarkdown } from "../../shared/outputs/reference/explanation.ts";
import type { Feature } from "../session.ts";

/** A link of a scheme of our own: the extension opens it as a page, and nothing leaves the machine. */
export const explanationUri = (code: string): string => `lodebook-finding:/${code}.md`;

export const EXPLANATION_REQUEST = "lodebook/explanation";

export const explanation: Feature = {
	capabilities: () => ({}),
	listen: ({ connection }) =>
		connection.onRequest(EXPLANATION_REQUEST, ({ code }: { code: string }) => explanationMarkdown(String(code))),
};
