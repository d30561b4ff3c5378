/** A list of the command `stars` as text: a head, and for each that was found its name, the clock and what is said of it. */
import { nightClock } from "../notation/night-clock.ts";
import { type Phrase, told } from "../text/sentence.ts";
import type { Candidate } from "./method.ts";
import type { Tonight } from "./tonight.ts";

/** Nothing where none was found. `width`: columns of the names; `said`: of one, whose clock has its column already. */
export const listed = <Found extends Candidate>(
	found: readonly Found[],
	tonight: Tonight,
	head: Phrase,
	width: number,
	said: (one: Found, at: string) => Phrase,
): readonly { readonly text: string }[] =>
	found.length === 0
		? []
		: [
				{ text: `\n${told(head)}\n` },
				...found.map((one) => {
					const at = nightClock(tonight, one.at).padStart(CLOCK_WIDTH);
					return { text: `${one.name.padEnd(width)}${told(said(one, at))}\n` };
				}),
			];

const CLOCK_WIDTH = 10;
