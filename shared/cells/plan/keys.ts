/** The keys of a `plan` cell: the title of the plan and the format it is written in. */
import { type Decoded, mapping, optional, required, text, whole } from "../../notation/shape.ts";

/** The plan itself. */
export const plan = mapping("The plan itself", {
	title: required(text(), {
		doc: "What the night is for, in a few words. It heads the page and the card.",
		example: "Core over the roofless chapel",
	}),
	format: optional(whole({ min: 1, max: 1 }), {
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
