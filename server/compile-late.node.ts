/**
 * Only what is run very often is compiled to the last: to be imported before all else. The compiler takes a core from
 * the work, and megabytes; nearly all of what a plan needs is run too seldom to give them back.
 */
import { setFlagsFromString } from "node:v8";

setFlagsFromString("--interrupt-budget=540000");
