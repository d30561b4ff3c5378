import type { EvaluatedTarget } from "../../cells/targets/target.ts";
import { rememberedBy } from "../../memory/memory.ts";
import { type Dated, nightClock } from "../../notation/night-clock.ts";
import { both, either, outside } from "../../sky/intervals.ts";
import { type Phrase, sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { beginFix, type EachTarget, eachTarget } from "./each.ts";

const words = sentences("target/overlap", {
	title: "Two targets at once",
	about: `The frames of two targets overlap in time, counting exposures and the gaps between them. One camera can take
		only one of them, so the later series would be cut short or start late. Begin it after the first has ended, or
		shorten the first. If you use two cameras, name the \`camera\` of each lens: untracked frames on a second camera
		can run at the same time.`,
	message: `{name} begins at {time}, while {before} runs until {until}. Begin it later, or take fewer frames of {before}.`,
});

const targets = (antaresFrom: string): string => `- name: core
  aim: galactic-centre
  from: "21:30"
  exposure: 60 s
  frames: 20
  foreground: true
- name: Antares
  aim: Antares
  from: "${antaresFrom}"
  exposure: 60 s
  foreground: true`;

/** A tracked series beside arcs that run for an hour; `camera`: of the lens for the arcs. */
const twoLenses = (camera: string) => ({
	lens: [
		"name: wide\ncamera: main\nfocal-length: 24 mm\nf-number: 2\nsensor: 36 x 24 mm\npixels: 6000 x 4000",
		`name: arcs\n${camera}\nfocal-length: 20 mm\nf-number: 2.8\nsensor: 36 x 24 mm\npixels: 6000 x 4000`,
	],
	targets: `- name: core
  aim: galactic-centre
  lens: wide
  from: "21:30"
  exposure: 60 s
  frames: 20
  foreground: true
- name: arcs
  aim: Antares
  lens: arcs
  from: "21:15"
  exposure: 60 s
  frames: 60
  stars: trails`,
});

export default rule({
	code: "target/overlap",
	severity: "warning",
	words,
	wrong: {
		targets:
			'- name: core\n  aim: galactic-centre\n  from: "21:30"\n  exposure: 60 s\n  frames: 20\n  foreground: true\n- name: Antares\n  aim: Antares\n  from: "21:40"\n  exposure: 60 s\n  foreground: true',
	},
	instead: { targets: targets("21:51") },
	right: [{ targets: targets("21:50") }, { targets: targets("21:29") }, twoLenses("camera: second")],
	over: [{ targets: targets("21:49") }, { targets: targets("21:30") }, twoLenses("camera: main")],
	*find(evaluation) {
		const all = [...eachTarget(evaluation)]
			.filter(({ target }) => target.timed)
			.sort((a, b) => a.target.series.from - b.target.series.from);
		const said = new Set<number>();
		for (const group of sharing(all))
			for (const { next, before } of overlaps(group)) {
				if (said.has(next.target.index)) continue;
				said.add(next.target.index);
				yield {
					...at(next.cell, next.timePath),
					message: messageOf(next.target, before.target, next.night),
					fixes: () => laterFix(next, group),
				};
			}
	},
});

/** Targets of which only one can be taken at a time: those of a camera, and those that the tracker carries. */
function sharing(timed: readonly EachTarget[]): readonly (readonly EachTarget[])[] {
	const cameraOf = ({ target }: EachTarget): string => target.lens?.content.camera ?? "";
	const cameras = [...new Set(timed.map(cameraOf))];
	if (cameras.length < 2) return [timed];
	return [
		...cameras.map((camera) => timed.filter((one) => cameraOf(one) === camera)),
		timed.filter(({ target }) => target.tracked),
	];
}

/** Each that begins while another is taken. */
function* overlaps(timed: readonly EachTarget[]): Iterable<{ readonly next: EachTarget; readonly before: EachTarget }> {
	// Whose frames are taken when one begins, they are not when a later one does: each is passed once.
	let first = 0;
	for (const [i, next] of timed.entries()) {
		while (first < i && (timed[first] as EachTarget).target.series.until <= next.target.series.from + 1000) first++;
		const before = first < i ? timed[first] : undefined;
		if (before) yield { next, before };
	}
}

const messageOf = rememberedBy(
	(next: EvaluatedTarget, before: EvaluatedTarget, night: Dated): Phrase =>
		words.message({
			name: next.name,
			time: nightClock(night, next.series.from),
			before: before.name,
			until: nightClock(night, before.series.until),
		}),
	1,
);

/** Begins a series in the first pause after its start that all of it fits into, while it is usable, else in view, on site. */
function laterFix(next: EachTarget, timed: readonly EachTarget[]) {
	const { series, usable, inView } = next.target;
	const others = timed.flatMap(({ target }) => (target === next.target ? [] : [target.series]));
	const pauses = outside(either(others, []), { from: series.from, until: next.night.onSite.until });
	// What is never in view has a finding of its own.
	return beginFix(next, both(usable, pauses), both(inView, pauses), inView.length === 0 ? pauses : []);
}
