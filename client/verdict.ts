/** The verdict on the plan in front, in the status bar. */
import { DiagnosticSeverity, type Disposable, l10n, languages, StatusBarAlignment, type Uri, window } from "vscode";
import { SHOW_FINDINGS } from "../shared/protocol/commands.ts";
import { LANGUAGE } from "../shared/protocol/language.ts";
import { notebookInFront, openNotebook } from "./notebook/plan-notebook.ts";

/** The documents of the plan in front: its text and all cells of its notebook, whichever of them are open. One face tells its findings. */
function planInFront(): readonly Uri[] {
	const document = window.activeTextEditor?.document;
	const uri = notebookInFront()?.uri ?? (document?.languageId === LANGUAGE ? document.uri : undefined);
	return uri ? [uri, ...(openNotebook(uri)?.getCells() ?? []).map((cell) => cell.document.uri)] : [];
}

export function showVerdict(): readonly Disposable[] {
	const item = window.createStatusBarItem("lodebook.verdict", StatusBarAlignment.Right, 90);
	item.name = l10n.t("Lodebook verdict");
	item.command = SHOW_FINDINGS;
	const show = (): void => {
		const uris = planInFront();
		if (uris.length === 0) {
			item.hide();
			return;
		}
		const own = uris.flatMap((uri) => languages.getDiagnostics(uri)).filter(({ source }) => source === LANGUAGE);
		const errors = own.filter(({ severity }) => severity === DiagnosticSeverity.Error).length;
		const warnings = own.filter(({ severity }) => severity === DiagnosticSeverity.Warning).length;
		item.text =
			errors > 0
				? errors === 1
					? l10n.t("$(error) 1 error")
					: l10n.t("$(error) {0} errors", errors)
				: warnings > 0
					? warnings === 1
						? l10n.t("$(warning) 1 warning")
						: l10n.t("$(warning) {0} warnings", warnings)
					: l10n.t("$(check) No problems found");
		item.tooltip = l10n.t("Lodebook: show the findings of this plan");
		item.show();
	};
	show();
	return [
		item,
		window.onDidChangeActiveTextEditor(show),
		window.onDidChangeActiveNotebookEditor(show),
		languages.onDidChangeDiagnostics(show),
	];
}
