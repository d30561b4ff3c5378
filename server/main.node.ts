/** The server in Node: over standard input and output, or over the channel of the process that started it. */
import {
	createConnection,
	ProposedFeatures,
	StreamMessageReader,
	StreamMessageWriter,
} from "vscode-languageserver/node";
import { staySmall } from "./memory.node.ts";
import { start } from "./start.ts";
import { readWorkspaceFile } from "./workspace-file.node.ts";

/** For any editor: `lodebook lsp --stdio`. */
export function serveStdio(): void {
	staySmall();
	// Nothing else may write to standard output.
	console.log = console.error;
	start(
		createConnection(
			ProposedFeatures.all,
			new StreamMessageReader(process.stdin),
			new StreamMessageWriter(process.stdout),
		),
		readWorkspaceFile,
	);
}

/** For the desktop extension. */
export function serveParent(): void {
	staySmall();
	start(createConnection(ProposedFeatures.all), readWorkspaceFile);
}
