/**
 * What is being typed at an offset of a cell's slice: a key or a value, under which path, in block or flow style. Reads
 * the text before the cursor only, so that it works where the cell does not parse (a half-typed key, an open bracket).
 */
export interface CursorContext {
	/** Path of the mapping whose key, or of the key whose value, is typed. List items are numbers. */
	readonly path: readonly string[];
	readonly part: "key" | "value";
	/** What stands before the cursor of the word being typed, quotes included. */
	readonly prefix: string;
	/** Offset at which that word begins. */
	readonly from: number;
	/** Column of the keys of this mapping, in block style. */
	readonly indent: number;
	/** No blank stands between the word and the colon, dash or comma before it: without one it would be no word of its own. */
	readonly glued: boolean;
	readonly flow: boolean;
}

interface Open {
	readonly bracket: "{" | "[";
	readonly at: number;
}

export function cursorContext(slice: string, offset: number): CursorContext | undefined {
	const open = scan(slice, offset);
	if (open === "comment" || open === "block-scalar") return undefined;
	const lineStart = slice.lastIndexOf("\n", offset - 1) + 1;
	const [first] = open;
	if (first) {
		const base = blockPath(slice, slice.lastIndexOf("\n", first.at - 1) + 1, first.at);
		return base && flowContext(slice, offset, first.at, base);
	}
	return blockPath(slice, lineStart, offset);
}

