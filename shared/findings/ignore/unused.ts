import { IGNORE, type Ignore, ignoresOf, lineAt } from "../../plan/ignores.ts";
import { inText } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { type Edit, fix, nothing, rule } from "../finding.ts";

const words = sentences("ignore/unused", {
	title: "Comment that ignores nothing",
	about: `A comment \`# lodebook-ignore CODE: reason\` hides one finding on its own line, or on the next one if the
		comment has a line to itself. That line no longer has this finding. If the comment stays, it could hide a new
		one that nobody has looked at. Delete the comment, or move it to the line with the finding. Findings that keep a
		cell from being read, or that warn of danger, cannot be ignored.`,
	message: `There is no finding \`{code}\` on this line. Delete the comment, or move it to the line that has this
		finding.`,
	cannot: `\`{code}\` cannot be ignored: it is about safety, or keeps the plan from being read. Correct the problem and
		delete this comment.`,
	delete: "Delete this comment",
});

const CLIFF =
	"name: Cliff foot\nlatitude: 32.4123 S\nlongitude: 54.3622 W\nskyline: [[0, 4], [160, 49], [215, 52], [300, 6]]";

export default rule({
	code: "ignore/unused",
	severity: "warning",
	words,
	wrong: { method: `kind: phone # ${IGNORE} method/pole-hidden: it shows through the gap from the step` },
	instead: { method: "kind: phone" },
	right: {
		site: CLIFF,
		method: `kind: pole-sighting # ${IGNORE} method/pole-hidden: it shows through the gap from the step`,
	},
	find: nothing,
	*after({ plan }, { codes, fixed, used }) {
		for (const ignore of ignoresOf(plan)) {
			const { cell, code, span } = ignore;
			if (used.has(ignore) || !codes.includes(code)) continue;
			yield {
				cell,
				span,
				message: fixed.includes(code) ? words.cannot({ code }) : words.message({ code }),
				fixes: fix(words.delete(), true, withoutComment(ignore)),
			};
		}
	},
});

/** The comment with the white space before it, and its line where it has one to itself. */
function withoutComment({ cell, span }: Ignore): Edit {
	const { text } = cell;
	const line = lineAt(text, span.from);
	const before = text.slice(line.from, span.from);
	if (before.trim() === "" && line.to < text.length)
		return { ...inText(cell, { from: line.from, to: line.to + 1 }), text: "" };
	return { ...inText(cell, { from: line.from + before.trimEnd().length, to: span.to }), text: "" };
}
