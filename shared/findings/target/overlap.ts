import { at, rule } from "../finding.ts";
import { eachTarget } from "./each.ts";

export default rule({
	code: "target/overlap",
	severity: "warning",
	title: "Two series at once",
	about: "The frames of two targets overlap. With one camera only one of them can be taken.",
	wrong: {
		targets:
			'- name: core\n  aim: galactic-centre\n  from: "21:30"\n  exposure: 60 s\n  frames: 20\n  companion: true\n- name: Antares\n  aim: Antares\n  from: "21:40"\n  exposure: 60 s\n  companion: true',
	},
	right: {},
	*find(evaluation) {
		const timed = [...eachTarget(evaluation)]
			.filter(({ target }) => target.timed)
			.sort((a, b) => a.target.series.from - b.target.series.from);
		for (const [i, next] of timed.entries()) {
			const before = timed.slice(0, i).find(({ target }) => target.series.until > next.target.series.from + 1000);
			if (before)
				yield {
					...at(next.cell, next.timePath),
					message: `${next.target.name} begins at ${next.clock(next.target.series.from)}, while ${before.target.name} is still being taken (until ${next.clock(before.target.series.until)}).`,
				};
		}
	},
});
