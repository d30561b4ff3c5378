/** Commands: a new plan, another guide star, another night, the server anew. */
import { commands, type Disposable, l10n, ProgressLocation, Range, Uri, WorkspaceEdit, window, workspace } from "vscode";
import type { BaseLanguageClient } from "vscode-languageclient";

interface StarChoice {
	readonly label: string;
	readonly detail: string;
	readonly edits: readonly { readonly range: { readonly start: Place; readonly end: Place }; readonly newText: string }[];
}
interface Place {
	readonly line: number;
	readonly character: number;
}

export function registerCommands(client: BaseLanguageClient): readonly Disposable[] {
	return [
		commands.registerCommand("lodebook.newPlan", () => newPlan(client)),
		commands.registerCommand("lodebook.chooseGuideStar", (uri?: string, line?: number) => chooseGuideStar(client, uri, line)),
		commands.registerCommand("lodebook.chooseNight", () => chooseNight(client)),
		commands.registerCommand("lodebook.restartServer", async () => {
			await client.stop();
			await client.start();
		}),
	];
}

/** Asks where and when, and opens a plan that checks clean. */
async function newPlan(client: BaseLanguageClient): Promise<void> {
	const ask = (prompt: string, placeHolder: string, pattern: RegExp, value = ""): Thenable<string | undefined> =>
		window.showInputBox({
			title: l10n.t("New plan"),
			prompt,
			placeHolder,
			value,
			ignoreFocusOut: true,
			validateInput: (text) => (pattern.test(text.trim()) ? undefined : l10n.t("For example: {0}", placeHolder)),
		});
	const site = await ask(l10n.t("What is the stand called?"), "Roofless chapel", /\S/);
	if (site === undefined) return;
	const place = await ask(l10n.t("Where is it? Latitude, then longitude"), "32.4123 S, 20.8431 E", /^[^,;]*\d[^,;]*[,;][^,;]*\d[^,;]*$/);
	if (place === undefined) return;
	const [latitude = "", longitude = ""] = place.split(/[,;]/).map((part) => part.trim());
	const tomorrow = new Date(Date.now() + 86_400_000).toISOString().slice(0, 10);
	const date = await ask(l10n.t("Which evening?"), tomorrow, /^\d{4}-\d{2}-\d{2}$/, tomorrow);
	if (date === undefined) return;
	const content = await client.sendRequest<string | null>("lodebook/newPlan", { title: `Night at ${site}`, site, latitude, longitude, date });
	if (content === null) {
		void window.showErrorMessage(l10n.t("Latitude, longitude or date cannot be read. Write them as 32.4123 S, 20.8431 E and 2027-06-05."));
		return;
	}
	await window.showTextDocument(await workspace.openTextDocument({ language: "lodebook", content }));
}

/** Shows the guide stars of tonight, the best first, and writes the chosen one into the plan. */
async function chooseGuideStar(client: BaseLanguageClient, uri?: string, line?: number): Promise<void> {
	const editor = window.activeTextEditor;
	const target = uri ?? editor?.document.uri.toString();
	if (target === undefined) return;
	const choices = await client.sendRequest<StarChoice[] | null>("lodebook/guideStars", { uri: target, line: line ?? editor?.selection.active.line ?? 0 });
	if (!choices || choices.length === 0) {
		void window.showInformationMessage(l10n.t("No star to magnitude 4.5 passes the aim point tonight, in view and during the stay."));
		return;
	}
	const chosen = await window.showQuickPick(choices, { placeHolder: l10n.t("Guide stars of tonight, the best first") });
	if (chosen) await applyEdits(target, chosen.edits);
}

interface NightsAnswer {
	readonly choices: readonly (StarChoice & { readonly description: string })[];
	readonly problem: string;
}

/** Compares the nights of a year from today on, the best first, and writes the chosen one into the plan. */
async function chooseNight(client: BaseLanguageClient): Promise<void> {
	const editor = window.activeTextEditor;
	if (!editor) return;
	const { uri, version } = editor.document;
	const from = new Date().toISOString().slice(0, 10);
	const answer = await window.withProgress({ location: ProgressLocation.Notification, title: l10n.t("Comparing the nights of a year…") }, () =>
		client.sendRequest<NightsAnswer | null>("lodebook/nights", { uri: uri.toString(), from, days: 365 }),
	);
	if (!answer || answer.choices.length === 0) {
		void window.showInformationMessage(
			answer?.problem || l10n.t("No night of the year to come is dark and moonless with a target in view and a way to align."),
		);
		return;
	}
	const chosen = await window.showQuickPick(answer.choices, { placeHolder: l10n.t("Nights of the year to come, the best first"), matchOnDetail: true });
	if (!chosen) return;
	if (editor.document.version !== version) {
		void window.showWarningMessage(l10n.t("The plan was changed meanwhile: choose the night again."));
		return;
	}
	await applyEdits(uri.toString(), chosen.edits);
}

async function applyEdits(uri: string, edits: StarChoice["edits"]): Promise<void> {
	const edit = new WorkspaceEdit();
	for (const { range, newText } of edits) {
		edit.replace(Uri.parse(uri), new Range(range.start.line, range.start.character, range.end.line, range.end.character), newText);
	}
	await workspace.applyEdit(edit);
}
