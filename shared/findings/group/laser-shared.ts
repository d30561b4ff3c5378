import { intervalText } from "../../notation/interval.ts";
import { cellsOf } from "../../plan/plan.ts";
import { listText } from "../../text/list.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";

const words = sentences("group/laser-shared", {
	title: "One laser for several kits",
	about: `A group has one laser, which its leader holds while somebody looks out. One kit at a time is aligned with it, and none
		while another exposes: a beam spoils every frame it crosses, and two beams are more than one look-out can watch.
		Kits that need it at the same minute cannot all have it. Give one of them another star, or another method as its
		fallback, or give frames a later time.`,
	none: `{name} has tracked frames and no time to be aligned in: the laser is with {others} then. Give this kit another star
		or a fallback without a laser.`,
	never:
		"{name} has tracked frames, and no method of its plan can be done here in time. Give it another method, or more time.",
	pause: "{name} takes frames while {other} is aligned with the laser ({times}). They have to pause: begin them later.",
	nobody: "others",
});

const OF_KITS = { lens: null, tracker: null, method: null, targets: null } as const;

export default rule({
	code: "group/laser-shared",
	severity: "warning",
	words,
	wrong: {
		...OF_KITS,
		plan: "title: Two at the sheepfold\nkind: group",
		group: "- { name: Nia, from: ../kits/laser.lode.yaml }\n- { name: Tom, from: ../kits/laser.lode.yaml }",
	},
	right: {
		...OF_KITS,
		plan: "title: Two at the sheepfold\nkind: group",
		group: "- { name: Nia, from: ../kits/laser.lode.yaml }\n- { name: Tom, from: ../kits/landmark.lode.yaml }",
	},
	*find({ plan, group, night }) {
		const [cell] = cellsOf(plan, "group");
		if (!cell || !group || !night) return;
		for (const problem of group.problems) {
			const { member } = problem.kit;
			const path = cell.read.places.has(`${member.place}.name`) ? `${member.place}.name` : `${member.place}`;
			const { name } = member;
			if (problem.type === "pause") {
				const { use } = problem;
				const times = intervalText(night.zone, use);
				yield { ...at(cell, path), message: words.pause({ name, other: use.kit.member.name, times }) };
			} else if (problem.laser) {
				const users = new Set(group.lasers.filter(({ kit }) => kit !== problem.kit).map(({ kit }) => kit.member.name));
				const others = users.size > 0 ? listText([...users]) : words.nobody();
				yield { ...at(cell, path), message: words.none({ name, others }), severity: "error" };
			} else yield { ...at(cell, path), message: words.never({ name }), severity: "error" };
		}
	},
});
