import { methodOf } from "../../methods/methods.ts";
import { cellsOf, isLibrary } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { at, fix, rule, setKey } from "../finding.ts";

const words = sentences("method/local-rules", {
	title: "Laser use not yet checked",
	about: `Never point a laser at or near aircraft, vehicles, people or animals. Pointing one at an aircraft is a crime
		in many countries (United States: 18 U.S.C. 39A; United Kingdom: Laser Misuse (Vehicles) Act 2018). Limits on
		class and power differ: class 2 is at most 1 mW and class 3R at most 5 mW (IEC 60825-1), and labels can be
		wrong. Switzerland forbids possession of most laser pointers (O-NIRSA, art. 23). Parks and reserves have rules
		of their own, and a visible beam spoils the frames and the night vision of others. Ask first, then write
		\`local-rules-checked: true\` in the plan of that place: it does not carry over when a method is taken from
		another file with \`from\`. For a group, write it in one of the group's entries. The law and the authorities of
		the place take precedence over this page.`,
	isAllowed: `This method uses a laser. Check whether one is allowed at the site, of which class and power, and who may be nearby;
		never point it at or near aircraft, vehicles, people or animals. Then write \`local-rules-checked: true\`, or use
		a sight instead (\`pointer: sight\`).`,
	takeSight: "Use a sight instead: pointer: sight (no laser, aimed to ± 0.5°)",
	write: "Write local-rules-checked: true (once you have checked)",
});

export default rule({
	code: "method/local-rules",
	severity: "warning",
	safety: true,
	words,
	wrong: { method: 'kind: square-laser\nguide-star: eta Virginis\nat: "20:01"' },
	right: [
		{ method: 'kind: square-laser\nguide-star: eta Virginis\nat: "20:01"\nlocal-rules-checked: true' },
		{ method: 'kind: square-laser\nguide-star: eta Virginis\nat: "20:01"\npointer: sight' },
	],
	*find({ plan }) {
		// It is asked for a place, by who takes the method there.
		if (isLibrary(plan)) return;
		for (const cell of cellsOf(plan, "method")) {
			const method = cell.read.content;
			if (!method?.kind || method["local-rules-checked"] === true) continue;
			if (!methodOf(method.kind).hazards(method).includes("laser")) continue;
			yield {
				...at(cell, cell.read.places.has("local-rules-checked") ? "local-rules-checked" : "kind"),
				message: words.isAllowed(),
				fixes: [
					...fix(words.write(), false, setKey(cell, "", "local-rules-checked", true)),
					...(Object.hasOwn(methodOf(method.kind).keys, "pointer")
						? fix(words.takeSight(), false, setKey(cell, "", "pointer", "sight"))
						: []),
				],
			};
		}
	},
});
