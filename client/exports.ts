/** Writes what can be made of a plan to a file: from the editor, the notebook and the preview. */
import { commands, type Disposable, env, l10n, UIKind, Uri, window, workspace } from "vscode";
import type { BaseLanguageClient } from "vscode-languageclient";
import { COMMANDS } from "../shared/protocol/commands.ts";
import { EXPORT, EXPORTS, type ExportChoice } from "../shared/protocol/exports.ts";
import { PLAN_ENDING } from "../shared/protocol/language.ts";
import { ask } from "../shared/protocol/message.ts";
import { planInFront } from "./commands.ts";
import { fileOf, openedDocument, openNotebook } from "./notebook/plan-notebook.ts";
import { nameOf } from "./own-server.ts";
import { Preview } from "./preview.ts";

/** Where the extension's own files are, and where it may keep some. */
export interface Places {
	readonly extension: Uri;
	readonly storage: Uri;
}

export const registerExports = (client: BaseLanguageClient, places: Places): readonly Disposable[] => [
	commands.registerCommand(COMMANDS.exportPlan, () =>
		exportPlan(client, places, documentInFront(), (choices) =>
			window.showQuickPick(
				choices.map((one) => ({
					...one,
					detail: one.prints ? l10n.t("a page that asks to be printed as it opens in a browser") : `*.${one.extension}`,
				})),
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
			places,
			file instanceof Uri ? (await openedDocument(fileOf(file))).toString() : documentInFront(),
			(choices) => choices.find(({ output }) => output === CARD),
		),
	),
];

/** The output that is for the field. */
const CARD = "card";

/** What makes a page print itself, once all of it is there. */
const PRINTS = `;addEventListener("load", () => print());\n`;

/** A browser on this machine can be given a file: not by an editor that is a page itself, or works on another machine. */
const canOpen = ({ scheme }: Uri): boolean =>
	scheme === "file" && env.uiKind === UIKind.Desktop && env.remoteName === undefined;

/** `choose`: one of all that can be made of the plan; nothing is written where there is none. */
async function exportPlan(
	client: BaseLanguageClient,
	{ extension, storage }: Places,
	uri: string | undefined,
	choose: (choices: readonly ExportChoice[]) => ExportChoice | undefined | Thenable<ExportChoice | undefined>,
): Promise<void> {
	if (uri === undefined) return;
	const choices = await ask(client, EXPORTS, { uri });
	const chosen = await choose(choices);
	if (!chosen) return;
	const pageScript = new TextDecoder().decode(await workspace.fs.readFile(Uri.joinPath(extension, "dist", "page.js")));
	const { output, choice, member, prints } = chosen;
	const answer = await ask(client, EXPORT, {
		uri,
		output,
		choice,
		...(member !== undefined && { member }),
		pageScript: prints ? pageScript + PRINTS : pageScript,
	});
	if (!answer) return;
	if ("problem" in answer) {
		void window.showWarningMessage(l10n.t("It cannot be exported: {0}.", answer.problem));
		return;
	}
	const bytes = new TextEncoder().encode(answer.text);
	const usual = beside(Uri.parse(uri), suffixOf(chosen), chosen.extension);
	if (prints && canOpen(storage)) {
		const page = Uri.joinPath(storage, "print", nameOf(usual));
		await workspace.fs.writeFile(page, bytes);
		await env.openExternal(page);
		return;
	}
	const file = await window.showSaveDialog({
		defaultUri: usual,
		filters: { [chosen.label]: [chosen.extension] },
	});
	if (!file) return;
	await workspace.fs.writeFile(file, bytes);
	if (prints) {
		void window.showInformationMessage(
			l10n.t("Written: {0}. Open it in a browser: it asks to be printed.", nameOf(file)),
		);
		return;
	}
	const open = l10n.t("Open");
	const done = await window.showInformationMessage(
		l10n.t("Written: {0}", nameOf(file)),
		...(canOpen(file) ? [open] : []),
	);
	if (done === open) await env.openExternal(file);
}

/** What tells its file from those of the plan's other exports. */
function suffixOf({ output, choice, member, description, prints }: ExportChoice): string {
	const parts = [
		// The page is the plan's own; a card has the same ending.
		...(output === CARD || member !== undefined ? [output] : []),
		// A name may hold what a file's may not.
		...(member === undefined ? [] : [description.replace(/[^\p{L}\p{N}]+/gu, "-").slice(0, 60)]),
		choice,
		...(prints ? ["print"] : []),
	];
	return parts.filter((part) => part !== "").join("-");
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
