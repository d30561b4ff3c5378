/** The page of a plan, asked for by the extension's preview. */
import { answer, tell } from "../../shared/protocol/message.ts";
import { PAGE, PAGE_STYLE, type PageAnswer, REFRESH } from "../../shared/protocol/page.ts";
import type { Feature } from "../session.ts";

export const page: Feature = {
	capabilities: {},
	listen(session) {
		session.onRefresh(() => {
			if (session.ownClient) void tell(session.connection, REFRESH);
		});
		answer(session.connection, PAGE_STYLE, async () => {
			const made = await session.onRequest();
			return `${made.STYLE}${made.EDITOR_STYLE}`;
		});
		answer(session.connection, PAGE, ({ uri }) =>
			session.answered("page", String(uri), (document, plan, { insteadOfPage, pageBody, pageView }): PageAnswer => {
				const view = pageView(plan.evaluation(document), plan.findings(document));
				return view.missing === "" ? { html: pageBody(view), instead: "" } : { html: "", instead: insteadOfPage(view) };
			}),
		);
	},
};
