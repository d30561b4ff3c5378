/** Code actions: the fixes of findings, all safe ones at once, and refactorings of values. */
import { type CodeAction, CodeActionKind, type Range } from "vscode-languageserver";
import { ignoreEdit } from "../../shared/findings/ignore-edit.ts";
import { safeEdits } from "../../shared/findings/safe-edits.ts";
import { stillReads } from "../../shared/plan/cell-edits.ts";
import { cellAt, pointedAt } from "../../shared/plan/field-at.ts";
import { refactoringsAt } from "../../shared/plan/refactorings.ts";
import { sentences, told } from "../../shared/text/sentence.ts";
import type { PlanDocument } from "../plan-document.ts";
import type { PlanText } from "../plan-text.ts";
import type { Feature } from "../session.ts";
import { workspaceEdit } from "../text-edits.ts";
import { diagnosticOf } from "./diagnostics.ts";

const words = sentences("feature.actions", {
	fixAllSafe: "Fix all safe problems",
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
		}
	}
	return found;
}
