import { sentences } from "../../text/sentence.ts";
import { atStart, rule } from "../finding.ts";

const words = sentences("structure/not-text", {
	title: "Not UTF-8 text",
	about: `A plan is a text file in UTF-8. This file contains bytes that are not valid UTF-8: it was saved in another
		encoding, such as UTF-16 or Latin-1, or it is not a text file at all. Reopen it in the encoding it was written
		in and save it as UTF-8.`,
	binary: `This file is not UTF-8 text: it contains NUL bytes, like a picture or UTF-16 text. Nothing was read. Save it as
		UTF-8.`,
	byte: `This character is not valid UTF-8, so the file was probably saved in another encoding. Reopen it in that
		encoding and save it as UTF-8.`,
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
