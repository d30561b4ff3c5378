import { IGNORE, ignoresOf } from "../../plan/ignores.ts";
import { inText } from "../../plan/plan.ts";
import { nearestWord } from "../../text/nearest.ts";
import { sentences } from "../../text/sentence.ts";
import { fix, nothing, rule } from "../finding.ts";

const words = sentences("ignore/unknown-code", {
	title: "Ignored finding not recognised",
	about: `A comment \`# lodebook-ignore CODE: reason\` hides the finding with that code on its own line, or on the
		next one if the comment has a line to itself. The code is in brackets after each finding, such as
		\`target/tracked-too-long\`. The code in this comment does not exist, so nothing is hidden. Correct the code or
		delete the comment.`,
	message: "There is no finding `{code}`.{meant} Copy the code from the finding, or delete the comment.",
	none: "This comment names no finding. Write `# lodebook-ignore CODE: reason`, with the code of the finding.",
	meant: " Did you mean `{nearest}`?",
	change: "Change to {nearest}",
});

const CLIFF =
	"name: Cliff foot\nlatitude: 32.4123 S\nlongitude: 54.3622 W\nskyline: [[0, 4], [160, 49], [215, 52], [300, 6]]";

export default rule({
	code: "ignore/unknown-code",
	severity: "warning",
	words,
	wrong: {
		site: CLIFF,
		method: `kind: pole-sighting # ${IGNORE} method/pole-hiden: it shows through the gap from the step`,
	},
	instead: {
		site: CLIFF,
		method: `kind: pole-sighting # ${IGNORE} method/pole-hidden: it shows through the gap from the step`,
	},
	right: { note: `"A text may hold # ${IGNORE} nothing/at-all: only text."` },
	find: nothing,
	*after({ plan }, { codes }) {
		for (const { cell, code, codeSpan: span } of ignoresOf(plan)) {
			if (code === "") yield { cell, span, message: words.none() };
			if (code === "" || codes.includes(code)) continue;
			const nearest = nearestWord(code, codes);
			yield {
				cell,
				span,
				message: words.message({ code: code.slice(0, 80), meant: nearest ? [words.meant({ nearest })] : "" }),
				fixes: nearest ? fix(words.change({ nearest }), true, { ...inText(cell, span), text: nearest }) : [],
			};
		}
	},
});
