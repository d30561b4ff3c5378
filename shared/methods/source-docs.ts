/** What each error source is, in words. */
import type { SourceName } from "../alignment/budget.ts";
import { texts } from "../text/sentence.ts";

/** Error sources by name: what `uncertainty:` may override. */
export const SOURCE_DOCS: Readonly<Record<SourceName, string>> = texts("source", {
	"tilt-scale": "How well the tilt is set by scale, levelling fore and aft included.",
	level: "How far the head is off level: sideways, and fore and aft where the pan is turned from a mark.",
	roll: "How far the laser or sight is rolled about the axis.",
	"pan-scale": "How well a turn of the pan is read.",
	compass: "How well the compass is read, local iron and rock included.",
	"magnetic-model": "How far the magnetic model may be off here.",
	clock: "How far off your watch is, plus how late you react.",
	aim: "How well the pointer, sight or frame is put on what it is aimed at.",
	squareness: "How far the right angle (or the scope's axis) is off.",
	landmark: "How well the landmark's place is known, across the line of sight.",
	body: "How well the star's or body's own place is known.",
});
