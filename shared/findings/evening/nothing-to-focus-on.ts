import type { Evaluation } from "../../evaluate/evaluate.ts";
import { lazily } from "../../memory/memory.ts";
import { canSight } from "../../methods/sight.ts";
import type { Tonight } from "../../methods/tonight.ts";
import { nightClock, nightSpan } from "../../notation/night-clock.ts";
import { cellsOf } from "../../plan/plan.ts";
import { sunAltitude } from "../../sky/night.ts";
import { findBody, type SkyBody } from "../../sky/place.ts";
import { starAt, starColumns } from "../../sky/stars.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";

/** Common practice, no source: a star that a camera shows large enough to focus on, and the end of light on the land. */
const FAINTEST = 2;
const LIGHT_ENDS = -6;
const STEP_MS = 300_000;
const PLANETS = ["venus", "jupiter", "mars", "saturn", "moon"];

const words = sentences("evening/nothing-to-focus-on", {
	title: "Nothing to focus on",
	about: `A lens is focused on something far away: the land by daylight, a distant light, or a star or planet of
		magnitude 2 or brighter. In twilight, or where the view is narrow, there may be nothing like that when you
		focus, or when you focus again after a nearer foreground. Arrive earlier, put a lamp far away, mark the focus
		ring by daylight, or name a landmark that is lit.`,
	message: `You focus {span}: it is too dark for the land, no lit landmark is named, and no star or planet of magnitude
		2 or brighter is in view. {next}`,
	fromThen: "{name} comes into view at {time}.",
	never: "No such star comes into view while you are on site: put a lamp far away.",
});

const narrow = (more: string): string =>
	`name: Well of rocks\nlatitude: 32.4123 S\nlongitude: 54.3622 W\nskyline: [[0, 84], [120, 84], [240, 84]]${more}`;
const evening = 'date: 2027-06-05\narrive: "19:00"\nleave: "02:00"';

export default rule({
	code: "evening/nothing-to-focus-on",
	severity: "info",
	whole: true,
	words,
	wrong: { site: narrow(""), night: evening },
	right: [
		{ site: narrow("\nlandmarks:\n  - { name: mast light, bearing: 231°, altitude: 1°, lit: true }"), night: evening },
		{ site: narrow(""), night: 'date: 2027-06-05\narrive: "17:00"\nleave: "02:00"' },
	],
	*find(evaluation: Evaluation) {
		const { plan, evening: found, night, tonight } = evaluation;
		const cell = cellsOf(plan, "night")[0];
		if (!cell || !night || !tonight) return;
		for (const step of found?.steps ?? []) {
			if (step.kind !== "focus" || canFocus(tonight, step.until)) continue;
			let later = step.until + STEP_MS;
			while (later < night.onSite.until && !brightIn(tonight, later)) later += STEP_MS;
			const name = brightIn(tonight, later);
			const { targets } = evaluation;
			yield {
				...(step.of === undefined || !targets ? at(cell, "arrive") : at(targets.cell, `${step.of}.name`)),
				message: words.message({
					span: nightSpan(night, step),
					next:
						name === undefined || later >= night.onSite.until
							? words.never()
							: words.fromThen({ time: nightClock(night, later), name }),
				}),
			};
		}
	},
});

const canFocus = (tonight: Tonight, moment: number): boolean =>
	sunAltitude(tonight.spot, moment) > LIGHT_ENDS ||
	tonight.landmarks.some(({ lit, unseen }) => lit && !unseen) ||
	brightIn(tonight, moment) !== undefined;

/** Something bright that is in view at a moment. */
const brightIn = (tonight: Tonight, moment: number): string | undefined =>
	tonight.remember(`bright ${moment}`, () => bright().find((one) => canSight(one, tonight, moment))?.name);

const bright = lazily((): readonly SkyBody[] => {
	const stars: SkyBody[] = [];
	starColumns().magnitude.forEach((magnitude, index) => {
		if (magnitude > FAINTEST) return;
		const star = starAt(index);
		stars.push({ type: "star", name: star.name, star });
	});
	return [...PLANETS.flatMap((name) => findBody(name) ?? []), ...stars];
});
