/** What the panel *Trace on a Photo* asks of a plan that is open: loaded on first use. */
import type { Evaluation } from "../../shared/evaluate/evaluate.ts";
import type { ParamsOf } from "../../shared/protocol/message.ts";
import {
	PHOTO_HEAD,
	type TRACE,
	type TRACE_PAGE,
	type TRACE_PHOTO,
	type Trace,
	type WRITE_TRACE,
} from "../../shared/protocol/tracing.ts";
import { fromBase64 } from "../../shared/text/base64.ts";
import { told } from "../../shared/text/sentence.ts";
import type { Session } from "../session.ts";
import { workspaceEdit } from "../text-edits.ts";
import type { Solved } from "./solve.ts";
import { photoOffered, pointGiven, solveTrace, traceAnswer, traceGiven, tracePanel, writeTrace } from "./tracing.ts";

/** The panel itself. */
export async function panelAsked(session: Session, { uri }: ParamsOf<typeof TRACE_PAGE>) {
	const { STYLE, EDITOR_STYLE } = await session.onRequest();
	return session.guardedWhenRead("trace page", String(uri), (document, plan) => {
		const { html, style } = tracePanel(plan.evaluation(document));
		return { html, style: `${STYLE}${EDITOR_STYLE}${style}` };
	});
}

/** What the head of a photo's file says. */
export function photoAsked(session: Session, { uri, name, head }: ParamsOf<typeof TRACE_PHOTO>) {
	const bytes = bytesOf(String(head).slice(0, 2 * PHOTO_HEAD));
	return session.guarded("trace photo", String(uri), (document, plan) =>
		photoOffered(String(name), bytes, plan.evaluation(document)),
	);
}

/** What follows from marks and lines, and of the place under the cursor. */
export const traceAsked = (session: Session, { uri, trace, at }: ParamsOf<typeof TRACE>) =>
	session.guardedWhenRead("trace", String(uri), (document, plan) => {
		const [asked, evaluation] = [traceGiven(trace), plan.evaluation(document)];
		return traceAnswer(asked, solved(asked, evaluation), evaluation, pointGiven(at));
	});

/** Their edit of the plan. */
export const traceToWrite = (session: Session, { uri, trace }: ParamsOf<typeof WRITE_TRACE>) =>
	session.guardedWhenRead("write trace", String(uri), (document, plan) => {
		const [asked, evaluation] = [traceGiven(trace), plan.evaluation(document)];
		const written = writeTrace(asked, solved(asked, evaluation), evaluation);
		return "edits" in written
			? { edit: workspaceEdit(document, written.edits), problem: "" }
			: { edit: null, problem: told(written.problem) };
	});

let last: { readonly key: string; readonly evaluation: Evaluation; readonly solved: Solved } | undefined;

/** A trace is solved once, however often the place under the cursor is asked for. */
function solved(trace: Trace, evaluation: Evaluation): Solved {
	const key = JSON.stringify(trace);
	if (last?.key !== key || last.evaluation !== evaluation)
		last = { key, evaluation, solved: solveTrace(trace, evaluation) };
	return last.solved;
}

/** Of what is no base64, nothing. */
function bytesOf(text: string): Uint8Array {
	try {
		return fromBase64(text);
	} catch {
		return new Uint8Array();
	}
}
