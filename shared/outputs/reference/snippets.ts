/** The editor's snippets of methods, made from the methods; what else the file holds stays. */
import { ALL_METHODS } from "../../methods/methods.ts";

interface Snippet {
	readonly prefix: string;
	readonly description: string;
	readonly body: readonly string[];
}

/** The snippet file with the methods' own first, as it is written. */
export function methodSnippets(present: Readonly<Record<string, Snippet>>): string {
	const kinds: readonly string[] = ALL_METHODS.map(({ kind }) => kind);
	const others = Object.entries(present).filter(([, { prefix }]) => !kinds.includes(prefix));
	const own = ALL_METHODS.flatMap(({ kind, snippet }): [string, Snippet][] =>
		snippet
			? [
					[
						snippet.title,
						{
							prefix: kind,
							description: snippet.description,
							body: ["method:", `  kind: ${kind}`, ...snippet.lines.map((line) => `  ${line}`)],
						},
					],
				]
			: [],
	);
	return `${JSON.stringify(Object.fromEntries([...own, ...others]), null, "\t")}\n`;
}
