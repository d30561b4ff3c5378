/** Heights that ground can have. */

/**
 * The lowest and the highest that ground is taken for, metres above the sea. The lowest dry land is the shore of the Dead
 * Sea, −430 m and falling; the highest is Mount Everest's summit, 8,849 m (surveyed in 2020): both from memory. Open pits
 * and errors of a survey have room.
 */
export const LOWEST_GROUND = -500;
/** The highest, as that one. */
export const HIGHEST_GROUND = 9000;

/** Whether ground can be that high; false for what is no number. */
export const isGround = (height: number): boolean => height >= LOWEST_GROUND && height <= HIGHEST_GROUND;
