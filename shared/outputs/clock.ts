/** Clock times of one night, for outputs. */
export { exactNightClock, nightClock, nightInterval, nightSpan } from "../notation/night-clock.ts";
