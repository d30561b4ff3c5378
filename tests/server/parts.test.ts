import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { createContext, runInContext } from "node:vm";
import { describe, expect, test } from "vitest";
import { Parts } from "../../server/parts.ts";
import { secondPartUrl } from "../../server/second-part.ts";
import { exampleText } from "../../shared/findings/example-plan.ts";
import { RULES } from "../../shared/findings/rules.ts";
import { sample } from "./served.ts";

const dist = fileURLToPath(new URL("../../dist/", import.meta.url));
const ADDRESS = "https://editor.example/extensions/lodebook/dist/server.later.js";

interface Message {
	readonly id?: number;
	readonly method?: string;
	readonly params?: unknown;
	readonly result?: unknown;
	readonly error?: { readonly code: number; readonly message: string };
}

const ANSWERS: Readonly<Record<string, unknown>> = {
	"lodebook/readFile": { missing: "not-found" },
	"lodebook/readCommitted": { missing: "not-found" },
	"lodebook/listFiles": [],
};

type Hearing = ((event: { data: unknown }) => void) | undefined;

/** The shipped worker in a scope of its own, as a browser has it: no modules, no Node; scripts come by `load`. */
class Worker {
	readonly loaded: string[] = [];
	readonly told: Message[] = [];
	readonly #scope: { onmessage: Hearing };
	readonly #waiting = new Map<number, (message: Message) => void>();
	#id = 0;

	constructor(load: (address: string) => string) {
		const scope = {
			postMessage: (message: Message) => {
				const { id } = message;
				// What the server asks: there are no other plans.
				if (message.method !== undefined && id !== undefined)
					setTimeout(() => this.#send({ id, result: ANSWERS[message.method ?? ""] ?? null }), 0);
				else if (id !== undefined) this.#waiting.get(id)?.(message);
				else this.told.push(message);
			},
			addEventListener: () => {},
			onmessage: undefined as Hearing,
			importScripts: (address: string) => {
				this.loaded.push(address);
				runInContext(load(address), context);
			},
			...{ setTimeout, clearTimeout, setInterval, clearInterval, setImmediate, clearImmediate },
			...{ console, crypto, performance, TextDecoder, TextEncoder, atob, btoa, URL, queueMicrotask, structuredClone },
		};
		Object.assign(scope, { self: scope });
		const context = createContext(scope);
		this.#scope = scope;
		runInContext(readFileSync(`${dist}server.worker.js`, "utf8"), context);
	}

	#send(message: Message): void {
		this.#scope.onmessage?.({ data: { jsonrpc: "2.0", ...message } });
	}

	tell(method: string, params: unknown): void {
		this.#send({ method, params });
	}

	async ask(method: string, params?: unknown): Promise<Message> {
		const id = ++this.#id;
		return new Promise((resolve) => {
			this.#waiting.set(id, resolve);
			this.#send({ id, method, params });
		});
	}

	/** With the sample open. */
	async start(secondPart: unknown): Promise<string> {
		await this.ask("initialize", {
			processId: null,
			rootUri: null,
			capabilities: { textDocument: { diagnostic: {} } },
			initializationOptions: { readsFiles: true, secondPart },
		});
		this.tell("initialized", {});
		const uri = "file:///chapel.lode.yaml";
		this.tell("textDocument/didOpen", { textDocument: { uri, languageId: "lodebook", version: 1, text: sample } });
		return uri;
	}
}

const shipped = (): string => readFileSync(`${dist}server.later.js`, "utf8");

