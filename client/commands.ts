/** Commands: another mark for a method, another night, the server anew. */
import { commands, type Disposable, l10n, ProgressLocation, window, workspace } from "vscode";
import type { BaseLanguageClient, WorkspaceEdit as ProtocolEdit } from "vscode-languageclient";
import { MARKS, NIGHTS, WRITE_EVENING, WRITE_NIGHT } from "../shared/protocol/choices.ts";
import { COMMANDS, SHOW_USERS, type ShownUsers } from "../shared/protocol/commands.ts";
import { LANGUAGE } from "../shared/protocol/language.ts";
import { ask } from "../shared/protocol/message.ts";
import { eveningIn } from "./evening.ts";
import { cellOfDocument, notebookInFront } from "./notebook/plan-notebook.ts";

export function registerCommands(client: BaseLanguageClient): readonly Disposable[] {
	return [
		commands.registerCommand(COMMANDS.chooseGuideStar, (uri?: string, line?: number) => chooseMark(client, uri, line)),
		commands.registerCommand(COMMANDS.chooseNight, () => chooseNight(client)),
		commands.registerCommand(COMMANDS.writeEvening, () => writeEvening(client)),
		commands.registerCommand(SHOW_USERS, (...shown: ShownUsers) => showUsers(client, shown)),
		commands.registerCommand(COMMANDS.restartServer, async () => {
			await client.stop();
			await client.start();
		}),
	];
}

/** The plan in front: the URI to ask about, the line of the cursor, and what counts its changes. */
export function planInFront():
	| { readonly uri: string; readonly line: number; readonly version: () => number }
	| undefined {
	const editor = window.activeTextEditor;
	if (editor?.document.languageId === LANGUAGE) {
		const { document } = editor;
		const cell = cellOfDocument(document.uri);
		return {
			uri: document.uri.toString(),
			line: editor.selection.active.line,
			version: () => cell?.notebook.version ?? document.version,
		};
	}
	const notebook = notebookInFront();
	if (!notebook || notebook.cellCount === 0) return undefined;
	return { uri: notebook.cellAt(0).document.uri.toString(), line: 0, version: () => notebook.version };
}

/** Shows what the method at the cursor can be pointed at tonight, the best first, and writes the chosen one into the plan. */
async function chooseMark(client: BaseLanguageClient, uri?: string, line?: number): Promise<void> {
	const front = planInFront();
	const target = uri ?? front?.uri;
	if (target === undefined) return;
	const answer = await ask(client, MARKS, { uri: target, line: line ?? front?.line ?? 0 });
	if (!answer) return;
	if (answer.choices.length === 0) {
		void window.showInformationMessage(answer.problem);
		return;
	}
	const version = versionOf(target);
	const chosen = await window.showQuickPick(answer.choices, {
		placeHolder: l10n.t("What it can be pointed at tonight, the best first"),
	});
	if (!chosen) return;
	if (versionOf(target) !== version) {
		void window.showWarningMessage(l10n.t("The plan has changed in the meantime. Choose again."));
		return;
	}
	await apply(client, chosen.edit);
}

/** What counts the changes of the plan a document belongs to. */
function versionOf(uri: string): number | undefined {
	const document = workspace.textDocuments.find((one) => one.uri.toString() === uri);
	return document && (cellOfDocument(document.uri)?.notebook.version ?? document.version);
}

/** Compares the nights of a year from today on, the best first, and writes the chosen one into the plan. */
async function chooseNight(client: BaseLanguageClient): Promise<void> {
	const front = planInFront();
	if (!front) return;
	const version = front.version();
	const from = eveningIn(0);
	const answer = await window.withProgress(
		{ location: ProgressLocation.Notification, title: l10n.t("Comparing the nights of a year…") },
		() => ask(client, NIGHTS, { uri: front.uri, from, days: 365 }),
	);
	if (!answer || answer.choices.length === 0) {
		void window.showInformationMessage(
			answer?.problem ||
				l10n.t("No night of the coming year is dark and moonless with a target in view and a method that works."),
		);
		return;
	}
	const chosen = await window.showQuickPick(answer.choices, {
		placeHolder: answer.present
			? l10n.t("The best night of each new-moon week first. In the plan: {0}", answer.present)
			: l10n.t("The best night of each new-moon week first"),
		matchOnDetail: true,
	});
	if (!chosen) return;
	await applyTo(client, front, version, await ask(client, WRITE_NIGHT, { uri: front.uri, date: chosen.date }));
}

/** Writes the times that the evening has placed into the plan. */
async function writeEvening(client: BaseLanguageClient): Promise<void> {
	const front = planInFront();
	if (!front) return;
	const version = front.version();
	await applyTo(client, front, version, await ask(client, WRITE_EVENING, { uri: front.uri }));
}

/** Shows the places that take a cell, as the editor shows references. */
async function showUsers({ protocol2CodeConverter: code }: BaseLanguageClient, [uri, at, places]: ShownUsers) {
	await commands.executeCommand(
		"editor.action.showReferences",
		code.asUri(uri),
		code.asPosition(at),
		places.map((one) => code.asLocation(one)),
	);
}

/** Applies what was answered for a version of the plan, or says why not. */
async function applyTo(
	client: BaseLanguageClient,
	front: { readonly version: () => number },
	version: number,
	written: { readonly edit: ProtocolEdit | null; readonly problem: string } | null,
): Promise<void> {
	if (!written) return;
	if (front.version() !== version)
		void window.showWarningMessage(l10n.t("The plan has changed in the meantime. Choose again."));
	else if (!written.edit) void window.showWarningMessage(written.problem);
	else await apply(client, written.edit);
}

/** Bytes that were not UTF-8 have come into the editor as U+FFFD: to save the text would lose them. */
async function apply(client: BaseLanguageClient, edit: ProtocolEdit): Promise<void> {
	const changes = await client.protocol2CodeConverter.asWorkspaceEdit(edit);
	for (const [uri] of changes.entries()) {
		const document = workspace.textDocuments.find((one) => one.uri.toString() === uri.toString());
		if (!document?.getText().includes("\uFFFD")) continue;
		void window.showErrorMessage(
			l10n.t(
				"The plan was not changed: part of it is not UTF-8 and would be lost. Reopen it with its encoding and save it as UTF-8.",
			),
		);
		return;
	}
	await workspace.applyEdit(changes);
}
