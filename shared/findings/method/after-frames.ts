import { clockOf, minuteDown } from "../../earth/zone.ts";
import { durationText } from "../../notation/duration.ts";
import { nightClock } from "../../notation/night-clock.ts";
import { both } from "../../sky/intervals.ts";
import { sentences } from "../../text/sentence.ts";
import { coreFrom } from "../example-plan.ts";
import { at, fix, rule, setKey } from "../finding.ts";
import { beginFix, eachTarget } from "../target/each.ts";

const words = sentences("method/after-frames", {
	title: "Alignment after the first tracked frame",
	about: `Tracked frames need an aligned tracker: stars trail on every frame taken before the alignment is finished. A
		method's \`at\` is the middle of the time it takes (\`takes\`), the moment its numbers are computed for. Align
		earlier, with another star or another method, or begin the frames later.`,
	timed: `The {method} at {at} takes {takes} and ends at {done}, {early} after the frames of {name} begin ({from}). Align
		earlier, or begin the frames later.`,
	untimed: `The {method} takes {takes} from {arrive}, when you arrive, and ends at {done}, {early} after the frames of {name}
		begin ({from}). Begin the frames later.`,
	byFallback: "{late} As the plan is now, the tracker is aligned by a fallback: {method}.",
	align: "Align at {at}",
});

export default rule({
	code: "method/after-frames",
	severity: "warning",
	whole: true,
	words,
	wrong: { targets: coreFrom("19:50") },
	right: [
		{ targets: coreFrom("20:06") },
		{ method: 'kind: sky-bearing\nbody: Spica\nat: "19:40"', targets: coreFrom("19:44") },
	],
	over: [
		{ targets: coreFrom("20:05") },
		{ method: 'kind: sky-bearing\nbody: Spica\nat: "19:41"', targets: coreFrom("19:44") },
	],
	*find(evaluation) {
		const { methods, night, tonight } = evaluation;
		// The method that the plan means to use, also where a fallback is in time and takes its place.
		const aligned = methods.find(({ value }) => value?.works)?.value;
		const cell = methods.find(({ value }) => value === aligned)?.cell;
		if (!aligned || !cell || !night || !tonight || aligned.method.corrects) return;
		const [first, second] = [...eachTarget(evaluation)]
			.filter(({ target }) => target.tracked && target.timed)
			.sort((a, b) => a.target.series.from - b.target.series.from);
		if (!first) return;
		const { setUp, takes, content, name } = aligned;
		const done = setUp.at === undefined ? night.onSite.from + takes * 1000 : aligned.done;
		if (done <= first.target.series.from) return;
		const { from } = first.target.series;
		const clock = (moment: number): string => nightClock(night, moment);
		const said = {
			method: name,
			takes: durationText(takes),
			done: clock(done),
			name: first.target.name,
			from: clock(from),
			early: durationText((done - from) / 1000),
		};
		// The latest minute at which it still works and is done in time.
		const latest = from - takes * 500;
		const earlier = setUp.windows.flatMap((window) =>
			window.from <= latest ? [minuteDown(Math.min(window.until, latest))] : [],
		);
		const late =
			setUp.at === undefined
				? words.untimed({ ...said, arrive: clock(night.onSite.from) })
				: words.timed({ ...said, at: clock(setUp.at) });
		const instead = evaluation.aligned === aligned ? undefined : evaluation.aligned;
		const best = setUp.at === undefined || earlier.length === 0 ? undefined : Math.max(...earlier);
		yield {
			...at(cell, setUp.at !== undefined && cell.read.places.has("at") ? "at" : "kind"),
			message: instead?.works ? words.byFallback({ late, method: instead.name }) : late,
			fixes: [
				...(best === undefined
					? []
					: fix(words.align({ at: clock(best) }), false, setKey(cell, "", "at", clockOf(night.zone, best)))),
				// A time that the method chooses itself follows the frames; where others are too early as well, one is not enough.
				...((setUp.at === undefined || content.at !== undefined) && !(second && second.target.series.from < done)
					? beginFix(first, both(first.target.usable, [{ from: done, until: night.onSite.until }]))
					: []),
			],
		};
	},
});
