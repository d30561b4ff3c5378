import { cellsOf, isGroup } from "../../plan/plan.ts";
import type { GroupMember } from "../../plan/reuse.ts";
import { type Phrase, sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { OF_KITS } from "./member.ts";

const words = sentences("group/no-such-kit", {
	title: "Plan of a kit cannot be read",
	about: `Each entry of \`group\` names the plan of a kit with \`from\`: lenses, tracker, methods and targets are
		taken from it, while site and night are the group's. The path must be relative and inside the workspace, the
		file must exist, and a group cannot be a kit of another. A \`group\` cell has an effect only in a plan of
		\`kind: group\`. Correct the path or the kind.`,
	notRelative: "Write a relative path inside the workspace, such as `kits/one.lode.yaml`.",
	outside: "This path leads out of the workspace, and nothing outside it is read. Move the kit's plan inside.",
	notFound: "There is no plan at `{from}`, relative to this file. Correct the path.",
	group: "`{from}` is a group itself. Name the plan of one kit.",
	notAGroup: `This plan is not a group, so this cell has no effect. Write \`kind: group\` in the \`plan\` cell, or
		delete it.`,
});

const MESSAGES: Readonly<Record<NonNullable<GroupMember["missing"]>, (from: string) => Phrase>> = {
	"not-relative": () => words.notRelative(),
	outside: () => words.outside(),
	"not-found": (from) => words.notFound({ from }),
	group: (from) => words.group({ from }),
};

export default rule({
	code: "group/no-such-kit",
	severity: "error",
	words,
	wrong: {
		...OF_KITS,
		plan: "title: Two at the sheepfold\nkind: group",
		group: "- { name: Nia, from: ../kits/laser.lode.yaml }\n- { name: Tom, from: ../kits/nobody.lode.yaml }",
	},
	right: {
		...OF_KITS,
		plan: "title: Two at the sheepfold\nkind: group",
		group: "- { name: Nia, from: ../kits/laser.lode.yaml }\n- { name: Tom, from: ../kits/landmark.lode.yaml }",
	},
	*find({ plan }) {
		const [cell] = cellsOf(plan, "group");
		if (!cell) return;
		if (!isGroup(plan)) yield { ...at(cell, "", "key"), message: words.notAGroup() };
		for (const { place, from, missing } of plan.group ?? [])
			if (missing && cell.read.places.has(`${place}.from`))
				yield { ...at(cell, `${place}.from`), message: MESSAGES[missing](from.slice(0, 80)) };
	},
});
