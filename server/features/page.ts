/** The page of a plan, asked for by the extension's preview. */
import { pageBody } from "../../shared/outputs/page/page.tsx";
import { EDITOR_STYLE, STYLE } from "../../shared/outputs/page/style.ts";
import { pageView } from "../../shared/outputs/page/view.ts";
import type { Feature } from "../session.ts";

export interface PageAnswer {
	/** The page's body; empty when the plan cannot be reckoned at all and the last picture should stay. */
	readonly html: string;
	readonly stale: boolean;
}

/** Pages and outputs may have changed without an edit of their own plan. */
export const REFRESH_NOTIFICATION = "lodebook/refresh";

export const page: Feature = {
	capabilities: () => ({}),
	listen(session) {
		session.onRefresh(() => {
			if (session.ownClient) void session.connection.sendNotification(REFRESH_NOTIFICATION);
		});
		session.connection.onRequest("lodebook/pageStyle", () => `${STYLE}${EDITOR_STYLE}`);
		session.connection.onRequest("lodebook/page", ({ uri }: { uri: string }) =>
			session.guarded("page", String(uri), (document, plan): PageAnswer => {
				const evaluation = plan.evaluation(document);
				// Without a site and a night there is nothing to draw.
				if (!evaluation.site || !evaluation.night) return { html: "", stale: true };
				return { html: pageBody(pageView(evaluation, plan.findings(document))), stale: false };
			}),
		);
	},
};
