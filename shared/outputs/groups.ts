/** Values by what they belong to, in their order: those of a target or an entry of the log under its name. */
import type { Value } from "../notation/value.ts";

export interface Group {
	/** What the values belong to; empty for those of the cell itself. */
	readonly of: string;
	readonly values: readonly Value[];
}

const NAMED = ["target.", "log."];

/** `budget`: the name under which the sources of the error budget are listed, if not among the values of their method. */
export function groupsOf(values: readonly Value[], budget = ""): readonly Group[] {
	const groups = new Map<string, Value[]>();
	for (const computed of values) {
		const { id } = computed;
		const of = NAMED.some((start) => id.startsWith(start)) ? (computed.of ?? "") : id === "method.source" ? budget : "";
		groups.set(of, [...(groups.get(of) ?? []), computed]);
	}
	return [...groups].map(([of, list]) => ({ of, values: list }));
}
