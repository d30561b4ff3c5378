/** How long the steps of an evening take when a plan does not say. Minutes; common practice, no source. */

/** Tripod, head, tracker and camera put up, the full load mounted, roughly framed. */
export const SET_UP = 15;
/** By daylight, on a distant light, or on a bright star. */
export const FOCUS = 5;
/** Looking at focus, dew and battery. */
export const CHECK = 3;
/** How long they are left alone. */
export const CHECK_EVERY = 120;
/** All put away. */
export const PACK_UP = 10;
/** One walks out in the dark, laden and tired: so many times as long as in. */
export const WALK_OUT = 1.25;
/** Beside the exposure itself. */
export const TEST_FRAME = 2;
/** Aiming at another target. */
export const RE_AIM = 3;
/** The same with a long lens. */
export const RE_AIM_LONG = 6;
/** Focal length from which a lens is slow to aim, millimetres. */
export const LONG_LENS = 50;
/** A turn of the camera from which a test frame is worth its time, degrees. */
export const FAR_TURN = 30;
/** Changing a lens and focusing it. */
export const LENS_CHANGE = 5;
/** Turning the drive back to its start. */
export const TURN_BACK = 3;
/** Beside the exposures themselves: the drive off, framing, focus on the ground. */
export const FOREGROUND = 4;
/** Beside the exposures themselves: the cap on. */
export const DARKS = 1;
