/** Read-only pages of Markdown that a command has made: kept by their names until the editor is closed. */
import { type Disposable, EventEmitter, Uri, workspace } from "vscode";

export class MadePages implements Disposable {
	readonly #scheme: string;
	readonly #pages = new Map<string, string>();
	readonly #changed = new EventEmitter<Uri>();
	readonly #registered: Disposable;

	constructor(scheme: string) {
		this.#scheme = scheme;
		this.#registered = workspace.registerTextDocumentContentProvider(scheme, {
			onDidChange: this.#changed.event,
			provideTextDocumentContent: ({ path }) => this.#pages.get(path) ?? "",
		});
	}

	/** Puts a page in place of the one of that name; its address. */
	put(name: string, markdown: string): Uri {
		const page = Uri.from({ scheme: this.#scheme, path: `/${name}.md` });
		this.#pages.set(page.path, markdown);
		this.#changed.fire(page);
		return page;
	}

	dispose(): void {
		this.#registered.dispose();
		this.#changed.dispose();
	}
}
