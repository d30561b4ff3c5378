/** The page of a plan, asked for by the extension's preview. */
import { insteadOfPage, pageBody } from "../../shared/outputs/page/page.tsx";
import { EDITOR_STYLE, STYLE } from "../../shared/outputs/page/style.ts";
import { pageView } from "../../shared/outputs/page/view.ts";
import { answer, tell } from "../../shared/protocol/message.ts";
import { PAGE, PAGE_STYLE, type PageAnswer, REFRESH } from "../../shared/protocol/page.ts";
import type { Feature } from "../session.ts";

export const page: Feature = {
	capabilities: {},
	listen(session) {
		session.onRefresh(() => {
			if (session.ownClient) void tell(session.connection, REFRESH);
		});
		answer(session.connection, PAGE_STYLE, () => `${STYLE}${EDITOR_STYLE}`);
		answer(session.connection, PAGE, ({ uri }) =>
			session.guarded("page", String(uri), (document, plan): PageAnswer => {
				const view = pageView(plan.evaluation(document), plan.findings(document));
				return view.missing === "" ? { html: pageBody(view), instead: "" } : { html: "", instead: insteadOfPage(view) };
			}),
		);
	},
};
