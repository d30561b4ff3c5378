/** Focus drifts as it gets colder, dew settles, batteries run down: a look at them where there is time between the steps. */
import { type EpochMs, minuteUp } from "../../earth/zone.ts";
import type { EveningStep, StepKind } from "./tasks.ts";
import { CHECK, CHECK_EVERY } from "./usual-times.ts";

const MINUTE_MS = 60_000;
const LENGTH = CHECK * MINUTE_MS;

/** After these all is in focus. */
const FOCUSES: ReadonlySet<StepKind> = new Set(["focus", "lens-change"]);

/**
 * One in each pause that comes two hours after the last one, as long as frames follow: a series is not broken off for it.
 * What was focused before there are stars, on something far away by daylight, is looked at on a star as soon as there are
 * some: a lens that gets cold, a filter or a zoom that creeps shift it. Common practice, no source.
 */
export function checksBetween(steps: readonly EveningStep[], starsFrom?: EpochMs): readonly EveningStep[] {
	const dueAfter = (looked: EpochMs): EpochMs =>
		starsFrom !== undefined && looked < starsFrom ? starsFrom : looked + CHECK_EVERY * MINUTE_MS;
	const hands = steps.filter(({ kind, beside }) => kind !== "darks" && !beside).sort((a, b) => a.from - b.from);
	const lastFrames = Math.max(...hands.filter(({ kind }) => kind === "sky").map(({ from }) => from));
	const checks: EveningStep[] = [];
	let looked: EpochMs | undefined;
	let free: EpochMs | undefined;
	for (const { kind, from, until } of hands) {
		while (looked !== undefined && free !== undefined) {
			const begin = minuteUp(Math.max(free, dueAfter(looked)));
			if (begin + LENGTH > from || begin > lastFrames) break;
			looked = begin + LENGTH;
			free = looked;
			checks.push({ kind: "check", from: begin, until: looked, fixed: false });
		}
		free = Math.max(free ?? until, until);
		if (FOCUSES.has(kind)) looked = until;
	}
	return checks;
}
