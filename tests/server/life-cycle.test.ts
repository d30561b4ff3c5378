/** From the first byte to the last: what comes out of order, what is no message, and a client that goes or refuses. */
import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { afterEach, expect, test } from "vitest";
import { CLI, TestClient } from "./client.ts";
import { sample } from "./served.ts";

interface Answer {
	readonly id?: number | null;
	readonly method?: string;
	readonly result?: unknown;
	readonly error?: { readonly code: number; readonly message: string };
}

/** A server that is spoken to in bytes. */
class Raw {
	readonly process: ChildProcess;
	readonly answers: Answer[] = [];
	errors = "";
	#bytes = Buffer.alloc(0);
	#waiting: (() => void)[] = [];

	constructor() {
		this.process = spawn(process.execPath, [CLI, "lsp", "--stdio"], { stdio: ["pipe", "pipe", "pipe"] });
		this.process.stderr?.on("data", (data) => {
			this.errors += data;
		});
		this.process.stdout?.on("data", (data) => {
			this.#bytes = Buffer.concat([this.#bytes, data]);
			for (;;) {
				const end = this.#bytes.indexOf("\r\n\r\n");
				if (end < 0) break;
				const length = Number(/Content-Length: (\d+)/i.exec(this.#bytes.toString("latin1", 0, end))?.[1]);
				if (this.#bytes.length < end + 4 + length) break;
				this.answers.push(JSON.parse(this.#bytes.toString("utf8", end + 4, end + 4 + length)));
				this.#bytes = this.#bytes.subarray(end + 4 + length);
			}
			for (const wake of this.#waiting.splice(0)) wake();
		});
	}

	write(bytes: string): void {
		this.process.stdin?.write(bytes);
	}

	async until(found: (answer: Answer) => boolean): Promise<Answer> {
		for (;;) {
			const answer = this.answers.find(found);
			if (answer) return answer;
			await new Promise<void>((wake) => this.#waiting.push(wake));
		}
	}

	async ask(id: number, method: string, params: object = {}): Promise<Answer> {
		this.write(packet({ id, method, params }));
		return this.until((answer) => answer.id === id && answer.method === undefined);
	}

	async exit(): Promise<number | null> {
		if (this.process.exitCode === null && this.process.signalCode === null) await once(this.process, "exit");
		return this.process.exitCode;
	}
}

function packet(message: object): string {
	const text = JSON.stringify({ jsonrpc: "2.0", ...message });
	return `Content-Length: ${Buffer.byteLength(text)}\r\n\r\n${text}`;
}

const initialize = { processId: process.pid, rootUri: null, capabilities: {} };
const raws: Raw[] = [];
const raw = (): Raw => {
	const one = new Raw();
	raws.push(one);
	return one;
};
afterEach(() => {
	for (const one of raws.splice(0)) one.process.kill();
});

test("before it is initialized requests are refused, and notifications passed over", async () => {
	const server = raw();
	server.write(packet({ method: "textDocument/didOpen", params: { textDocument: { uri: "file:///a.lode.yaml" } } }));
	expect((await server.ask(1, "textDocument/hover")).error?.code).toBe(-32002);
	expect((await server.ask(2, "shutdown")).error?.code).toBe(-32002);
	expect((await server.ask(3, "initialize", initialize)).result).toBeDefined();
	expect((await server.ask(4, "initialize", initialize)).error?.code).toBe(-32600);
	expect((await server.ask(5, "lodebook/pageStyle")).result).toContain("--paper");
});

test("after it was shut down requests are refused, and it ends well when told to", async () => {
	const server = raw();
	await server.ask(1, "initialize", initialize);
	expect((await server.ask(2, "shutdown")).result).toBeNull();
	expect((await server.ask(3, "lodebook/pageStyle")).error?.code).toBe(-32600);
	expect((await server.ask(4, "shutdown")).error?.code).toBe(-32600);
	server.write(packet({ method: "exit" }));
	expect(await server.exit()).toBe(0);
});

test("it ends when its input does: well if it was shut down, else not", async () => {
	const [left, told] = [raw(), raw()];
	await left.ask(1, "initialize", { ...initialize, processId: null });
	left.process.stdin?.end();
	expect(await left.exit()).toBe(1);
	await told.ask(1, "initialize", { ...initialize, processId: null });
	await told.ask(2, "shutdown");
	told.process.stdin?.end();
	expect(await told.exit()).toBe(0);
	const never = raw();
	never.process.stdin?.end();
	expect(await never.exit()).toBe(1);
});

const style = (id: number): string => packet({ id, method: "lodebook/pageStyle", params: {} });
const body = (id: number): string => style(id).split("\r\n\r\n")[1] as string;

test.each([
	["no number", (id: number) => `Content-Length: abc\r\n\r\n${body(id)}`],
	["negative", (id: number) => `Content-Length: -5\r\n\r\n${body(id)}`],
	["empty", (id: number) => `Content-Length:\r\n\r\n${body(id)}`],
	["missing", (id: number) => `Content-Type: x\r\n\r\n${body(id)}`],
	["no header at all", () => "Nonsense\r\n\r\n"],
	["longer than any message", (id: number) => `Content-Length: 99999999999\r\n\r\n${body(id)}`],
	["too short", (id: number) => `Content-Length: 10\r\n\r\n${body(id)}`],
	["too long", (id: number) => `Content-Length: ${body(id).length + 7}\r\n\r\n${body(id)}`],
	["too long, into the next header", (id: number) => `Content-Length: ${body(id).length + 25}\r\n\r\n${body(id)}`],
	["far too long", (id: number) => `Content-Length: 100000\r\n\r\n${body(id)}`],
	["of what is not JSON", () => "Content-Length: 5\r\n\r\n{bad}"],
	["of a header's beginning", () => "x".repeat(5000)],
])("a Content-Length that is wrong (%s) is reported, and what follows is answered", async (_, wrong) => {
	for (const packets of ["one", "two"]) {
		const server = raw();
		await server.ask(1, "initialize", initialize);
		server.write(packets === "one" ? wrong(2) + style(3) : wrong(2));
		if (packets === "two") {
			await new Promise((rested) => setTimeout(rested, 50));
			server.write(style(3));
		}
		expect((await server.until(({ id }) => id === 3)).result).toContain("--paper");
		const { error } = await server.until(({ id }) => id === null);
		expect(error?.code).toBe(-32700);
		await expect.poll(() => server.errors).toContain(`lodebook: ${error?.message}`);
	}
});

test("messages in any pieces", async () => {
	const server = raw();
	const all = packet({ id: 1, method: "initialize", params: initialize }) + style(2) + style(3);
	for (let at = 0; at < all.length; at += 23) {
		server.write(all.slice(at, at + 23));
		await new Promise((rested) => setTimeout(rested, 1));
	}
	expect((await server.until(({ id }) => id === 3)).result).toContain("--paper");
	expect(server.answers.filter(({ id }) => id === null)).toEqual([]);
});

test("a client that refuses to ask anew keeps its server", async () => {
	const client = new TestClient();
	const refused: string[] = [];
	for (const method of [
		"workspace/diagnostic/refresh",
		"workspace/inlayHint/refresh",
		"workspace/codeLens/refresh",
		"client/registerCapability",
	])
		client.connection.onRequest(method, () => {
			refused.push(method);
			throw new Error("no");
		});
	client.connection.onRequest("workspace/configuration", () => [{}]);
	await client.start({
		textDocument: { diagnostic: {} },
		workspace: {
			configuration: true,
			diagnostics: { refreshSupport: true },
			inlayHint: { refreshSupport: true },
			codeLens: { refreshSupport: true },
			didChangeWatchedFiles: { dynamicRegistration: true },
		},
	});
	const uri = "file:///refusing/plan.lode.yaml";
	await client.open(uri, sample);
	await client.request("textDocument/diagnostic", { textDocument: { uri } });
	await client.connection.sendNotification("workspace/didChangeWatchedFiles", { changes: [{ uri, type: 2 }] });
	await expect
		.poll(() => [...new Set(refused)].sort())
		.toEqual([
			"client/registerCapability",
			"workspace/codeLens/refresh",
			"workspace/diagnostic/refresh",
			"workspace/inlayHint/refresh",
		]);
	expect(await client.request<string>("lodebook/pageStyle", {})).toContain("--paper");
	expect(client.process.exitCode).toBeNull();
	await client.stop();
});
