import { type Cell, inText } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { type Edit, fix, rule } from "../finding.ts";
import { problemsOf } from "./problems.ts";

const words = sentences("structure/yaml", {
	title: "Not readable as YAML",
	about: `The text cannot be read as YAML here: a bracket or quote is open, the indentation fits nothing above, a tab
		indents. The other cells are read all the same. Indent with spaces, and quote values that hold \`: \` or begin with a
		mark such as \`[\`, \`{\`, \`&\` or \`*\`.`,
	message: "This cannot be read: {reason}.",
	spaces: "Indent with spaces",
});

/** Sentences for the parser's codes, and for two of the reader's own. The parser's other messages speak for themselves. */
const reasons = sentences("structure/yaml.reason", {
	TOO_DEEP: "nested too deep to be read",
	NO_YAML: "cannot be read as YAML",
	TAB_AS_INDENT: "a tab cannot indent YAML: use spaces",
	BAD_INDENT: "the indentation fits no line above",
	BLOCK_AS_IMPLICIT_KEY: "a second `:` on this line: quote the value, or start a new line",
	MULTILINE_IMPLICIT_KEY: "a key must end with `:` on its own line",
	MISSING_CHAR: "a closing quote or bracket, a comma or a `:` is missing",
	UNEXPECTED_TOKEN: "this is out of place here",
	BAD_ALIAS: "the alias names no anchor above",
	TAG_RESOLVE_FAILED: "the tag is unknown: plans need none",
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
