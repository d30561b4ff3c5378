/**
 * The plans of the workspace and which takes from which, however few of them are open. It is made when it is first asked
 * for, from a bounded number of files below the roots, and follows the disk by what the client tells; what is open is
 * taken as it is in the editor.
 */
import type { Range } from "vscode-languageserver";
import { TextDocument } from "vscode-languageserver-textdocument";
import type { CellKindName } from "../shared/cells/kinds.ts";
import { inText, type Plan, placeIn, readPlan } from "../shared/plan/plan.ts";
import { DEEPEST, meantAmong, resolvePath } from "../shared/plan/reuse.ts";
import type { FileAnswer } from "../shared/protocol/files.ts";
import { LANGUAGE, PLAN_ENDING } from "../shared/protocol/language.ts";
import type { ReadFile, WorkspaceLibrary } from "./library.ts";
import { locationOf, type PlanText, planUri } from "./plan-text.ts";

/** The URIs of the plans below a root, at most so many. */
export type ListFiles = (root: string, most: number) => Promise<readonly string[]>;

/** More plans than these are not looked at. */
const MOST_FILES = 1000;
/** So many files are read at a time. */
const AT_ONCE = 8;

/** A cell, as far as others may mean it. */
export interface IndexedCell {
	readonly kind: CellKindName;
	/** Its place among the cells of its plan. */
	readonly index: number;
	/** What may single it out from others of its kind. */
	readonly content: { readonly name?: string; readonly kind?: string };
	/** The file that it takes from, and where that is written. */
	readonly takes: { readonly uri: string; readonly at: { readonly uri: string; readonly range: Range } } | undefined;
}

/** A cell that takes from another one. */
export interface User {
	/** The plan's file. */
	readonly uri: string;
	readonly cell: IndexedCell;
}

export class PlanIndex {
	readonly #library: WorkspaceLibrary;
	readonly #readFile: ReadFile;
	readonly #listFiles: ListFiles;
	readonly #texts: () => readonly PlanText[];
	readonly #changed: () => void;
	/** Of files as they are on the disk. */
	readonly #files = new Map<string, readonly IndexedCell[]>();
	readonly #open = new Map<string, { readonly text: string; readonly cells: readonly IndexedCell[] }>();
	#building: Promise<void> | undefined;

	constructor(
		library: WorkspaceLibrary,
		{ readFile, listFiles }: { readonly readFile: ReadFile; readonly listFiles: ListFiles },
		texts: () => readonly PlanText[],
		changed: () => void,
	) {
		this.#library = library;
		this.#readFile = readFile;
		this.#listFiles = listFiles;
		this.#texts = texts;
		this.#changed = changed;
	}

	/** All plans have been looked at. */
	ready(): Promise<void> {
		this.#building ??= this.#build();
		return this.#building;
	}

