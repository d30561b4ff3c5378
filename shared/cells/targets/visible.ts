/** Whether a target is seen: nothing in front of it, and within the opening it is to be kept to. */
import { type Cover, hiddenBy, windowsOf } from "../../sky/cover.ts";
import type { Direction } from "../../sky/horizontal.ts";
import { isWithin, type Outline } from "../../sky/outline.ts";

/** The window of a cover that a target names. */
export const windowNamed = (cover: Cover, opening: string | undefined): Outline | undefined =>
	opening === undefined ? undefined : windowsOf(cover).find(({ name }) => name === opening)?.outline;

/** Whether a direction can be seen, and through a window, if there is one to be kept to. */
export const isVisible = (cover: Cover, direction: Direction, window: Outline | undefined): boolean =>
	hiddenBy(cover, direction) === undefined && (window === undefined || isWithin(window, direction));
