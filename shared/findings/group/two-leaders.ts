import { cellsOf } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { at, fix, rule } from "../finding.ts";
import { removal } from "../remove-key.ts";
import { OF_KITS } from "./member.ts";

const words = sentences("group/two-leaders", {
	title: "Two leaders",
	about: `One person leads a group and holds its laser. If several have \`leads: true\` the first counts, and the
		others would arrive believing that they lead. Keep \`leads: true\` only for the person who really holds the
		laser.`,
	message: `{first} already leads and holds the laser. Delete \`leads\` here; or, if {name} is to lead, delete it
		there.`,
	remove: "Delete leads",
});

export default rule({
	code: "group/two-leaders",
	severity: "error",
	safety: true,
	words,
	wrong: {
		...OF_KITS,
		plan: "title: Two at the sheepfold\nkind: group",
		group:
			"- { name: Nia, from: ../kits/laser.lode.yaml, leads: true }\n- { name: Tom, from: ../kits/landmark.lode.yaml, leads: true }",
	},
	right: {
		...OF_KITS,
		plan: "title: Two at the sheepfold\nkind: group",
		group:
			"- { name: Nia, from: ../kits/laser.lode.yaml, leads: true }\n- { name: Tom, from: ../kits/landmark.lode.yaml }",
	},
	*find({ plan }) {
		const [cell] = cellsOf(plan, "group");
		const members = cell?.read.content ?? [];
		const first = members.findIndex(({ leads }) => leads);
		if (!cell || first < 0) return;
		for (const [place, { leads, name = "" }] of members.entries()) {
			if (!leads || place <= first) continue;
			const path = `${place}.leads`;
			yield {
				...at(cell, path, "key"),
				message: words.message({ first: members[first]?.name ?? "", name }),
				concerns: [first],
				fixes: fix(words.remove(), false, removal(cell, path)),
			};
		}
	},
});
