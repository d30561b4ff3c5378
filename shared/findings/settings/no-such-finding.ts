import { cellsOf } from "../../plan/plan.ts";
import { nearestWord } from "../../text/nearest.ts";
import { sentences } from "../../text/sentence.ts";
import { at, fix, nothing, replaceValue, rule } from "../finding.ts";

const words = sentences("settings/no-such-finding", {
	title: "Settings for a finding that does not exist",
	about: `Under \`findings\`, the settings change the severity of a finding by its code. The code is in brackets after
		each finding, such as \`target/tracked-too-long\`; \`lodebook explain\` lists them all. The code written here
		does not exist, so the entry changes nothing. Correct the code or delete the entry.`,
	message: "There is no finding `{code}`.{meant} Copy the code from a finding, or delete the entry.",
	meant: " Did you mean `{nearest}`?",
	change: "Change to {nearest}",
});

export default rule({
	code: "settings/no-such-finding",
	severity: "error",
	words,
	wrong: { settings: "findings: [{ code: method/better-availble, severity: off }]" },
	right: { settings: "findings: [{ code: method/better-available, severity: off }]" },
	find: nothing,
	*after({ plan }, { codes }) {
		for (const cell of cellsOf(plan, "settings")) {
			for (const [i, { code }] of (cell.read.content?.findings ?? []).entries()) {
				if (code === undefined || codes.includes(code)) continue;
				const nearest = nearestWord(code, codes);
				yield {
					...at(cell, `findings.${i}.code`),
					message: words.message({ code: code.slice(0, 80), meant: nearest ? [words.meant({ nearest })] : "" }),
					fixes: nearest ? fix(words.change({ nearest }), true, replaceValue(cell, `findings.${i}.code`, nearest)) : [],
				};
			}
		}
	},
});
