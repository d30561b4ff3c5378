/** Compares the plan in front with what was committed last, through the editor's own Git extension, where there is one. */
import { commands, type Disposable, extensions, l10n, Uri, window } from "vscode";
import type { BaseLanguageClient } from "vscode-languageclient";
import { COMMANDS } from "../shared/protocol/commands.ts";
import { COMPARE, COMPARISON_SCHEME, READ_COMMITTED } from "../shared/protocol/comparison.ts";
import { type FileAnswer, LARGEST_PLAN } from "../shared/protocol/files.ts";
import { PLAN_ENDING } from "../shared/protocol/language.ts";
import { answer, ask } from "../shared/protocol/message.ts";
import { planInFront } from "./commands.ts";
import { MadePages } from "./made-pages.ts";
import { cellOfDocument } from "./notebook/plan-notebook.ts";

/** What is used of the Git extension's interface, version 1. */
interface Git {
	readonly repositories: readonly Repository[];
	getRepository(uri: Uri): Repository | null;
	onDidOpenRepository(listener: () => void): Disposable;
	onDidCloseRepository(listener: () => void): Disposable;
}
interface Repository {
	readonly state: { readonly HEAD: { readonly commit?: string } | undefined; readonly indexChanges: readonly Change[] };
	show(revision: string, path: string): Promise<string>;
}
interface Change {
	readonly originalUri: Uri;
	readonly renameUri: Uri | undefined;
}
interface GitExtension {
	readonly enabled: boolean;
	getAPI(version: 1): Git;
	onDidChangeEnablement(listener: () => void): Disposable;
}

const HEAD = "HEAD";

export function registerComparison(client: BaseLanguageClient): readonly Disposable[] {
	const pages = new MadePages(COMPARISON_SCHEME);
	const listening: Disposable[] = [];
	void watchGit(listening);
	return [
		pages,
		answer(client, READ_COMMITTED, async ({ uri }): Promise<FileAnswer> => {
			const file = Uri.parse(uri, true);
			const text = file.path.endsWith(PLAN_ENDING) ? await committed(file) : undefined;
			return text === undefined ? { missing: "not-found" } : { text };
		}),
		commands.registerCommand(COMMANDS.compareWithHead, () => compareWithHead(client, pages)),
		{ dispose: () => listening.forEach((one) => void one.dispose()) },
	];
}

/** The Git extension; undefined where there is none, or it is switched off. */
async function gitExtension(): Promise<GitExtension | undefined> {
	const extension = extensions.getExtension<GitExtension>("vscode.git");
	return extension && (extension.isActive ? extension.exports : await extension.activate());
}

async function git(): Promise<Git | undefined> {
	const extension = await gitExtension();
	return extension?.enabled ? extension.getAPI(1) : undefined;
}

/** The command is shown where there is a repository to compare with. */
async function watchGit(listening: Disposable[]): Promise<void> {
	const show = async (): Promise<void> => {
		const known = await git();
		void commands.executeCommand("setContext", "lodebook.inRepository", (known?.repositories.length ?? 0) > 0);
	};
	const watch = async (): Promise<void> => {
		await show();
		const known = await git();
		if (known) listening.push(known.onDidOpenRepository(show), known.onDidCloseRepository(show));
	};
	try {
		const extension = await gitExtension();
		if (extension) listening.push(extension.onDidChangeEnablement(watch));
		await watch();
	} catch {
		// The Git extension could not be started: the command stays hidden.
	}
}

/** A file's text as it was committed last, under the name that it had then; undefined where it was not. */
async function committed(file: Uri): Promise<string | undefined> {
	const repository = (await git())?.getRepository(file);
	if (!repository) return undefined;
	const renamed = repository.state.indexChanges.find(({ renameUri }) => renameUri?.toString() === file.toString());
	try {
		const text = await repository.show(HEAD, (renamed?.originalUri ?? file).fsPath);
		return text.length > LARGEST_PLAN ? undefined : text;
	} catch {
		return undefined;
	}
}

async function compareWithHead(client: BaseLanguageClient, pages: MadePages): Promise<void> {
	const front = planInFront();
	if (!front) return;
	const uri = Uri.parse(front.uri, true);
	const file = cellOfDocument(uri)?.notebook.uri ?? uri;
	const text = await committed(file);
	if (text === undefined) {
		void window.showInformationMessage(
			l10n.t("This plan is not in the last commit: there is nothing to compare with."),
		);
		return;
	}
	const answered = await ask(client, COMPARE, { uri: front.uri, text, as: HEAD });
	if (!answered) return;
	const name = file.path.split("/").pop() ?? "plan";
	await commands.executeCommand(
		"markdown.showPreviewToSide",
		pages.put(name.replace(PLAN_ENDING, ""), answered.markdown),
	);
}
