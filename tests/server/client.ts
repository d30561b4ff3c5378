/** A protocol client that talks to the built server over standard input and output. */
import { type ChildProcess, spawn } from "node:child_process";
import { fileURLToPath } from "node:url";
import {
	createMessageConnection,
	type MessageConnection,
	StreamMessageReader,
	StreamMessageWriter,
} from "vscode-jsonrpc/node";
import type { ClientCapabilities, Diagnostic, InitializeResult, PublishDiagnosticsParams } from "vscode-languageserver";

export const CLI = fileURLToPath(new URL("../../dist/lodebook.mjs", import.meta.url));

export class TestClient {
	readonly process: ChildProcess;
	readonly connection: MessageConnection;
	initialized!: InitializeResult;
	readonly #diagnostics = new Map<string, PublishDiagnosticsParams>();
	readonly #waiting: (() => void)[] = [];
	#version = 1;

	/** `cli`: a command line that was built elsewhere. */
	constructor(cli = CLI) {
		this.process = spawn(process.execPath, [cli, "lsp", "--stdio"], { stdio: ["pipe", "pipe", "inherit"] });
		this.connection = createMessageConnection(
			new StreamMessageReader(this.process.stdout as NonNullable<ChildProcess["stdout"]>),
			new StreamMessageWriter(this.process.stdin as NonNullable<ChildProcess["stdin"]>),
		);
		this.connection.onNotification("textDocument/publishDiagnostics", (params: PublishDiagnosticsParams) => {
			this.#diagnostics.set(params.uri, params);
			for (const wake of this.#waiting.splice(0)) wake();
		});
		this.connection.listen();
	}

	async start(
		capabilities: ClientCapabilities = {},
		rootUri: string | null = null,
		initializationOptions: object = {},
	): Promise<this> {
		this.initialized = await this.connection.sendRequest("initialize", {
			processId: process.pid,
			rootUri,
			capabilities,
			initializationOptions,
		});
		await this.connection.sendNotification("initialized", {});
		return this;
	}

	async open(uri: string, text: string): Promise<void> {
		await this.openAt(uri, text, this.#version);
	}

	async openAt(uri: string, text: string, version: number): Promise<void> {
		await this.connection.sendNotification("textDocument/didOpen", {
			textDocument: { uri, languageId: "lodebook", version, text },
		});
	}

	/** Replaces a range, or the whole text. */
	async change(uri: string, contentChanges: readonly object[]): Promise<number> {
		this.#version++;
		await this.connection.sendNotification("textDocument/didChange", {
			textDocument: { uri, version: this.#version },
			contentChanges,
		});
		return this.#version;
	}

	/** The pushed diagnostics of a document at a version (or later). */
	async diagnostics(uri: string, version = 1): Promise<readonly Diagnostic[]> {
		for (;;) {
			const known = this.#diagnostics.get(uri);
			if (known && (known.version ?? 0) >= version) return known.diagnostics;
			await new Promise<void>((wake) => this.#waiting.push(wake));
		}
	}

	/** What was last pushed for a document; nothing was pushed for one without findings. */
	pushed(uri: string): readonly Diagnostic[] {
		return this.#diagnostics.get(uri)?.diagnostics ?? [];
	}

	request<T>(method: string, params: object): Promise<T> {
		return this.connection.sendRequest(method, params);
	}

	async stop(): Promise<void> {
		await this.connection.sendRequest("shutdown");
		await this.connection.sendNotification("exit");
		this.connection.dispose();
	}
}

/** Line and character of an offset. */
export function positionOf(text: string, offset: number): { line: number; character: number } {
	const before = text.slice(0, offset).split("\n");
	return { line: before.length - 1, character: (before[before.length - 1] as string).length };
}
