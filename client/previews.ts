/** The previews that are open: one in a group of editors, used again for whatever plan is to be shown there. */
import { commands, type Disposable, l10n, Uri, ViewColumn, type WebviewPanel, window } from "vscode";
import { COMMANDS } from "../shared/protocol/commands.ts";
import { LANGUAGE } from "../shared/protocol/language.ts";
import type { PreviewState } from "../shared/protocol/page.ts";
import { fileOf, notebookInFront } from "./notebook/plan-notebook.ts";
import { Preview, type PreviewHost } from "./preview.ts";

type Where = "beside" | "here";

class Previews {
	readonly #host: PreviewHost;
	readonly #open = new Set<Preview>();

	constructor(host: PreviewHost) {
		this.#host = host;
	}

	/** A locked preview keeps its plan: another is made beside it. */
	show(uri: Uri, where: Where): Preview {
		const there = this.#in(where);
		if (there) {
			there.open(uri, where === "beside");
			return there;
		}
		const viewColumn = where === "here" ? ViewColumn.Active : ViewColumn.Beside;
		const panel = window.createWebviewPanel(
			Preview.viewType,
			l10n.t("Preview"),
			{ viewColumn, preserveFocus: where === "beside" },
			{ enableScripts: true },
		);
		return this.add(uri, panel, false);
	}

	add(uri: Uri, panel: WebviewPanel, locked: boolean): Preview {
		const preview = new Preview(this.#host, uri, panel, locked);
		this.#open.add(preview);
		panel.onDidDispose(() => this.#open.delete(preview));
		return preview;
	}

	/** The preview in front. */
	get inFront(): Preview | undefined {
		return [...this.#open].find(({ isInFront }) => isInFront);
	}

	#in(where: Where): Preview | undefined {
		const active = window.tabGroups.activeTabGroup.viewColumn;
		const free = [...this.#open].filter(({ locked }) => !locked);
		if (where === "here") return free.find(({ column }) => column === active);
		// A plan chosen in the explorer while the preview is in front is shown in it.
		return free.find(({ column }) => column !== active) ?? free.find(({ isInFront }) => isInFront);
	}
}

/** The plan that a command is for: the file it was called on, else the one in front. */
function planOf(uri: unknown): Uri | undefined {
	if (uri instanceof Uri) return fileOf(uri);
	const notebook = notebookInFront();
	if (notebook) return notebook.uri;
	const document = window.activeTextEditor?.document;
	return document?.languageId === LANGUAGE ? document.uri : undefined;
}

export function registerPreviews(host: PreviewHost): readonly Disposable[] {
	const previews = new Previews(host);
	const opening = (where: Where) => (uri: unknown) => {
		const plan = planOf(uri);
		if (plan) previews.show(plan, where);
	};
	return [
		commands.registerCommand(COMMANDS.openPreview, opening("beside")),
		commands.registerCommand(COMMANDS.openPreviewHere, opening("here")),
		commands.registerCommand(COMMANDS.showYear, (uri: unknown) => {
			const plan = previews.inFront ? Preview.documentInFront() : planOf(uri);
			if (plan) void (previews.inFront ?? previews.show(plan, "beside")).showNights();
		}),
		commands.registerCommand(COMMANDS.lockPreview, () => previews.inFront?.toggleLock()),
		commands.registerCommand(COMMANDS.showSource, () => previews.inFront?.showSource()),
		window.registerWebviewPanelSerializer(Preview.viewType, {
			deserializeWebviewPanel: async (panel, state: PreviewState | undefined) => {
				if (typeof state?.plan === "string") previews.add(Uri.parse(state.plan), panel, state.locked === true);
				else panel.dispose();
			},
		}),
	];
}
