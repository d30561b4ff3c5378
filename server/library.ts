/**
 * Other plans of the workspace, for cells that take from them: open documents as they are in the editor, others as
 * they were read. What is not read yet is fetched, and the plans that wait for it are told.
 */
import { readPlan } from "../shared/plan/plan.ts";
import type { Library, OtherPlan } from "../shared/plan/reuse.ts";
import type { FileAnswer } from "../shared/protocol/files.ts";
import { PLAN_ENDING } from "../shared/protocol/language.ts";
import type { PlanText } from "./plan-text.ts";

/** The text of a file below a root. Both are URIs; what a link leads out of the root to is not read. */
export type ReadFile = (uri: string, root: string) => Promise<FileAnswer>;

const KEPT = 500;

export class WorkspaceLibrary {
	/** Folders of the workspace, URIs without a slash at their ends. */
	roots: readonly string[] = [];
	/** Counts what has changed here, so that plans are joined anew. */
	generation = 0;
	readonly #plans = new Map<string, OtherPlan>();
	readonly #opened = new Map<string, { readonly version: number; readonly plan: OtherPlan }>();
	readonly #reading = new Set<Promise<void>>();
	/** The read whose answer counts, by URI: one that was begun before the file changed says nothing. */
	readonly #current = new Map<string, Promise<void>>();
	readonly #readFile: ReadFile;
	readonly #document: (uri: string) => PlanText | undefined;
	readonly #changed: () => void;

	constructor(readFile: ReadFile, document: (uri: string) => PlanText | undefined, changed: () => void) {
		this.#readFile = readFile;
		this.#document = document;
		this.#changed = changed;
	}

	/** The library as a document sees it, and the document's own path in it. */
	seenFrom(of: string): { readonly path: string; readonly library: Library } {
		const uri = this.#placed(of);
		const root = this.#rootOf(uri);
		const path = uri
			.slice(root.length + 1)
			.split("/")
			.map(decode)
			.join("/");
		return {
			path,
			library: (other) => this.#plan(`${root}/${other.split("/").map(encodeURIComponent).join("/")}`, root),
		};
	}

	/** The URI of a path, as `seenFrom` gives it. */
	uriOf(uri: string, path: string): string {
		return `${this.#rootOf(this.#placed(uri))}/${path.split("/").map(encodeURIComponent).join("/")}`;
	}

	/** A file has changed on disk, or a document was opened, edited or closed. */
	forget(uri: string): void {
		this.#plans.delete(uri);
		this.#current.delete(uri);
		this.#opened.delete(uri);
		this.generation++;
	}

	/** What is being read has come; true when anything was. */
	async read(): Promise<boolean> {
		if (this.#reading.size === 0) return false;
		await Promise.all(this.#reading);
		return true;
	}

	/** The URI that a plan without a file will have, where it is known in which folder of the workspace: it takes from there. */
	#placed(uri: string): string {
		const path = /^untitled:(?:\/\/[^/]*)?(\/.*)/.exec(uri)?.[1];
		if (path === undefined) return uri;
		const folder = (root: string): string => root.replace(/^[^:/]+:(?:\/\/[^/]*)?/, "");
		const root = this.roots.filter((one) => path.startsWith(`${folder(one)}/`)).sort((a, b) => b.length - a.length)[0];
		return root === undefined ? uri : `${root}${path.slice(folder(root).length)}`;
	}

	#rootOf(uri: string): string {
		const inside = this.roots.filter((root) => uri.startsWith(`${root}/`)).sort((a, b) => b.length - a.length);
		return inside[0] ?? uri.slice(0, Math.max(0, uri.lastIndexOf("/")));
	}

	#plan(uri: string, root: string): OtherPlan {
		if (!uri.endsWith(PLAN_ENDING)) return { missing: "not-found" };
		const document = this.#document(uri);
		if (document) {
			const known = this.#opened.get(uri);
			if (known?.version === document.version) return known.plan;
			const plan = { plan: readPlan(document.getText()) };
			this.#opened.set(uri, { version: document.version, plan });
			return plan;
		}
		this.#opened.delete(uri);
		if (this.#plans.has(uri)) return this.#plans.get(uri);
		if (this.#plans.size >= KEPT) this.#plans.clear();
		this.#plans.set(uri, undefined);
		const reading: Promise<void> = this.#readFile(uri, root)
			.catch((): FileAnswer => ({ missing: "not-found" }))
			.then((answer) => {
				this.#reading.delete(reading);
				if (this.#current.get(uri) !== reading) return;
				this.#current.delete(uri);
				this.#plans.set(uri, "text" in answer ? { plan: readPlan(answer.text) } : answer);
				this.generation++;
				this.#changed();
			});
		this.#reading.add(reading);
		this.#current.set(uri, reading);
		return undefined;
	}
}

function decode(part: string): string {
	try {
		return decodeURIComponent(part);
	} catch {
		return part;
	}
}
