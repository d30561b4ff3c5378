import { SETTINGS_FILE } from "../../cells/settings/keys.ts";
import { cellsOf } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { atCell, rule } from "../finding.ts";

const words = sentences("settings/elsewhere", {
	title: "Settings in a file where they have no effect",
	about: `Settings apply to all plans of a folder and are read from one file only: \`lodebook.lode.yaml\` at the root
		of the workspace or repository. In any other file they have no effect. Move the cell to that file.`,
	message: `Settings are read only from \`{file}\` at the root of the workspace or repository. Move this cell there.`,
});

export default rule({
	code: "settings/elsewhere",
	severity: "warning",
	words,
	wrong: { settings: "fail-on: warning" },
	right: { settings: null },
	*find({ plan }) {
		if (plan.path === SETTINGS_FILE) return;
		for (const cell of cellsOf(plan, "settings"))
			yield { ...atCell(cell), message: words.message({ file: SETTINGS_FILE }) };
	},
});
