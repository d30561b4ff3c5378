/**
 * The same file open as text and as a notebook. Each may be edited; the one that was not edited last is behind, says so,
 * and can take the newer text. Nothing is taken over unasked, and what was taken can be undone.
 */

import {
	commands,
	type Disposable,
	l10n,
	type NotebookDocument,
	NotebookEdit,
	NotebookRange,
	Range,
	StatusBarAlignment,
	TabInputNotebook,
	TabInputNotebookDiff,
	TabInputText,
	type TextDocument,
	ThemeColor,
	type Uri,
	WorkspaceEdit,
	window,
	workspace,
} from "vscode";
import { type BaseLanguageClient, State } from "vscode-languageclient";
import { notebookOf } from "../../shared/plan/notebook.ts";
import { COMMANDS } from "../../shared/protocol/commands.ts";
import { FACE_IN_FRONT, type Face, NOTEBOOK_SHOWN } from "../../shared/protocol/faces.ts";
import { LANGUAGE } from "../../shared/protocol/language.ts";
import { tell } from "../../shared/protocol/message.ts";
import { told } from "../../shared/text/sentence.ts";
import { cellData, cellOfDocument, isPlanNotebook, openNotebook, planCells, textOfOpen } from "./plan-notebook.ts";

interface Pair {
	readonly document: TextDocument;
	readonly notebook: NotebookDocument;
}

export function watchFaces(client: BaseLanguageClient): readonly Disposable[] {
	const item = window.createStatusBarItem("lodebook.behind", StatusBarAlignment.Left, 1000);
	item.name = l10n.t("Lodebook: text and notebook differ");
	item.command = COMMANDS.takeNewer;
	item.backgroundColor = new ThemeColor("statusBarItem.warningBackground");
	/** Which face of a file was edited last. */
	const newer = new Map<string, Face>();
	/** What the server was told is in front. */
	const inFront = new Map<string, Face>();

	/** The command is offered while there is something newer to take. */
	const behind = (is: boolean): void => {
		if (is) item.show();
		else item.hide();
		void commands.executeCommand("setContext", "lodebook.behind", is);
	};
	/** The server tells a plan's findings in the face that is in front: in both they would be counted twice. */
	const tellFront = (here: ReturnType<typeof activeFace>, pair: Pair | undefined): void => {
		for (const key of inFront.keys()) if (!pairOf(key)) inFront.delete(key);
		if (!here || !pair || client.state !== State.Running || inFront.get(String(here.uri)) === here.face) return;
		inFront.set(String(here.uri), here.face);
		void tell(client, FACE_IN_FRONT, { uri: client.code2ProtocolConverter.asUri(here.uri), face: here.face });
	};
	/** Notebooks that are open and in no tab, as the server was told. */
	const unseen = new Set<string>();
	const tellUnseen = (): void => {
		if (client.state !== State.Running) return;
		const open = workspace.notebookDocuments.filter(isPlanNotebook);
		for (const key of unseen) if (!open.some(({ uri }) => uri.toString() === key)) unseen.delete(key);
		const seen = seenNotebooks();
		for (const { uri } of open) {
			const key = uri.toString();
			const shown = seen.has(key);
			if (shown !== unseen.has(key)) continue;
			if (shown) unseen.delete(key);
			else unseen.add(key);
			void tell(client, NOTEBOOK_SHOWN, { uri: client.code2ProtocolConverter.asUri(uri), shown });
		}
	};
	const show = (): void => {
		tellUnseen();
		const here = activeFace();
		const pair = here && pairOf(here.uri);
		tellFront(here, pair);
		const ahead = here && newer.get(here.uri.toString());
		if (!here || !pair || !ahead || ahead === here.face || sameText(pair)) {
			behind(false);
			return;
		}
		item.text =
			ahead === "notebook"
				? l10n.t("$(warning) Out of date: take the notebook's text")
				: l10n.t("$(warning) Out of date: take the editor's text");
		item.tooltip = l10n.t(
			"This file is open as text and as a notebook, and was edited in the other one. Click to take that version; undo brings this one back.",
		);
		behind(true);
	};
	const edited = (uri: Uri, face: Face): void => {
		const key = uri.toString();
		const pair = pairOf(uri);
		if (!pair || sameText(pair)) {
			newer.delete(key);
		} else newer.set(key, face);
		show();
	};

	return [
		item,
		workspace.onDidChangeTextDocument(({ document, contentChanges }) => {
			if (document.languageId === LANGUAGE && contentChanges.length > 0) edited(document.uri, "text");
		}),
		workspace.onDidChangeNotebookDocument(({ notebook, contentChanges, cellChanges }) => {
			if (isPlanNotebook(notebook) && (contentChanges.length > 0 || cellChanges.some(({ document }) => document)))
				edited(notebook.uri, "notebook");
		}),
		window.onDidChangeActiveTextEditor(show),
		window.onDidChangeActiveNotebookEditor(show),
		window.tabGroups.onDidChangeTabs(show),
		// One that was started again has been told nothing.
		client.onDidChangeState(() => {
			inFront.clear();
			unseen.clear();
			show();
		}),
		commands.registerCommand(COMMANDS.takeNewer, async () => {
			const here = activeFace();
			const pair = here && pairOf(here.uri);
			if (!here || !pair || sameText(pair) || !(await mayReplace(here.face === "text" ? pair.document : pair.notebook)))
				return;
			await (here.face === "text" ? takeNotebook(pair) : takeText(pair));
			newer.delete(here.uri.toString());
			show();
		}),
	];
}

