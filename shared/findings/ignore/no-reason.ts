import { IGNORE, ignoresOf } from "../../plan/ignores.ts";
import { sentences } from "../../text/sentence.ts";
import { nothing, rule } from "../finding.ts";

const words = sentences("ignore/no-reason", {
	title: "Finding ignored without a reason",
	about: `A comment \`# lodebook-ignore CODE: reason\` hides a finding from everyone who reads the plan, including those who take it into the field. Give the reason after a colon, in a few words, so that a reviewer, or you next year, can see why it was right to hide it.`,
	message: "This comment does not say why `{code}` is ignored. Write the reason after a colon.",
});

const CLIFF =
	"name: Cliff foot\nlatitude: 32.4123 S\nlongitude: 54.3622 W\nskyline: [[0, 4], [160, 49], [215, 52], [300, 6]]";

export default rule({
	code: "ignore/no-reason",
	severity: "warning",
	words,
	wrong: { site: CLIFF, method: `kind: pole-sighting # ${IGNORE} method/pole-hidden` },
	instead: {
		method: `kind: pole-sighting # ${IGNORE} method/pole-hidden: it shows through the gap from the step`,
	},
	right: { site: CLIFF, method: `kind: pole-sighting # ${IGNORE} method/pole-hidden: seen` },
	find: nothing,
	*after({ plan }, { codes }) {
		for (const { cell, code, reason, span } of ignoresOf(plan))
			if (reason === "" && codes.includes(code)) yield { cell, span, message: words.message({ code }) };
	},
});
