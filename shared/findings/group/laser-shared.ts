import type { EvaluatedNight } from "../../cells/night/night.ts";
import { type GroupEvening, type GroupProblem, isBusy, lookoutOf } from "../../evaluate/group.ts";
import { nightClock, nightInterval } from "../../notation/night-clock.ts";
import { cellsOf } from "../../plan/plan.ts";
import { listText } from "../../text/list.ts";
import { type Phrase, sentences } from "../../text/sentence.ts";
import { rule } from "../finding.ts";
import { freeStar } from "./free-star.ts";
import { atMember, OF_KITS } from "./member.ts";

type NotAligned = Extract<GroupProblem, { readonly type: "no-alignment" }>;

const words = sentences("group/laser-shared", {
	title: "One laser for several kits",
	about: `A group has one laser, which its leader holds while somebody keeps watch. One kit at a time is aligned
		with it, and none while another takes frames: a beam spoils every frame it crosses, and two beams are more
		than one look-out can watch. Kits that need it at the same minute cannot all have it. Give one of them another
		star, a fallback without a laser, or later frames.`,
	none: `{name} has tracked frames, and the laser is in use for {others} whenever this kit could be aligned. Give it
		another star or a fallback without a laser.{star}`,
	star: " With {name} at {at} the laser is free for it.",
	frames: `{name} has tracked frames, and others take frames whenever the laser could be used. Give this kit another star
		or a fallback without a laser, or begin those frames later.`,
	time: `{name} has tracked frames, and no method in this kit's plan can be done here before those frames. Give it another
		method, or more time.`,
	needs: "{name} has tracked frames, and the method `{kind}` in this kit's plan needs `{key}`. Add it there.",
	fails:
		"{name} has tracked frames, and no method in this kit's plan works here this evening. Correct one, or add another.",
	pause:
		"{name} takes frames while {other} aligns with the laser ({times}). Those frames have to wait: begin them later.",
	lookout: `Nobody is free to watch for aircraft and people while {name} is aligned with the laser ({times}). Bring
		somebody who only keeps watch, or give this kit another time or a method without a laser.`,
	holder: `{leader} holds the laser while {name} is aligned ({times}), and has another step then. Let somebody else lead, or
		give one of them another time.`,
});

export default rule({
	code: "group/laser-shared",
	severity: "warning",
	safety: true,
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
			const where = atMember(cell, member);
			const { name } = member;
			if (problem.type === "pause") {
				const { use } = problem;
				const times = nightInterval(night, use);
				const concerns = [use.kit.member.place];
				yield { ...where, message: words.pause({ name, other: use.kit.member.name, times }), concerns };
			} else yield { ...where, message: notAligned(problem, group, night), severity: "error" };
		}
		const { leader } = group;
		for (const use of group.lasers) {
			const { name } = use.kit.member;
			const where = atMember(cell, use.kit.member);
			const times = nightInterval(night, use);
			const all = group.kits.map(({ member }) => member.place);
			if (!lookoutOf(group, use))
				yield { ...where, message: words.lookout({ name, times }), severity: "error", concerns: all };
			if (leader && leader !== use.kit && isBusy(leader, use))
				yield {
					...where,
					message: words.holder({ leader: leader.member.name, name, times }),
					severity: "error",
					concerns: [leader.member.place],
				};
		}
	},
});

/** Why a kit is not aligned, and what helps. */
function notAligned({ kit, why }: NotAligned, group: GroupEvening, night: EvaluatedNight): Phrase {
	const { lasers } = group;
	const { name } = kit.member;
	switch (why) {
		case "laser": {
			const users = new Set(lasers.filter((use) => use.kit !== kit).map((use) => use.kit.member.name));
			const free = freeStar(kit, group);
			const star = free ? words.star({ name: free.name, at: nightClock(night, free.at) }) : "";
			return words.none({ name, others: listText([...users]), star });
		}
		case "frames":
			return words.frames({ name });
		case "no-time":
			return words.time({ name });
		case "no-method": {
			const [value, another] = (kit.evaluation?.methods ?? []).flatMap((one) => one.value ?? []);
			const lacking = value?.setUp.obstacles.find(({ type }) => type === "needs-key");
			return value && lacking?.type === "needs-key" && !another
				? words.needs({ name, kind: value.method.kind, key: lacking.key })
				: words.fails({ name });
		}
	}
}
