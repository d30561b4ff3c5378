/** Moments of a plan's night that are worth a clock time, with what happens then. */
import type { EpochMs } from "../earth/zone.ts";
import type { Evaluation } from "./evaluate.ts";
import { starsOf } from "./suggestions.ts";

export interface Moment {
	readonly at: EpochMs;
	readonly what: string;
}

export function momentsOf(evaluation: Evaluation): readonly Moment[] {
	const { night, methods, targets } = evaluation;
	if (!night) return [];
	const { sky, onSite } = night;
	const moments: Moment[] = [
		...Object.entries(sky.sun).map(([name, at]) => ({ at, what: name.replace("-", " ") })),
		...sky.moonrise.map((at) => ({ at, what: "moonrise" })),
		...sky.moonset.map((at) => ({ at, what: "moonset" })),
		...night.moonless.flatMap(({ from, until }) => [
			{ at: from, what: "dark and moonless from here" },
			{ at: until, what: "dark and moonless until here" },
		]),
		...starsOf(evaluation)
			.slice(0, 5)
			.map(({ best, star }) => ({ at: best, what: `${star.name} at the aim point` })),
		...methods.flatMap(({ value }) =>
			(value?.plan.windows ?? []).flatMap(({ from, until }) => [
				{ at: from, what: `${value?.method.kind} works from here` },
				{ at: until, what: `${value?.method.kind} works until here` },
			]),
		),
		...(targets?.value ?? []).flatMap((target) =>
			(target?.usable ?? []).flatMap(({ from, until }) => [
				{ at: from, what: `${target?.name} usable from here` },
				{ at: until, what: `${target?.name} usable until here` },
			]),
		),
	];
	return moments
		.filter(({ at }) => at >= onSite.from - 7_200_000 && at <= onSite.until + 7_200_000)
		.sort((a, b) => a.at - b.at);
}
