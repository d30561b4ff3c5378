/** The server in Node: over standard input and output, or over the channel of the process that started it. */
import {
	createConnection,
	ErrorCodes,
	ProposedFeatures,
	type ResponseMessage,
	StreamMessageWriter,
} from "vscode-languageserver/node";
import { lifeCycle } from "./life-cycle.ts";
import { start } from "./start.ts";
import { StdioReader } from "./stdio-reader.node.ts";
import { listWorkspaceFiles, readWorkspaceFile } from "./workspace-file.node.ts";

const FILES = { readOwnFile: readWorkspaceFile, listOwnFiles: listWorkspaceFiles };

/** For any editor: `lodebook lsp --stdio`. */
export function serveStdio(): void {
	// Nothing else may write to standard output.
	console.log = console.error;
	const writer = new StreamMessageWriter(process.stdout);
	const input = new StdioReader(process.stdin, (problem) => {
		console.error(`lodebook: ${problem}`);
		// Whose message it was cannot be known.
		const answer: ResponseMessage = {
			jsonrpc: "2.0",
			id: null,
			error: { code: ErrorCodes.ParseError, message: problem },
		};
		void writer.write(answer).catch(() => {});
	});
	const { reader, isShutDown } = lifeCycle(input, writer);
	// Who wrote to it has gone; what was asked before is answered, if anybody still reads.
	const leave = (): void => void setTimeout(() => process.exit(isShutDown() ? 0 : 1), LEAVING_MS);
	process.stdin.on("end", leave).on("close", leave);
	process.stdout.on("error", leave);
	start(createConnection(ProposedFeatures.all, reader, writer), FILES);
}

const LEAVING_MS = 50;

/** For the desktop extension. */
export function serveParent(): void {
	start(createConnection(ProposedFeatures.all), FILES);
}
