/**
 * Only what is run very often is compiled to the last: to be imported before all else. The compiler takes a core from
 * the work, and megabytes; nearly all of what a plan needs is run too seldom to give them back. Later engines have a
 * light compiler in between, and count otherwise.
 */
import { setFlagsFromString } from "node:v8";

/** The first engine with a compiler in between. */
const WITH_LIGHT_COMPILER = 12;

if (Number.parseInt(process.versions.v8, 10) < WITH_LIGHT_COMPILER) setFlagsFromString("--interrupt-budget=540000");
