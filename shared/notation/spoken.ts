/** Numbers in the words of steps and messages, in one place: each is written by its notation's file. */
export { listText } from "../text/list.ts";
export { degrees, turnText } from "./angle.ts";
export { bearingText, bearingWithPoint } from "./bearing.ts";
export { durationText, minutesText } from "./duration.ts";
