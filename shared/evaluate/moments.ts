/** Moments of a plan's night that are worth a clock time, with what happens then. */
import { targetName } from "../cells/targets/target.ts";
import type { EpochMs } from "../earth/zone.ts";
import { firstValue } from "../plan/plan.ts";
import { sentences, told } from "../text/sentence.ts";
import type { Evaluation } from "./evaluate.ts";
import { momentarySuggestions } from "./suggestions.ts";

const words = sentences("moments", {
	arrive: "arrive",
	leave: "leave",
	moonrise: "moonrise",
	moonset: "moonset",
	darkFrom: "dark and moonless from here",
	darkUntil: "dark and moonless until here",
	atAimPoint: "{name} at the aim point",
	worksFrom: "the {name} works from here",
	worksUntil: "the {name} works until here",
	usableFrom: "{name} usable from here",
	usableUntil: "{name} usable until here",
});

export interface Moment {
	readonly at: EpochMs;
	readonly what: string;
}

export function momentsOf(evaluation: Evaluation): readonly Moment[] {
	const { night, methods, placed } = evaluation;
	if (!night) return [];
	const { sky, onSite } = night;
	const { arrive, leave } = firstValue(evaluation.plan, "night") ?? {};
	const moments: Moment[] = [
		...(arrive === undefined ? [] : [{ at: onSite.from, what: told(words.arrive()) }]),
		...(leave === undefined ? [] : [{ at: onSite.until, what: told(words.leave()) }]),
		...Object.entries(sky.sun).map(([name, at]) => ({ at, what: name.replace("-", " ") })),
		...sky.moonrise.map((at) => ({ at, what: told(words.moonrise()) })),
		...sky.moonset.map((at) => ({ at, what: told(words.moonset()) })),
		...night.moonless.flatMap(({ from, until }) => [
			{ at: from, what: told(words.darkFrom()) },
			{ at: until, what: told(words.darkUntil()) },
		]),
		...(momentarySuggestions(evaluation)?.found ?? [])
			.slice(0, 5)
			.map(({ at, name }) => ({ at, what: told(words.atAimPoint({ name })) })),
		...methods.flatMap(({ value }) =>
			(value?.setUp.windows ?? []).flatMap(({ from, until }) => [
				{ at: from, what: told(words.worksFrom({ name: value?.name ?? "" })) },
				{ at: until, what: told(words.worksUntil({ name: value?.name ?? "" })) },
			]),
		),
		...(placed?.value ?? []).flatMap((target, index) => {
			if (!target) return [];
			const name = targetName(target.entry, index);
			return target.usable.flatMap(({ from, until }) => [
				{ at: from, what: told(words.usableFrom({ name })) },
				{ at: until, what: told(words.usableUntil({ name })) },
			]);
		}),
	];
	return moments
		.filter(({ at }) => at >= onSite.from - 7_200_000 && at <= onSite.until + 7_200_000)
		.sort((a, b) => a.at - b.at);
}
