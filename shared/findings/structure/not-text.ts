import { sentences } from "../../text/sentence.ts";
import { atStart, rule } from "../finding.ts";

const words = sentences("structure/not-text", {
	title: "Not UTF-8 text",
	about: `A plan is text in UTF-8. This file holds bytes that are none: it is saved in another encoding (UTF-16, Latin-1),
		or is no text at all. Open it in the encoding it was written in and save it as UTF-8.`,
	binary: `This is no UTF-8 text: it holds NUL bytes, as pictures do and text in UTF-16. Nothing of it was read. Save it
		as UTF-8.`,
	byte: `Here stands a byte that is no UTF-8: the file was written in another encoding. Open it in that one and save it
		as UTF-8.`,
});

export default rule({
	code: "structure/not-text",
	severity: "error",
	words,
	wrong: { text: "plan:\n  title: Caf\uFFFD under the stars\n" },
	right: { plan: "title: Café under the stars" },
	*find({ plan }) {
		if (plan.cut === "binary") {
			yield { ...atStart(plan), message: words.binary() };
			return;
		}
		const at = plan.text.indexOf("\uFFFD");
		if (at >= 0) yield { cell: undefined, span: { from: at, to: at + 1 }, message: words.byte() };
	},
});
