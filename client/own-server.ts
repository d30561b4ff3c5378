/** A server for one long job: what is typed meanwhile does not wait for it, and to stop it is to end it. */
import {
	CancellationError,
	type CancellationToken,
	l10n,
	type Progress,
	ProgressLocation,
	type Uri,
	window,
	workspace,
} from "vscode";
import type { BaseLanguageClient, LanguageClientOptions } from "vscode-languageclient";
import { LIST_FILES, READ_FILE } from "../shared/protocol/files.ts";
import { LANGUAGE } from "../shared/protocol/language.ts";
import { answer } from "../shared/protocol/message.ts";
import { toBase64 } from "../shared/text/base64.ts";
import { textOfPlan } from "./notebook/plan-notebook.ts";
import { listPlans, type RealPath, readWorkspaceFile } from "./workspace-file.ts";

/** `end` ends it at once, whatever it is at. */
export interface OwnServer {
	readonly client: BaseLanguageClient;
	readonly end: () => void;
}

/** Makes one for a client with these options. */
export type MakeServer = (options: LanguageClientOptions) => OwnServer;

export type StartServer = () => OwnServer;

/** `options`: those of the extension's client. */
export const startOwn =
	(options: LanguageClientOptions, make: MakeServer, realPath?: RealPath): StartServer =>
	() => {
		const own = make({
			// It has the one plan, and its findings are shown already.
			middleware: { handleDiagnostics: () => {} },
			initializationOptions: options.initializationOptions,
		});
		answer(own.client, READ_FILE, ({ uri }) => readWorkspaceFile(uri, realPath));
		answer(own.client, LIST_FILES, ({ root, most }) => listPlans(root, most));
		return own;
	};

/** One long job. */
export interface Job<Answer> {
	readonly title: string;
	/** The plan's file, whose text the server is given. */
	readonly plan: Uri;
	/** What is asked of it once it has the plan; null where it could not read that. */
	readonly ask: (client: BaseLanguageClient, progress: JobProgress) => Promise<Answer | null>;
}

export type JobProgress = Progress<{ message?: string; increment?: number }>;

/** Does a job in a server of its own, with its progress shown; undefined where the user stopped it, else an answer or what went wrong. */
export async function inOwnServer<Answer>(
	start: StartServer,
	{ title, plan, ask }: Job<Answer>,
): Promise<Answer | { readonly problem: string } | undefined> {
	return window.withProgress(
		{ location: ProgressLocation.Notification, title, cancellable: true },
		async (progress, token) => {
			const own = start();
			const asked = async (): Promise<Answer | { readonly problem: string }> => {
				await own.client.start();
				await own.client.sendNotification("textDocument/didOpen", {
					textDocument: { uri: plan.toString(), languageId: LANGUAGE, version: 1, text: textOfPlan(plan) },
				});
				return (await ask(own.client, progress)) ?? { problem: l10n.t("The plan could not be read.") };
			};
			try {
				return await Promise.race([asked(), stopped(token)]);
			} catch (error) {
				if (error instanceof CancellationError) return undefined;
				return { problem: error instanceof Error ? error.message : String(error) };
			} finally {
				own.end();
			}
		},
	);
}

/** Fails when the user stops it. */
const stopped = (token: CancellationToken): Promise<never> =>
	new Promise((_, reject) => {
		token.onCancellationRequested(() => reject(new CancellationError()));
	});

/** What the user chose: a file, or what was dropped where there is no file that the extension could read. */
export interface Chosen {
	readonly name: string;
	/** The same for the same one; in the order of the names within a folder. */
	readonly key: string;
	readonly size: () => Promise<number>;
	readonly read: () => Promise<Uint8Array>;
}

export const chosenFile = (file: Uri): Chosen => ({
	name: nameOf(file),
	key: file.toString(),
	size: async () => (await workspace.fs.stat(file)).size,
	read: async () => workspace.fs.readFile(file),
});

/** Bytes for a server that asks for them, or why there are none. */
export async function bytesFor({
	name,
	read,
}: Chosen): Promise<{ readonly bytes: string } | { readonly problem: string }> {
	try {
		return { bytes: toBase64(await read()) };
	} catch (error) {
		const why = error instanceof Error ? error.message : String(error);
		return { problem: l10n.t("{0} cannot be read: {1}", name, why) };
	}
}

/** A file's name without its folders. */
export const nameOf = ({ path }: Uri): string => path.split("/").pop() ?? "";