/** Brackets still open at an offset; or that it stands in a comment or in a block scalar. */
function scan(slice: string, offset: number): readonly Open[] | "comment" | "block-scalar" {
	const stack: Open[] = [];
	let quote = "";
	let lineStart = 0;
	/** Indentation of the key whose block scalar is being passed over, or −1. */
	let scalarIndent = -1;
	for (let i = 0; i < offset; i++) {
		const char = slice[i] as string;
		if (i === lineStart && scalarIndent >= 0) {
			const end = slice.indexOf("\n", i);
			const line = slice.slice(i, end === -1 ? slice.length : end);
			const blank = line.trim() === "";
			const last = end === -1 || end >= offset;
			if (blank ? last : (/^ */.exec(line)?.[0] ?? "").length > scalarIndent) {
				if (last) return "block-scalar";
				i = end;
				lineStart = end + 1;
				continue;
			}
			if (!blank) scalarIndent = -1;
		}
		if (char === "\n") {
			const line = slice.slice(lineStart, i);
			if (stack.length === 0 && /:\s+[|>][+-]?\d?\s*(?:#[^\n]*)?$/.test(line))
				scalarIndent = (/^ */.exec(line)?.[0] ?? "").length;
			if (stack.length === 0) quote = "";
			lineStart = i + 1;
			continue;
		}
		if (quote !== "") {
			if (char === "\\" && quote === '"') i++;
			else if (char === quote) quote = "";
			continue;
		}
		const before = slice[i - 1];
		if ((char === '"' || char === "'") && (before === undefined || /[\s[{,:]/.test(before))) quote = char;
		else if (char === "#" && (before === undefined || /\s/.test(before))) {
			const end = slice.indexOf("\n", i);
			if (end === -1 || end >= offset) return "comment";
			i = end - 1;
		} else if (char === "{" || char === "[") {
			// A bracket inside a plain scalar opens nothing.
			if (stack.length > 0 || i === lineStart || /[\s:-]/.test(before ?? "")) stack.push({ bracket: char, at: i });
		} else if (char === "}" || char === "]") stack.pop();
	}
	return stack;
}

/** Context in block style: the keys above, by their indentation. */
function blockPath(slice: string, lineStart: number, offset: number): CursorContext | undefined {
	const line = slice.slice(lineStart, offset).replace(/\r$/, "");
	if (/^(?:--|\.\.\.)/.test(line)) return undefined;
	const own = splitLine(line);
	if (own.indents.length === 0) return undefined;
	const path: string[] = [];
	let limit = own.indents[0] as number;
	const above = slice.slice(0, lineStart).split("\n").slice(0, -1);
	// Items of this line's own dashes: their numbers count the dashes above at the same indentation.
	for (let i = own.dashes.length - 1; i >= 0; i--) path.unshift("");
	const counters = own.dashes.map(() => 0);
	let itemsAt = own.dashes[0];
	let counted = own.dashes.length > 0 ? 0 : -1;
	for (let i = above.length - 1; i >= 0; i--) {
		const text = above[i] as string;
		if (text.trim() === "" || text.trimStart().startsWith("#")) continue;
		if (/^(?:---|\.\.\.)/.test(text)) {
			break;
		}
		const parts = splitLine(text.replace(/\r$/, ""));
		const lead = parts.indents[0] as number;
		if (counted >= 0 && itemsAt !== undefined && lead === itemsAt && parts.dashes[0] === itemsAt) {
			counted++;
			continue;
		}
		// A key at or beside the limit is a sibling; one further left is a parent. `- ` items may stand at their key's column.
		for (let level = parts.levels.length - 1; level >= 0; level--) {
			const { indent, dash, key } = parts.levels[level] as Level;
			if (dash) {
				if (indent < limit) {
					if (counted >= 0) counters[0] = counted;
					path.unshift("");
					counters.unshift(0);
					counted = 0;
					itemsAt = indent;
					limit = indent;
				}
			} else if (key !== undefined && (indent < limit || (indent === limit && counted >= 0 && itemsAt === indent))) {
				if (counted >= 0) {
					counters[0] = counted;
					counted = -1;
				}
				path.unshift(`=${key}`);
				limit = indent;
			}
		}
		if (limit === 0 && path[0]?.startsWith("=")) break;
	}
	if (counted >= 0) counters[0] = counted;
	let item = 0;
	const named = path.map((part) => (part.startsWith("=") ? part.slice(1) : String(counters[item++] ?? 0)));
	const rest = own.rest;
	const typed = keyOf(rest);
	const restAt = lineStart + line.length - rest.length;
	const indent = own.indents[own.indents.length - 1] as number;
	if (typed) {
		const value = rest.slice(typed.length).trimStart();
		return {
			path: [...named, typed.key],
			part: "value",
			prefix: value,
			from: restAt + rest.length - value.length,
			indent,
			glued: rest.length === typed.length,
			flow: false,
		};
	}
	const glued = own.dashes.length > 0 && rest === "" && line.endsWith("-");
	// What is written behind the dash stands one column further right, behind a blank.
	return {
		path: named,
		part: "key",
		prefix: rest,
		from: restAt,
		indent: glued ? indent + 1 : indent,
		glued,
		flow: false,
	};
}

interface Level {
	readonly indent: number;
	readonly dash: boolean;
	readonly key?: string;
}

/** A line's dashes, the key after them, and their columns. */
function splitLine(line: string): {
	readonly levels: readonly Level[];
	readonly indents: readonly number[];
	readonly dashes: readonly number[];
	readonly rest: string;
} {
	const levels: Level[] = [];
	let at = (/^[ \t]*/.exec(line)?.[0] ?? "").length;
	while (levels.length < MOST_DASHES) {
		const dash = /^-(?:[ \t]+|$)/.exec(line.slice(at));
		if (!dash) break;
		levels.push({ indent: at, dash: true });
		at += dash[0].length;
	}
	const rest = line.slice(at);
	const key = /^[{}[\],]/.test(rest) ? undefined : keyOf(rest)?.key;
	levels.push(key === undefined ? { indent: at, dash: false } : { indent: at, dash: false, key });
	return {
		levels,
		indents: levels.map(({ indent }) => indent),
		dashes: levels.flatMap(({ dash, indent }) => (dash ? [indent] : [])),
		rest,
	};
}

/** More dashes on a line than any plan has. */
const MOST_DASHES = 40;

/** The key at the start of a line's text, and how long it is with its colon. */
function keyOf(text: string): { readonly key: string; readonly length: number } | undefined {
	const [typed] = /^(?:"[^"]*"|'[^']*')\s*(?=:)/.exec(text) ?? /^[^\s:#][^:#]*(?=:)/.exec(text) ?? [];
	if (typed === undefined) return undefined;
	const length = typed.length + 1;
	return length === text.length || /\s/.test(text[length] as string) ? { key: unquote(typed), length } : undefined;
}

/** Context inside a flow collection that begins at `start`, under the key that `base` tells. */
function flowContext(slice: string, offset: number, start: number, base: CursorContext): CursorContext | undefined {
	const stack: { bracket: "{" | "["; key: string | undefined; index: number }[] = [];
	let word = start;
	let quote = "";
	for (let i = start; i < offset; i++) {
		const char = slice[i] as string;
		if (quote !== "") {
			if (char === quote) quote = "";
			continue;
		}
		const top = stack[stack.length - 1];
		if (char === '"' || char === "'") quote = char;
		else if (char === "{" || char === "[") {
			stack.push({ bracket: char, key: undefined, index: 0 });
			word = i + 1;
		} else if (char === "}" || char === "]") {
			stack.pop();
			word = i + 1;
		} else if (char === "," && top) {
			top.index++;
			top.key = undefined;
			word = i + 1;
		} else if (
			char === ":" &&
			top?.bracket === "{" &&
			top.key === undefined &&
			(i + 1 === offset || /\s/.test(slice[i + 1] ?? ""))
		) {
			top.key = unquote(slice.slice(word, i).trim());
			word = i + 1;
		}
	}
	const top = stack[stack.length - 1];
	if (!top) return undefined;
	const text = slice.slice(word, offset);
	const lead = (/^\s*/.exec(text)?.[0] ?? "").length;
	const inner = stack.flatMap((open, i) =>
		open.bracket === "["
			? [String(open.index)]
			: open.key !== undefined && (i < stack.length - 1 || top.key !== undefined)
				? [open.key]
				: [],
	);
	const part = top.bracket === "{" && top.key === undefined ? "key" : "value";
	return {
		path: [...base.path, ...inner],
		part,
		prefix: text.slice(lead),
		from: word + lead,
		indent: base.indent,
		glued: lead === 0 && /[:,]/.test(slice[word - 1] ?? ""),
		flow: true,
	};
}

const unquote = (key: string): string => key.trim().replace(/^(["'])(.*)\1$/, "$2");
