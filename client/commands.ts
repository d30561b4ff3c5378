/** Commands: another mark for a method, another night, the server anew. */
import {
	commands,
	type Disposable,
	l10n,
	ProgressLocation,
	type QuickPickItem,
	QuickPickItemKind,
	type TextDocument,
	window,
} from "vscode";
import type { BaseLanguageClient } from "vscode-languageclient";
import { MARKS, NIGHTS, WRITE_EVENING, WRITE_NIGHT } from "../shared/protocol/choices.ts";
import { COMMANDS, SHOW_USERS, type ShownUsers } from "../shared/protocol/commands.ts";
import { LANGUAGE } from "../shared/protocol/language.ts";
import { ask } from "../shared/protocol/message.ts";
import { apply, applyTo, sayChanged, versionOf } from "./applied.ts";
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

export interface PlanInFront {
	readonly uri: string;
	readonly line: number;
	readonly version: () => number;
}

/** The plan of a document, which may be one of a notebook's cells. */
export function planOf(document: TextDocument, line: number): PlanInFront {
	const cell = cellOfDocument(document.uri);
	return { uri: document.uri.toString(), line, version: () => cell?.notebook.version ?? document.version };
}

/** The plan in front: the URI to ask about, the line of the cursor, and what counts its changes. */
export function planInFront(): PlanInFront | undefined {
	const editor = window.activeTextEditor;
	if (editor?.document.languageId === LANGUAGE) return planOf(editor.document, editor.selection.active.line);
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
	if (versionOf(target) === version) await apply(client, chosen.edit);
	else sayChanged();
}

/** A night, or a way to rank them. */
interface NightItem extends QuickPickItem {
	readonly date?: string;
	readonly framing?: string;
}

/** Compares the nights of a year from today on, the best first, and writes the chosen one into the plan. */
async function chooseNight(client: BaseLanguageClient, framing?: string): Promise<void> {
	const front = planInFront();
	if (!front) return;
	const version = front.version();
	const from = eveningIn(0);
	const answer = await window.withProgress(
		{ location: ProgressLocation.Notification, title: l10n.t("Comparing the nights of a year…") },
		() => ask(client, NIGHTS, { uri: front.uri, from, days: 365, ...(framing && { framing }) }),
	);
	if (!answer || answer.choices.length === 0) {
		void window.showInformationMessage(
			answer?.problem ||
				(framing
					? l10n.t("On no night of the coming year is the target framed like this while it is dark and moonless.")
					: l10n.t("No night of the coming year is dark and moonless with a target in view and a method that works.")),
		);
		return;
	}
	// The other ways to rank them come after the nights: the first of the list is the best night.
	const others = framing ? [] : answer.framings;
	const items: readonly NightItem[] = [
		...answer.choices,
		...(others.length === 0 ? [] : [{ label: l10n.t("By framing"), kind: QuickPickItemKind.Separator }, ...others]),
	];
	const chosen = await window.showQuickPick(items, {
		title: answer.present ? l10n.t("In the plan: {0}", answer.present) : l10n.t("Another night"),
		placeHolder: l10n.t("The best night of each new-moon week first"),
		matchOnDetail: true,
	});
	if (chosen?.framing) return chooseNight(client, chosen.framing);
	if (!chosen?.date) return;
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
