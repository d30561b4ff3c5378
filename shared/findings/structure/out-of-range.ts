import { rule } from "../finding.ts";
import { problemsOf } from "./problems.ts";

export default rule({
	code: "structure/out-of-range",
	severity: "error",
	title: "Out of range",
	about: "The value can be read, but lies outside what can be meant.",
	wrong: { site: "name: Sheepfold\nlatitude: 95.2 S\nlongitude: 20.8431 E" },
	right: {},
	*find(evaluation) {
		for (const { cell, problem } of problemsOf(evaluation, "out-of-range")) {
			const { text, why, limits } = problem;
			yield {
				cell,
				span: problem,
				message:
					why === "it"
						? `\`${text}\` is out of range: it must be ${limits}.`
						: `\`${text}\` is out of range: ${why} lies in ${limits}.`,
			};
		}
	},
});
