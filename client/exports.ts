/** Writes what can be made of a plan to a file: from the editor, the notebook and the preview. */
import { commands, type Disposable, env, l10n, Uri, window, workspace } from "vscode";
import type { BaseLanguageClient } from "vscode-languageclient";
import { COMMANDS } from "../shared/protocol/commands.ts";
import { EXPORT, EXPORTS, type ExportChoice } from "../shared/protocol/exports.ts";
import { PLAN_ENDING } from "../shared/protocol/language.ts";
import { ask } from "../shared/protocol/message.ts";
import { planInFront } from "./commands.ts";
import { fileOf, openedDocument, openNotebook } from "./notebook/plan-notebook.ts";
import { Preview } from "./preview.ts";

export const registerExports = (client: BaseLanguageClient, extension: Uri): readonly Disposable[] => [
	commands.registerCommand(COMMANDS.exportPlan, () =>
		exportPlan(client, extension, documentInFront(), (choices) =>
			window.showQuickPick(
				choices.map((one) => ({ ...one, detail: `*.${one.extension}` })),
				{
					title: l10n.t("Export the plan"),
					placeHolder: l10n.t("In which form? The card is for the field, the page for the desk"),
				},
			),
		),
	),
	commands.registerCommand(COMMANDS.exportCard, async (file: unknown) =>
		exportPlan(
			client,
			extension,
			file instanceof Uri ? (await openedDocument(fileOf(file))).toString() : documentInFront(),
			(choices) => choices.find(({ output }) => output === CARD),
		),
	),
];

/** The output that is for the field. */
const CARD = "card";

/** `choose`: one of all that can be made of the plan; nothing is written where there is none. */
async function exportPlan(
	client: BaseLanguageClient,
	extension: Uri,
	uri: string | undefined,
	choose: (choices: readonly ExportChoice[]) => ExportChoice | undefined | Thenable<ExportChoice | undefined>,
): Promise<void> {
	if (uri === undefined) return;
	const choices = await ask(client, EXPORTS, { uri });
	const chosen = await choose(choices);
	if (!chosen) return;
	const pageScript = new TextDecoder().decode(await workspace.fs.readFile(Uri.joinPath(extension, "dist", "page.js")));
	const { output, choice, member } = chosen;
	const answer = await ask(client, EXPORT, {
		uri,
		output,
		choice,
		...(member !== undefined && { member }),
		pageScript,
	});
	if (!answer) return;
	if ("problem" in answer) {
		void window.showWarningMessage(l10n.t("It cannot be exported: {0}.", answer.problem));
		return;
	}
	const file = await window.showSaveDialog({
		defaultUri: beside(Uri.parse(uri), suffixOf(chosen, choices), chosen.extension),
		filters: { [chosen.label]: [chosen.extension] },
	});
	if (!file) return;
	await workspace.fs.writeFile(file, new TextEncoder().encode(answer.text));
	const open = l10n.t("Open");
	const done = await window.showInformationMessage(
		l10n.t("Written: {0}", file.path.split("/").pop() ?? ""),
		...(file.scheme === "file" ? [open] : []),
	);
	if (done === open) await env.openExternal(file);
}

/** What tells its file from another output's with the same ending, and from its other choices. */
function suffixOf(chosen: ExportChoice, all: readonly ExportChoice[]): string {
	const { output, choice, extension, member, description } = chosen;
	// A name may hold what a file's may not.
	if (member !== undefined) return `${output}-${description.replace(/[^\p{L}\p{N}]+/gu, "-").slice(0, 60)}`;
	const isFirst = all.find((one) => one.extension === extension)?.output === output;
	return choice === "" && !isFirst ? output : choice;
}

/** The plan to export, as the server knows it: that of the preview where one is in front. */
function documentInFront(): string | undefined {
	const shown = Preview.documentInFront();
	if (!shown) return planInFront()?.uri;
	return (openNotebook(shown)?.getCells()[0]?.document.uri ?? shown).toString();
}

/** A file beside the plan's, in the folder that is open where the plan has none. */
function beside(document: Uri, suffix: string, extension: string): Uri {
	const folder = workspace.workspaceFolders?.[0]?.uri;
	const plan =
		document.scheme === "vscode-notebook-cell" ? document.with({ scheme: folder?.scheme ?? "file" }) : document;
	const name = (plan.path.split("/").pop() ?? "").replace(PLAN_ENDING, "") || "plan";
	const file = `${name}${suffix === "" ? "" : `-${suffix}`}.${extension}`;
	return plan.scheme === "untitled" && folder
		? Uri.joinPath(folder, file)
		: Uri.joinPath(plan.with({ fragment: "" }), "..", file);
}
