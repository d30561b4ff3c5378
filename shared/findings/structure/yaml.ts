import { rule } from "../finding.ts";
import { problemsOf } from "./problems.ts";

export default rule({
	code: "structure/yaml",
	severity: "error",
	title: "Not readable as YAML",
	about: `The text cannot be read as YAML here: a bracket or quote is open, the indentation fits nothing above, a tab indents. The other cells are read all the same. Indent with spaces, and quote values that hold \`: \` or begin with a mark such as \`[\`, \`{\`, \`&\` or \`*\`.`,
	wrong: { night: 'date: "2027-06-05' },
	right: {},
	*find(evaluation) {
		for (const { cell, problem } of problemsOf(evaluation, "yaml"))
			yield { cell, span: problem, message: `This cannot be read: ${problem.message}.` };
	},
});
