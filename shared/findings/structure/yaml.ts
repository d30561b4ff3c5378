import { type Cell, inText } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { type Edit, fix, rule } from "../finding.ts";
import { problemsOf } from "./problems.ts";

const words = sentences("structure/yaml", {
	title: "Invalid YAML",
	about: `This part of the file is not valid YAML. Common causes are an open bracket or quote, a line whose indentation
		matches nothing above it, or a tab used for indentation. The other cells are read as usual. Indent with spaces,
		and put quotes around values that contain \`: \` or begin with \`[\`, \`{\`, \`&\` or \`*\`.`,
	message: "YAML syntax error: {reason}.",
	spaces: "Indent with spaces",
});

/** Sentences for the parser's codes, and for two of the reader's own. The parser's other messages speak for themselves. */
const reasons = sentences("structure/yaml.reason", {
	TOO_DEEP: "it is nested too deeply",
	NO_YAML: "this is not YAML",
	TAB_AS_INDENT: "a tab cannot be used for indentation; use spaces",
	BAD_INDENT: "the indentation matches no line above",
	BLOCK_AS_IMPLICIT_KEY: "there is a second `:` on this line; put the value in quotes or start a new line",
	MULTILINE_IMPLICIT_KEY: "a key and the `:` after it must be on one line",
	MISSING_CHAR: "a closing quote or bracket, a comma or a `:` is missing",
	UNEXPECTED_TOKEN: "something here does not fit what comes before it",
	BAD_ALIAS: "the alias refers to an anchor that does not exist above",
	TAG_RESOLVE_FAILED: "the tag is unknown; plans need none",
});

export default rule({
	code: "structure/yaml",
	severity: "error",
	words,
	wrong: { night: 'date: "2027-06-05' },
	right: { night: 'date: "2027-06-05"' },
	*find(evaluation) {
		for (const { cell, problem } of problemsOf(evaluation, "yaml")) {
			const { code, detail } = problem;
			const reason = Object.hasOwn(reasons, code) ? [reasons[code as keyof typeof reasons]()] : detail;
			yield {
				cell,
				span: problem,
				message: words.message({ reason }),
				fixes: code === "TAB_AS_INDENT" ? fix(words.spaces(), false, ...spaces(cell)) : [],
			};
		}
	},
});

/** Two spaces for each tab that indents a line of the cell. */
const spaces = (cell: Cell): readonly Edit[] =>
	[...cell.text.matchAll(/^[ ]*\t[ \t]*/gm)].map(({ 0: white, index }) => ({
		...inText(cell, { from: index, to: index + white.length }),
		text: white.replaceAll("\t", "  "),
	}));
