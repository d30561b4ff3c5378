/** The error sources of a method with their spreads: what the plan says, else the tracker, else common practice. */
import { COMMON_SPREAD, type Source, type SourceName, unitOfSource } from "../alignment/budget.ts";
import type { CommonContent } from "./common-keys.ts";
import type { Tonight } from "./tonight.ts";

/** A source with its spread: the method's `uncertainty`, else the tracker's cell, else common practice. */
export function source(
	name: SourceName,
	method: CommonContent,
	{ tools }: Pick<Tonight, "tools">,
	effects: Source["effects"],
	common: number = COMMON_SPREAD[name],
): Source {
	const unit = unitOfSource(name);
	const own = method.uncertainty?.[name];
	if (own !== undefined) return { name, spread: own, unit, origin: "plan", effects };
	const told = tools.spreads[name];
	if (told !== undefined) return { name, spread: told, unit, origin: "tracker", effects };
	return { name, spread: common, unit, origin: "common practice", effects };
}

/** A source that the tracker's cell says nothing of. */
export const sourceOfItsOwn = (
	name: SourceName,
	method: CommonContent,
	effects: Source["effects"],
	common?: number,
): Source => source(name, method, { tools: NO_TOOLS }, effects, common);

const NO_TOOLS: Tonight["tools"] = { scales: true, tiltZero: 0, panZero: 0, spreads: {} };

/**
 * The magnetic model's own error as a source: sqrt(0.26² + (5417 / H)²) degrees (WMM2025 report, eq. 43), unless the
 * plan says otherwise. `perDegree` is the axis error across the meridian for one degree of bearing.
 */
export function magneticSource(method: CommonContent, tonight: Tonight, perDegree: number): Source {
	const { magnetic } = tonight;
	const effects = [{ along: 0, across: perDegree }];
	const found = source("magnetic-model", method, tonight, effects, magnetic?.declinationSpread);
	return found.origin === "common practice" && magnetic ? { ...found, origin: "model" } : found;
}
