/** What both entries do. The client is thin: it starts the server and shows what it answers. */
import { type ExtensionContext, workspace } from "vscode";
import type { BaseLanguageClient, LanguageClientOptions } from "vscode-languageclient";
import { EXPLANATION_SCHEME, REFERENCE_SCHEME } from "../shared/protocol/explanation.ts";
import { type InitializationOptions, LIST_FILES, READ_FILE } from "../shared/protocol/files.ts";
import { LANGUAGE, NOTEBOOK_TYPE, PLAN_ENDING } from "../shared/protocol/language.ts";
import { answer } from "../shared/protocol/message.ts";
import { registerCommands } from "./commands.ts";
import { registerComparison } from "./comparison.ts";
import { registerDropping } from "./dropping.ts";
import { explanationPages, referencePages } from "./explanation-pages.ts";
import { registerExports } from "./exports.ts";
import { registerGround } from "./ground.ts";
import { registerMeasuring } from "./measuring.ts";
import { registerNewPlan } from "./new-plan.ts";
import { registerNotebookCommands } from "./notebook/commands.ts";
import { Outputs } from "./notebook/outputs.ts";
import { serializer } from "./notebook/serializer.ts";
import { watchFaces } from "./notebook/two-faces.ts";
import { type MakeServer, startOwn } from "./own-server.ts";
import { registerPreviews } from "./previews.ts";
import { registerTracing } from "./tracing.ts";
import { showVerdict } from "./verdict.ts";
import { listPlans, type RealPath, readWorkspaceFile } from "./workspace-file.ts";

export const CLIENT_ID = LANGUAGE;
export const CLIENT_NAME = "Lodebook";

let client: BaseLanguageClient | undefined;

/** In every kind of workspace, virtual ones and notebook cells too: the selector names no scheme. */
export const clientOptions = (options: InitializationOptions = {}): LanguageClientOptions => ({
	documentSelector: [{ language: LANGUAGE }],
	markdown: { isTrusted: false, supportHtml: false },
	initializationOptions: { readsFiles: true, ...options } satisfies InitializationOptions,
	synchronize: { fileEvents: workspace.createFileSystemWatcher(`**/*${PLAN_ENDING}`) },
	diagnosticPullOptions: { onChange: true, onTabs: true },
});

export async function activateShared(
	context: ExtensionContext,
	options: LanguageClientOptions,
	make: MakeServer,
	realPath?: RealPath,
): Promise<void> {
	client = make(options).client;
	const start = startOwn(options, make, realPath);
	const measuring = registerMeasuring(client, start);
	const tracing = registerTracing(client, context.extensionUri);
	context.subscriptions.push(
		workspace.registerNotebookSerializer(NOTEBOOK_TYPE, serializer, { transientOutputs: true }),
		new Outputs(client, context.extension.id),
		...registerNotebookCommands(client),
		...watchFaces(client),
		answer(client, READ_FILE, ({ uri }) => readWorkspaceFile(uri, realPath)),
		answer(client, LIST_FILES, ({ root, most }) => listPlans(root, most)),
		workspace.registerTextDocumentContentProvider(EXPLANATION_SCHEME, explanationPages(client)),
		workspace.registerTextDocumentContentProvider(REFERENCE_SCHEME, referencePages(context.extensionUri)),
		...registerCommands(client),
		...registerExports(client, { extension: context.extensionUri, storage: context.globalStorageUri }),
		...registerComparison(client),
		...measuring.registered,
		tracing.registered,
		registerDropping(measuring, tracing),
		// A browser follows no real paths, and has little memory.
		registerGround(client, start, realPath !== undefined),
		...registerNewPlan(client, context.extensionUri),
		...registerPreviews({ client, extension: context.extensionUri, remembered: context.globalState }),
		...showVerdict(),
	);
	await client.start();
}

export async function deactivateShared(): Promise<void> {
	await client?.stop();
}
