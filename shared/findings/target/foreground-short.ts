import { foregroundOf } from "../../cells/targets/target.ts";
import { degrees } from "../../notation/angle.ts";
import { bearingText } from "../../notation/bearing.ts";
import { turn } from "../../sky/vector.ts";
import { sentences } from "../../text/sentence.ts";
import { at, fix, replaceValue, rule } from "../finding.ts";
import { removal } from "../remove-key.ts";
import { eachTarget } from "./each.ts";

const words = sentences("target/foreground-short", {
	title: "Foreground does not meet the sky",
	about: `A foreground in panels is joined to the lowest row of the sky panorama where that row is at its first
		frame: after that the sky moves on and the ground does not. The foreground must cover all bearings of that
		row, and its upper edge must overlap the row's lower edge. Take more columns or move its middle; or leave out
		\`columns\` and \`bearing\`, and they are computed.`,
	missing: `The foreground of {name} does not cover bearings {stretches}, which the sky's lowest row shows at its
		first frame at {time}. {how}`,
	more: "Take {needed} columns, or leave out `columns` and `bearing`.",
	written: "Write `{keys}`.",
	apart: `The foreground of {name} ends {apart} below the lower edge of the sky's lowest row at its first frame at {time}. Aim
		it higher, or leave out \`altitude\`.`,
	columns: "Take {columns} columns",
	computed: "Leave out its altitude, and it is computed",
});

const ground = (panorama: string): string =>
	`- name: core over the gate\n  aim: { azimuth: 150, altitude: 30 }\n  panorama: { columns: 4, overlap: 40 % }\n  from: "21:30"\n  exposure: 5 s\n  trail: 60 px\n  foreground: { exposure: 60 s, panorama: { ${panorama} } }`;

export default rule({
	code: "target/foreground-short",
	severity: "warning",
	words,
	wrong: { targets: ground("columns: 3") },
	right: [{ targets: ground("order: rows") }, { targets: ground("columns: 5") }],
	over: [{ targets: ground("columns: 4") }, { targets: ground("altitude: -40") }],
	each: "target",
	*find(evaluation) {
		for (const { cell, target, clock } of eachTarget(evaluation)) {
			const { panorama, name, index, entry, series } = target;
			const row = panorama?.ground();
			if (!row) continue;
			const asked = foregroundOf(entry)?.panorama;
			const path = `${index}.foreground${asked ? ".panorama" : ""}`;
			const time = clock(series.from);
			if (row.apart > 0) {
				yield {
					...at(cell, asked?.altitude === undefined ? path : `${path}.altitude`),
					message: words.apart({ name, apart: degrees(row.apart), time }),
					fixes: () =>
						asked?.altitude === undefined ? [] : fix(words.computed(), false, removal(cell, `${path}.altitude`)),
				};
				continue;
			}
			if (row.missing.length === 0) continue;
			const stretches = row.missing
				.map(({ from, until }) => `${bearingText(turn(from))}–${bearingText(turn(until))}`)
				.join(", ");
			yield {
				...at(cell, path),
				message: words.missing({
					name,
					stretches,
					time,
					how:
						asked?.columns === undefined && asked?.bearing === undefined
							? words.written({ keys: `foreground: { panorama: { columns: ${row.needed} } }` })
							: words.more({ needed: row.needed }),
				}),
				fixes: () =>
					asked?.columns === undefined
						? []
						: fix(words.columns({ columns: row.needed }), false, replaceValue(cell, `${path}.columns`, row.needed)),
			};
		}
	},
});
