/** Exports: whatever the command line can write of a plan, for the editor. */
import { EXPORT, EXPORTS } from "../../shared/protocol/exports.ts";
import { answer } from "../../shared/protocol/message.ts";
import type { Feature } from "../session.ts";

export const exportsFeature: Feature = {
	capabilities: {},
	listen(session) {
		const exporting = () => session.loaded(() => import("../exporting.ts"));
		answer(session.connection, EXPORTS, async (asked) => (await exporting()).exportChoices(session, asked));
		answer(session.connection, EXPORT, async (asked) => (await exporting()).exported(session, asked));
	},
};
