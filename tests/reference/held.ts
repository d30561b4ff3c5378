/** Frames as tests put them: a camera held level, and the sky above a flat horizon unless they say otherwise. */
import { heldLevel } from "../../shared/alignment/attitude.ts";
import { type Frame, frameOf, type Shot } from "../../shared/alignment/frame-stars.ts";
import type { Direction } from "../../shared/sky/horizontal.ts";

export interface Held extends Omit<Shot, "attitude" | "sky" | "sharpAbove"> {
	readonly aim: Direction;
	readonly isSky?: (direction: Direction) => boolean;
	readonly bends?: readonly Direction[];
	readonly sharpAbove?: number;
}

export function held({ aim, isSky = () => true, bends = [], sharpAbove = 5, ...shot }: Held): Frame {
	return frameOf({ ...shot, attitude: heldLevel(aim), sky: { isSky, bends }, sharpAbove });
}