describe("the web worker in two parts", () => {
	test("what goes on while one types asks for the first alone, formatting for the second too", async () => {
		const worker = new Worker(shipped);
		const uri = await worker.start(ADDRESS);
		const at = { textDocument: { uri }, position: { line: 5, character: 4 } };
		const range = { start: { line: 0, character: 0 }, end: { line: 200, character: 0 } };
		for (const [method, params] of [
			["textDocument/diagnostic", { textDocument: { uri } }],
			["textDocument/hover", at],
			["textDocument/completion", at],
			["textDocument/inlayHint", { textDocument: { uri }, range }],
			["textDocument/codeLens", { textDocument: { uri } }],
			["textDocument/codeAction", { textDocument: { uri }, range, context: { diagnostics: [] } }],
			["textDocument/documentSymbol", { textDocument: { uri } }],
		] as const) {
			const { error, result } = await worker.ask(method, params);
			expect(error, `${method}: ${error?.message}`).toBeUndefined();
			expect(result, method).toBeDefined();
		}
		expect(worker.loaded).toEqual([]);
		const { result } = await worker.ask("textDocument/formatting", {
			textDocument: { uri },
			options: { tabSize: 2, insertSpaces: true },
		});
		expect(result).toEqual([]);
		expect(worker.loaded).toEqual([ADDRESS]);
	});

	test("what each rule tells of its own wrong example is what the core tells", async () => {
		const worker = new Worker(shipped);
		await worker.start(ADDRESS);
		for (const [i, { code, example }] of RULES.flatMap(({ code, wrong }) =>
			[wrong].flat().map((example) => ({ code, example })),
		).entries()) {
			const text = exampleText(example);
			const uri = `file:///${i}.lode.yaml`;
			worker.tell("textDocument/didOpen", { textDocument: { uri, languageId: "lodebook", version: 1, text } });
			const { error, result } = await worker.ask("textDocument/diagnostic", { textDocument: { uri } });
			expect(error, code).toBeUndefined();
			const told = (result as { items: readonly { code: string }[] }).items;
			// Other plans, of which these speak, are not there.
			if (!/^(?:group|reuse)\//.test(code)) expect(told.map((one) => one.code)).toContain(code);
			worker.tell("textDocument/didClose", { textDocument: { uri } });
		}
		// The one that a guide star behind the first frames brings, with its words.
		const late = sample.replaceAll("eta Virginis", "zeta Virginis").replace('at: "20:01"', 'at: "21:17"');
		const uri = "file:///late.lode.yaml";
		worker.tell("textDocument/didOpen", { textDocument: { uri, languageId: "lodebook", version: 1, text: late } });
		const { result } = await worker.ask("textDocument/diagnostic", { textDocument: { uri } });
		expect(JSON.stringify(result)).toContain("As the plan is now, the tracker is aligned by a fallback");
		expect(worker.told.filter(({ method }) => method === "window/logMessage")).toEqual([]);
	});

	test("a page, an export, an explanation, a comparison and a new plan come from the second, which is loaded once", async () => {
		const worker = new Worker(shipped);
		const uri = await worker.start(ADDRESS);
		const choices = (await worker.ask("lodebook/exports")).result as readonly { output: string; choice: string }[];
		expect(choices.length).toBeGreaterThan(5);
		const made = await Promise.all([
			worker.ask("lodebook/page", { uri }),
			worker.ask("lodebook/pageStyle"),
			worker.ask("lodebook/explanation", { code: "method/needs-key" }),
			worker.ask("lodebook/compare", { uri, text: sample.replace(/focal: .*/, "focal: 20 mm"), as: "HEAD" }),
		]);
		for (const { error, result } of made) {
			expect(error).toBeUndefined();
			expect(JSON.stringify(result).length).toBeGreaterThan(100);
		}
		for (const { output, choice } of choices) {
			const { error, result } = await worker.ask("lodebook/export", { uri, output, choice, pageScript: "" });
			expect(error, `${output} ${choice}`).toBeUndefined();
			expect(result, `${output} ${choice}: ${JSON.stringify(worker.told)}`).not.toBeNull();
			// Not every output can be made of every plan: it says why.
			const { text, problem } = result as { text?: string; problem?: string };
			expect((text ?? problem ?? "").length, `${output} ${choice}`).toBeGreaterThan(30);
		}
		expect(worker.loaded).toEqual([ADDRESS]);
	});

	test("what cannot be loaded is said, and tried again", async () => {
		let online = false;
		const worker = new Worker(() => {
			return online ? shipped() : 'throw new Error("NetworkError: the script could not be loaded")';
		});
		const uri = await worker.start(ADDRESS);
		const { error } = await worker.ask("lodebook/page", { uri });
		expect(error?.code).toBe(-32803);
		expect(error?.message).toBe(
			"A part of Lodebook could not be loaded: NetworkError: the script could not be loaded. Try again; if that does not help, reload the editor.",
		);
		// What needs no more than the first part goes on.
		expect((await worker.ask("textDocument/diagnostic", { textDocument: { uri } })).error).toBeUndefined();
		online = true;
		expect((await worker.ask("lodebook/page", { uri })).result).toMatchObject({ instead: "" });
		expect(worker.loaded).toHaveLength(2);
	});

	test.each([undefined, 7, "https://elsewhere.example/other.js"])("no script is loaded from %s", async (address) => {
		const worker = new Worker(shipped);
		const uri = await worker.start(address);
		expect((await worker.ask("lodebook/page", { uri })).error?.message).toMatch(
			/^A part of Lodebook could not be loaded: /,
		);
		expect(worker.loaded).toEqual([]);
	});

	test("a second part of another build is said", async () => {
		const worker = new Worker(() => "lodebookParts.hold({})");
		const uri = await worker.start(ADDRESS);
		expect((await worker.ask("lodebook/page", { uri })).error?.message).toContain("of another build");
	});
});

describe("the address of the second part", () => {
	test.each([
		"https://x.vscode-cdn.example/ext/dist/server.later.js",
		"http://localhost:3000/ext/lodebook/dist/server.later.js",
		"vscode-resource://host/dist/server.later.js",
	])("%s is one", (address) => expect(secondPartUrl(address)).toBe(address));

	test.each([
		"https://x.example/dist/server.later.js?then=/dist/server.later.js",
		"https://x.example/evil.js?/dist/server.later.js",
		"https://x.example/evil.js#/dist/server.later.js",
		"data:text/javascript,evil()//dist/server.later.js",
		"javascript:evil()//dist/server.later.js",
		"blob:https://x.example/dist/server.later.js",
		"https://x.example/dist/../dist/server.later.js/more",
		"dist/server.later.js",
		"https://x.example/dist\\server.later.js",
	])("%s is none", (address) =>
		expect(() => secondPartUrl(address)).toThrow(/dist\/server\.later\.js of the extension, not/),
	);
});

describe("parts", () => {
	test("a module is made once, by what it needs, and again after it failed", async () => {
		const order: string[] = [];
		let fails = true;
		const parts = new Parts(() => {
			order.push("second");
			parts.hold({
				"./b.js": (made, require) => {
					order.push("b");
					if (fails) throw new Error("not now");
					made.exports = { sum: (require("./a.js") as { one: number }).one + 1 };
				},
			});
		});
		parts.hold({
			"./a.js": (made) => {
				made.exports = { one: 1 };
			},
		});
		await expect(parts.load("./b.js")).rejects.toThrow("not now");
		fails = false;
		expect(await parts.load("./b.js")).toEqual({ sum: 2 });
		expect(await parts.load("./b.js")).toBe(await parts.load("./b.js"));
		expect(order).toEqual(["second", "b", "b"]);
		await expect(parts.load("./c.js")).rejects.toThrow("lacks ./c.js");
	});
});
