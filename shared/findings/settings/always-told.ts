import { cellsOf } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { at, nothing, rule } from "../finding.ts";

const words = sentences("settings/always-told", {
	title: "Settings for a finding that is always shown",
	about: `Settings can change the severity of a finding or turn it off. Findings that keep a plan from being read, and
		those about danger (a laser, the Sun, the tide), are always shown as they are: whoever goes out with the plan
		has to see them. Delete the entry, and correct the problem in the plan.`,
	message: "`{code}` is always shown: it is about safety, or keeps a plan from being read. Delete this entry.",
});

export default rule({
	code: "settings/always-told",
	severity: "warning",
	words,
	wrong: { settings: "findings: [{ code: method/local-rules, severity: off }]" },
	right: { settings: "findings: [{ code: method/better-available, severity: off }]" },
	find: nothing,
	*after({ plan }, { fixed }) {
		for (const cell of cellsOf(plan, "settings"))
			for (const [i, { code }] of (cell.read.content?.findings ?? []).entries())
				if (code !== undefined && fixed.includes(code))
					yield { ...at(cell, `findings.${i}.code`), message: words.message({ code }) };
	},
});
