/** A note, which is written in Markdown, as text on the page: paragraphs, headings, lists, emphasis and code. Nothing else is markup. */
import type { JSX } from "preact";
import { untabbed } from "./untabbed.ts";

interface Block {
	readonly kind: "p" | "h" | "ul" | "ol";
	readonly lines: readonly string[];
}

const HEADING = /^ {0,3}#{1,6} +/;
const BULLET = /^ {0,6}[-*+] +/;
const NUMBERED = /^ {0,6}\d{1,9}[.)] +/;

const kindOf = (line: string): Block["kind"] =>
	HEADING.test(line) ? "h" : BULLET.test(line) ? "ul" : NUMBERED.test(line) ? "ol" : "p";

/** Lines that belong together; an empty one ends what is before it, and a heading is one by itself. */
function blocksOf(note: string): readonly Block[] {
	const blocks: { kind: Block["kind"]; lines: string[] }[] = [];
	let open = false;
	for (const line of note.trimEnd().split(/\r\n|[\n\r]/)) {
		if (line.trim() === "") {
			open = false;
			continue;
		}
		const kind = kindOf(line);
		const last = blocks.at(-1);
		// A line without a mark goes on with the entry before it.
		if (open && last && last.kind !== "h" && kind === "p" && last.kind !== "p")
			last.lines.push(`${last.lines.pop()} ${line.trim()}`);
		else if (open && last && last.kind === kind && kind !== "h") last.lines.push(line);
		else blocks.push({ kind, lines: [line] });
		open = true;
	}
	return blocks;
}

/** Marks of emphasis, each with what it makes; the longest first. */
const MARKS = [
	["**", "strong"],
	["__", "strong"],
	["`", "code"],
	["*", "em"],
] as const;

/** A line's emphasis; a mark that nothing closes is itself. */
function inline(text: string): readonly (string | JSX.Element)[] {
	const out: (string | JSX.Element)[] = [];
	let plain = "";
	for (let at = 0; at < text.length; ) {
		const mark = MARKS.find(([sign]) => text.startsWith(sign, at));
		const end = mark ? text.indexOf(mark[0], at + mark[0].length + 1) : -1;
		// A star between blanks is one, such as in 3 * 60 s.
		const opens = mark !== undefined && end > 0 && /\S/.test(text[at + mark[0].length] ?? " ");
		if (!mark || !opens) {
			plain += text[at];
			at++;
			continue;
		}
		if (plain !== "") out.push(plain);
		plain = "";
		const [sign, Tag] = mark;
		const inside = text.slice(at + sign.length, end);
		out.push(<Tag key={at}>{Tag === "code" ? inside : inline(inside)}</Tag>);
		at = end + sign.length;
	}
	return plain === "" ? out : [...out, plain];
}

export const Note = ({ note }: { readonly note: string }) => (
	<div class="note">
		{blocksOf(note).map(({ kind, lines }, i) => {
			if (kind === "h")
				return (
					<p key={i}>
						<strong>{inline((lines[0] ?? "").replace(HEADING, "").trim())}</strong>
					</p>
				);
			if (kind === "p")
				return (
					<p key={i}>
						{lines.flatMap((line, j) =>
							j === 0 ? inline(untabbed(line)) : [<br key={j} />, ...inline(untabbed(line))],
						)}
					</p>
				);
			const items = lines.map((line, j) => (
				<li key={j}>{inline(line.replace(kind === "ul" ? BULLET : NUMBERED, "").trim())}</li>
			));
			return kind === "ul" ? <ul key={i}>{items}</ul> : <ol key={i}>{items}</ol>;
		})}
	</div>
);
