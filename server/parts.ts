/**
 * The server's script comes in two parts: the first has what is needed while one types, the second what is reached by
 * `import("…")` alone and is loaded when it is first asked for. The build (esbuild.config.mjs, `inParts`) makes functions
 * of the second part's modules and writes `lodebookParts.load("…")` for each such import in the first. A build for
 * debugging is in one part, where such a module lies in the same file and runs when it is first asked for: nothing of
 * this is asked then.
 */

/** A module of either part as a function, as CommonJS has it. */
export type PartModule = (module: { exports: unknown }, require: (name: string) => unknown) => void;

export class Parts {
	readonly #loadSecond: () => void;
	readonly #modules = new Map<string, PartModule>();
	readonly #made = new Map<string, { exports: unknown }>();

	/** `loadSecond` runs the second part, which hands over its modules before it returns; or throws, and is asked again next time. */
	constructor(loadSecond: () => void) {
		this.#loadSecond = loadSecond;
	}

	/** Called by each part for what it has. */
	hold(modules: Readonly<Record<string, PartModule>>): void {
		for (const [name, module] of Object.entries(modules)) this.#modules.set(name, module);
	}

	/** What `import(name)` gives. */
	async load(name: string): Promise<unknown> {
		if (!this.#modules.has(name)) this.#loadSecond();
		return this.#require(name);
	}

	readonly #require = (name: string): unknown => {
		const known = this.#made.get(name);
		if (known) return known.exports;
		const make = this.#modules.get(name);
		if (!make) throw new Error(`the second part is of another build: it lacks ${name}`);
		const module = { exports: {} as unknown };
		this.#made.set(name, module);
		try {
			make(module, this.#require);
		} catch (error) {
			this.#made.delete(name);
			throw error;
		}
		return module.exports;
	};
}

/** Puts it where both parts find it: the name is known to the build. */
export const shareParts = (parts: Parts): void => {
	Object.assign(globalThis, { lodebookParts: parts });
};