/** The face of a plan that is in front. */
function activeFace(): { readonly uri: Uri; readonly face: Face } | undefined {
	const input = window.tabGroups.activeTabGroup.activeTab?.input;
	if (input instanceof TabInputNotebook) return { uri: input.uri, face: "notebook" };
	if (input instanceof TabInputText && !cellOfDocument(input.uri)) return { uri: input.uri, face: "text" };
	return undefined;
}

/** Notebooks that are in a tab, alone or beside an older state of theirs. */
const seenNotebooks = (): ReadonlySet<string> =>
	new Set(
		window.tabGroups.all
			.flatMap(({ tabs }) => tabs)
			.flatMap(({ input }) => {
				if (input instanceof TabInputNotebook) return [input.uri];
				return input instanceof TabInputNotebookDiff ? [input.original, input.modified] : [];
			})
			.map(String),
	);

/** A file that has tabs of both kinds. */
function pairOf(uri: Uri | string): Pair | undefined {
	const key = uri.toString();
	const inputs = window.tabGroups.all.flatMap(({ tabs }) => tabs.map(({ input }) => input));
	const open = (kind: typeof TabInputText | typeof TabInputNotebook): boolean =>
		inputs.some((input) => input instanceof kind && input.uri.toString() === key);
	const document = workspace.textDocuments.find((one) => one.uri.toString() === key);
	const notebook = openNotebook(key);
	return document && notebook && open(TabInputText) && open(TabInputNotebook) ? { document, notebook } : undefined;
}

/** As an editor's buffer has a text. */
const plain = (text: string): string => text.replace(/^\uFEFF/, "").replace(/\r\n?/g, "\n");
const sameText = ({ document, notebook }: Pair): boolean =>
	plain(document.getText()) === plain(textOfOpen(notebook).text);

/** What was edited here too is not replaced unasked. */
async function mayReplace({ isDirty }: { readonly isDirty: boolean }): Promise<boolean> {
	if (!isDirty) return true;
	const replace = l10n.t("Replace");
	return (
		(await window.showWarningMessage(
			l10n.t("There are unsaved changes here too. Replace them with the newer text? Undo brings them back."),
			{ modal: true },
			replace,
		)) === replace
	);
}

/** Only what differs is replaced, so that cursor and folds stay. */
async function takeNotebook({ document, notebook }: Pair): Promise<void> {
	const [old, now] = [document.getText(), textOfOpen(notebook).text.replace(/^\uFEFF/, "")];
	const [before, after] = [old.split(/(?<=\n)/), now.split(/(?<=\n)/)];
	const [first, last] = sameEnds(before, after);
	const range = new Range(
		document.positionAt(before.slice(0, first).join("").length),
		document.positionAt(before.slice(0, before.length - last).join("").length),
	);
	const edit = new WorkspaceEdit();
	edit.replace(document.uri, range, after.slice(first, after.length - last).join(""));
	await workspace.applyEdit(edit);
}

async function takeText({ document, notebook }: Pair): Promise<void> {
	const outcome = notebookOf(document.getText());
	if (!outcome.ok) {
		void window.showErrorMessage(told(outcome.why));
		return;
	}
	const now = outcome.notebook.cells;
	const words = (cell: object): string => JSON.stringify(cell);
	const [first, last] = sameEnds(planCells(notebook).map(words), now.map(words));
	const edit = new WorkspaceEdit();
	edit.set(notebook.uri, [
		NotebookEdit.replaceCells(
			new NotebookRange(first, notebook.cellCount - last),
			now.slice(first, now.length - last).map(cellData),
		),
	]);
	await workspace.applyEdit(edit);
}

/** How many are the same at the start and at the end of two lists. */
function sameEnds(a: readonly string[], b: readonly string[]): readonly [number, number] {
	const most = Math.min(a.length, b.length);
	let [first, last] = [0, 0];
	while (first < most && a[first] === b[first]) first++;
	while (last < most - first && a[a.length - 1 - last] === b[b.length - 1 - last]) last++;
	return [first, last];
}