	/** Begins to look; whoever asks for what is known so far is told when there is more. */
	begin(): void {
		if (!this.#building) void this.ready().then(() => this.#files.size > 0 && this.#changed());
	}

	/** A file has changed on the disk, has come or is gone. */
	async fileChanged(uri: string): Promise<void> {
		if (!this.#building || !uri.endsWith(PLAN_ENDING)) return;
		await this.#building;
		const root = this.#library.roots.find((one) => uri.startsWith(`${one}/`));
		if (root !== undefined && (this.#files.has(this.keyOf(uri)) || this.#files.size < MOST_FILES))
			await this.#read(uri, root);
		this.#changed();
	}

	/** The files that are known, with their cells. */
	all(): ReadonlyMap<string, readonly IndexedCell[]> {
		const all = new Map(this.#files);
		for (const text of this.#texts()) {
			const uri = planUri(text);
			if (!this.#isInside(uri)) continue;
			let known = this.#open.get(uri);
			// Versions begin anew with each opening.
			if (known?.text !== text.getText()) {
				known = { text: text.getText(), cells: this.#cellsOf(text, readPlan(text.getText())) };
				this.#open.set(uri, known);
			}
			all.set(this.keyOf(uri), known.cells);
		}
		for (const uri of this.#open.keys())
			if (!this.#texts().some((text) => planUri(text) === uri)) this.#open.delete(uri);
		return all;
	}

	/** A file as it is named here, however the client writes its URI. */
	keyOf = (uri: string): string => this.#library.uriOf(uri, this.#library.seenFrom(uri).path);

	/** Its path from the root on. */
	pathOf = (uri: string): string => this.#library.seenFrom(uri).path;

	/** The cells of a file; undefined for one that is not known. */
	cellsOf = (uri: string): readonly IndexedCell[] | undefined => this.all().get(uri);

	/** The cell that one takes from. */
	takenBy({ kind, content, takes }: IndexedCell): IndexedCell | undefined {
		const cells = takes && this.cellsOf(takes.uri);
		return (
			cells &&
			meantAmong(
				{ kind, content },
				cells.filter((one) => one.kind === kind),
			)
		);
	}

	/** The text of a file: as it is open, else from the disk. */
	async text(uri: string): Promise<PlanText | undefined> {
		const open = this.#texts().find((text) => this.keyOf(planUri(text)) === uri);
		const root = this.#library.roots.find((one) => uri.startsWith(`${one}/`));
		if (open || root === undefined) return open;
		const answer = await this.#readFile(uri, root).catch((): FileAnswer => ({ missing: "not-found" }));
		return "text" in answer ? TextDocument.create(uri, LANGUAGE, 0, answer.text) : undefined;
	}

	/** The cells that take from a cell of a file, those that take from these, and so on. */
	usersOf = (uri: string, index: number): readonly User[] => this.users(uri)(index);

	/** The same for each cell of a file. */
	users(of: string): (index: number) => readonly User[] {
		const all = this.all();
		const uri = this.keyOf(of);
		const takers = new Map<string, User[]>();
		for (const [user, cells] of all)
			for (const cell of cells) {
				if (!cell.takes) continue;
				const others = takers.get(cell.takes.uri) ?? [];
				others.push({ uri: user, cell });
				takers.set(cell.takes.uri, others);
			}
		return (index) => this.#follow(all, takers, uri, index);
	}

	#follow(
		all: ReturnType<PlanIndex["all"]>,
		takers: ReadonlyMap<string, readonly User[]>,
		uri: string,
		index: number,
	): readonly User[] {
		const found = new Map<string, User>();
		const follow = (file: string, place: number, deep: number): void => {
			const cells = all.get(file) ?? [];
			for (const user of takers.get(file) ?? []) {
				const key = `${user.uri} ${user.cell.index}`;
				const target = meantAmong(
					user.cell,
					cells.filter(({ kind }) => kind === user.cell.kind),
				);
				if (target?.index !== place || found.has(key) || user.uri === uri) continue;
				found.set(key, user);
				if (deep < DEEPEST) follow(user.uri, user.cell.index, deep + 1);
			}
		};
		follow(uri, index, 1);
		return [...found.values()];
	}

	#isInside(uri: string): boolean {
		return this.#library.roots.some((root) => uri.startsWith(`${root}/`));
	}

	async #build(): Promise<void> {
		for (const root of this.#library.roots) {
			const left = MOST_FILES - this.#files.size;
			const uris = left > 0 ? await this.#listFiles(root, left).catch(() => []) : [];
			const waiting = uris.filter((uri) => uri.startsWith(`${root}/`) && uri.endsWith(PLAN_ENDING)).slice(0, left);
			const next = async (): Promise<void> => {
				for (let uri = waiting.shift(); uri !== undefined; uri = waiting.shift()) await this.#read(uri, root);
			};
			await Promise.all(Array.from({ length: AT_ONCE }, next));
		}
	}

	async #read(named: string, root: string): Promise<void> {
		const uri = this.keyOf(named);
		const answer = await this.#readFile(uri, root).catch((): FileAnswer => ({ missing: "not-found" }));
		if ("missing" in answer) {
			this.#files.delete(uri);
			return;
		}
		this.#files.set(uri, this.#cellsOf(TextDocument.create(uri, LANGUAGE, 0, answer.text), readPlan(answer.text)));
	}

	#cellsOf(text: PlanText, plan: Plan): readonly IndexedCell[] {
		const uri = planUri(text);
		const { path: base } = this.#library.seenFrom(uri);
		return plan.cells.flatMap((cell): IndexedCell[] => {
			const { kind, from, content } = cell.read;
			if (!kind) return [];
			const { name, kind: method } = (content ?? {}) as { readonly name?: string; readonly kind?: string };
			const path = from === undefined ? undefined : resolvePath(base, from);
			const span = inText(cell, placeIn(cell, "from").value);
			return [
				{
					kind,
					index: cell.index,
					content: { ...(name !== undefined && { name }), ...(method !== undefined && { kind: method }) },
					takes:
						path === undefined
							? undefined
							: { uri: this.#library.uriOf(uri, path), at: locationOf(text, span.from, span.to) },
				},
			];
		});
	}
}
