/** Code actions: the fixes of findings, all safe ones at once, and refactorings of values. */
import { type CodeAction, CodeActionKind, type Range } from "vscode-languageserver";
import { ignoreEdit } from "../../shared/findings/ignore-edit.ts";
import { safeEdits } from "../../shared/findings/safe-edits.ts";
import { stillReads } from "../../shared/plan/cell-edits.ts";
import { cellAt, type Pointed, pointedAt } from "../../shared/plan/field-at.ts";
import type { Cell } from "../../shared/plan/plan.ts";
import { refactoringsAt } from "../../shared/plan/refactorings.ts";
import { COMMANDS } from "../../shared/protocol/commands.ts";
import type { TraceCommand, TracedPart } from "../../shared/protocol/tracing.ts";
import { sentences, told } from "../../shared/text/sentence.ts";
import type { PlanDocument } from "../plan-document.ts";
import type { PlanText } from "../plan-text.ts";
import type { Feature } from "../session.ts";
import { workspaceEdit } from "../text-edits.ts";
import { diagnosticOf } from "./diagnostics.ts";

const words = sentences("feature.actions", {
	fixAllSafe: "Fix all safe problems",
	survey: "Make the skyline from elevation tiles",
	trace: "Trace {what} on a photo",
	traceNamed: "Trace {name} on a photo",
	skyline: "the skyline",
	opening: "an opening",
	obstruction: "an obstruction",
	window: "a window",
});

const FIX_ALL = `${CodeActionKind.SourceFixAll}.lodebook`;

export const actions: Feature = {
	capabilities: {
		codeActionProvider: { codeActionKinds: [CodeActionKind.QuickFix, CodeActionKind.RefactorRewrite, FIX_ALL] },
	},
	listen(session) {
		session.connection.onCodeAction(({ textDocument, range, context }) =>
			session.guarded("actions", textDocument.uri, (document, plan) =>
				actionsAt(document, plan, range, session.ownClient, context.only),
			),
		);
	},
};

export function actionsAt(
	document: PlanText,
	plan: PlanDocument,
	range: Range,
	linked: boolean,
	only?: readonly string[],
): CodeAction[] {
	const [from, to] = [document.offsetAt(range.start), document.offsetAt(range.end)];
	const wanted = (kind: string): boolean =>
		only === undefined || only.some((one) => kind === one || kind.startsWith(`${one}.`));
	const evaluation = plan.evaluation(document);
	const findings = plan.findings(document);
	const found: CodeAction[] = [];
	if (wanted(CodeActionKind.QuickFix)) {
		for (const finding of findings) {
			if (finding.from > to || finding.to < from) continue;
			finding.fixes.forEach(({ title, edits }, i) => {
				if (!stillReads(evaluation.plan, edits)) return;
				found.push({
					title,
					kind: CodeActionKind.QuickFix,
					isPreferred: i === 0,
					diagnostics: [diagnosticOf(document, finding, linked)],
					edit: workspaceEdit(document, edits),
				});
			});
		}
		// After all that mends something.
		for (const finding of findings) {
			if (finding.from > to || finding.to < from) continue;
			const ignoring = ignoreEdit(evaluation.plan, finding);
			if (!ignoring || !stillReads(evaluation.plan, [ignoring.edit])) continue;
			found.push({
				title: told(ignoring.title),
				kind: CodeActionKind.QuickFix,
				diagnostics: [diagnosticOf(document, finding, linked)],
				edit: workspaceEdit(document, [ignoring.edit]),
			});
		}
	}
	const safe = wanted(FIX_ALL) ? safeEdits(findings) : [];
	if (safe.length > 0 && stillReads(evaluation.plan, safe))
		found.push({ title: told(words.fixAllSafe()), kind: FIX_ALL, edit: workspaceEdit(document, safe) });
	if (wanted(CodeActionKind.RefactorRewrite)) {
		const cell = cellAt(evaluation.plan.cells, from);
		const pointed = cell && pointedAt(cell, from - cell.start);
		if (cell && pointed) {
			for (const { title, edits } of refactoringsAt(cell, pointed.path, evaluation.field?.declination))
				if (stillReads(evaluation.plan, edits))
					found.push({ title, kind: CodeActionKind.RefactorRewrite, edit: workspaceEdit(document, edits) });
			const traced = linked ? tracedAt(cell, pointed) : undefined;
			if (traced) found.push(tracing(document, traced));
			if (traced?.part === "skyline") found.push(surveying(document));
		}
	}
	return found;
}

interface Traced {
	readonly part: TracedPart;
	readonly name: string;
}

/** What of a site can be traced on a photo, at a place of its cell. */
function tracedAt({ read }: Cell, { path, part }: Pointed): Traced | undefined {
	if (read.kind !== "site") return undefined;
	if (path === "skyline" || path.startsWith("skyline.") || (path === "" && part === "key"))
		return { part: "skyline", name: "" };
	const [, key, index, window] = /^(openings|obstructions)(?:\.(\d+)(\.window)?)?/.exec(path) ?? [];
	if (key !== "openings" && key !== "obstructions") return undefined;
	const name = index === undefined ? "" : (read.content?.[key]?.[Number(index)]?.name ?? "");
	return { part: key === "openings" ? "opening" : window ? "window" : "obstruction", name };
}

/** Opens the panel for it. */
function tracing(document: PlanText, { part, name }: Traced): CodeAction {
	const title = told(name === "" ? words.trace({ what: words[part]() }) : words.traceNamed({ name }));
	return {
		title,
		kind: CodeActionKind.RefactorRewrite,
		command: { title, command: COMMANDS.tracePhoto, arguments: [document.uri, part, name] satisfies TraceCommand },
	};
}

/** Picks elevation tiles for it. */
function surveying(document: PlanText): CodeAction {
	const title = told(words.survey());
	return {
		title,
		kind: CodeActionKind.RefactorRewrite,
		command: { title, command: COMMANDS.surveyGround, arguments: [document.uri] },
	};
}
