/** The keys of a `plan` cell: the title of the plan and the format it is written in. */
import { type Decoded, mapping, optional, required, text, whole, word } from "../../notation/shape.ts";

/** What a file is for. */
export const PLAN_KINDS = {
	plan: "The plan of an evening.",
	library: "Cells for other plans to take with `from`; no cell is required.",
	group: "One evening with several kits: site, night and `group`, each kit with a plan of its own.",
} as const;

/** The plan itself. */
export const plan = mapping("The plan itself", {
	title: required(text(), {
		doc: "What the night is for, in a few words. It heads the page and the card.",
		example: "Core over the roofless chapel",
	}),
	kind: optional(word(PLAN_KINDS), {
		doc: "What the file is for: an evening, cells that several plans share, or an evening with several kits.",
		example: "library",
		otherwise: "plan",
	}),
	format: optional(whole({ min: 1, max: 1_000_000 }), {
		doc: "Version of the plan format. This is version 1.",
		example: "1",
		otherwise: "1",
	}),
	summary: optional(text(), {
		doc: "A sentence or two for those who receive the plan.",
		example: "Two hours under the gable, then home.",
	}),
});

export type PlanContent = Decoded<typeof plan>;
