/**
 * What a method is pointed with: a laser, whose beam is seen by all around, or a sight (a tube or a red dot), which
 * shines nowhere and which only the eye behind it uses. Both stand at the same angle to the axis and set it alike.
 */
import type { Source } from "../alignment/budget.ts";
import { flag, optional, word } from "../notation/shape.ts";
import { sentences, told } from "../text/sentence.ts";
import type { CommonContent, ContentOf } from "./common-keys.ts";
import type { Hazard } from "./method.ts";
import { source } from "./source.ts";
import type { Tonight } from "./tonight.ts";

const words = sentences("method.pointed-with", {
	laser: "A laser: its beam is put on the star. Ask first whether it is allowed there.",
	sight:
		"A tube or a red-dot sight, looked through from behind: it gives off no light, but cannot be aimed as accurately.",
});

/** The keys of a method that is pointed with a laser or a sight: which of them, and whether a laser may be used. */
export const POINTED_WITH_KEYS = {
	pointer: optional(
		word({
			laser: told(words.laser()),
			sight: told(words.sight()),
		}),
		{
			doc: "what is pointed at the star: a laser, or a sight at the same angle to the axis.",
			example: "sight",
			otherwise: "laser",
		},
	),
	"local-rules-checked": optional(flag(), {
		doc: "write `true` once you know that a laser is allowed there, of which class, and who may be disturbed.",
		example: "true",
		otherwise: "false",
	}),
};

export type PointedWith = ContentOf<typeof POINTED_WITH_KEYS>;

/** Whether it is a sight. */
export const isSight = ({ pointer }: PointedWith): boolean => pointer === "sight";

/** A laser shines; a sight hurts nobody. */
export const hazardsOf = (content: PointedWith): readonly Hazard[] => (isSight(content) ? [] : ["laser"]);

/** Whether it may be lit: a sight always, a laser once the local rules were checked. */
export const isCleared = (content: PointedWith): boolean => isSight(content) || content["local-rules-checked"] === true;

/**
 * How well each is put on a star, one standard deviation, degrees: on a head that moves one axis at a time, and on a ball
 * that is held by hand and locked. Common practice, no source.
 */
const AIMED_TO = { laser: { geared: 0.25, ball: 0.5 }, sight: { geared: 0.5, ball: 0.7 } } as const;

/** The aim as a source. */
export const aimSource = (content: PointedWith & CommonContent, tonight: Tonight, effects: Source["effects"]): Source =>
	source(
		"aim",
		content,
		tonight,
		effects,
		AIMED_TO[content.pointer ?? "laser"][tonight.tools.scales ? "geared" : "ball"],
	);

/** How level a tracker is held sideways on a ball, by a level laid across it, degrees. Common practice, no source. */
const LEVEL_BY_HAND = 1;

/** The level as a source: a ball head has none of its own. */
export const levelSource = (content: CommonContent, tonight: Tonight, effects: Source["effects"]): Source =>
	tonight.tools.scales
		? source("level", content, tonight, effects)
		: source("level", content, tonight, effects, LEVEL_BY_HAND);
