/** The keys of an entry of `group`: somebody who comes, and the plan of the kit. */
import { type Decoded, flag, mapping, optional, path, required, text } from "../../notation/shape.ts";

/** Somebody with a kit. */
export const member = mapping("Somebody with a kit", {
	name: required(text(), { doc: "The person, or a name for the kit.", example: "kit 1" }),
	from: required(path(), {
		doc: "The plan of the kit: its lenses, tracker, methods and targets are taken. Site and night are the group's. A relative path inside the workspace.",
		example: "kits/one.lode.yaml",
	}),
	leads: optional(flag(), {
		doc: "Whether this is the leader, who holds the laser.",
		example: "true",
		otherwise: "the first in the group leads",
	}),
	"local-rules-checked": optional(flag(), {
		doc: `Write \`true\` in one entry, for the whole group, once you know that a laser is allowed at the group's
			site, of which class, and who may be disturbed. What a kit's own plan says about this is for another place.`,
		example: "true",
		otherwise: "false",
	}),
});

export type Member = Decoded<typeof member>;

/** The most that one leader can look after. */
export const MOST_MEMBERS = 12;
