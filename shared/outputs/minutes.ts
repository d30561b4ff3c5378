/** Tables of numbers by the minute, of methods and targets: the same on every face. */
import type { MinuteRow } from "../cells/minute-table.ts";
import { targetMinutes } from "../cells/targets/minutes.ts";
import type { Evaluation } from "../evaluate/evaluate.ts";
import type { Cell } from "../plan/plan.ts";
import { type Phrase, sentences, told } from "../text/sentence.ts";
import { exactNightClock } from "./clock.ts";

const words = sentences("output.minutes", {
	title: "Minute by minute",
	titleOf: "{of}, minute by minute",
	titleFive: "Every five minutes",
	titleOfFive: "{of}, every five minutes",
	time: "time",
	planned: "{time}, planned",
	best: "{time}, best",
	placed: "{time}, begins",
});

export interface MinutesView {
	readonly title: string;
	/** Of the columns; the first is the time. */
	readonly head: readonly string[];
	readonly rows: readonly { readonly at: number; readonly planned: boolean; readonly columns: readonly string[] }[];
}

/** What a cell has by the minute: a method's one table, a table for each target. */
export function minutesOf(evaluation: Evaluation, cell: Cell): readonly MinutesView[] {
	return minuteRowsOf(evaluation, cell).map(({ of, rows, timed }) => ({
		title: told(titleOf(of, rows)),
		head: [told(words.time()), ...(rows[0]?.values ?? []).map(({ label }) => label)],
		rows: rows.map(({ at, planned, values }) => {
			// A method chooses its best minute; frames are placed where the evening has room for them.
			const chosen = of === undefined ? words.best : words.placed;
			const time = evaluation.night ? exactNightClock(evaluation.night, at) : "";
			return {
				at,
				planned,
				columns: [planned ? told((timed ? words.planned : chosen)({ time })) : time, ...values.map(({ text }) => text)],
			};
		}),
	}));
}

/** Rows of a long window are five minutes apart, but for the planned one. */
function titleOf(of: string | undefined, rows: readonly MinuteRow[]): Phrase {
	const steps = rows.slice(1).map(({ at }, i) => at - (rows[i] as MinuteRow).at);
	const isFive = Math.max(0, ...steps) > 60_000;
	if (of === undefined) return isFive ? words.titleFive() : words.title();
	return isFive ? words.titleOfFive({ of }) : words.titleOf({ of });
}

/** The same as data; `of`: the target, undefined for the method itself; `timed`: whether the plan says its time. */
export function minuteRowsOf(
	{ methods, targets, field, night }: Evaluation,
	cell: Cell,
): readonly { readonly of: string | undefined; readonly rows: readonly MinuteRow[]; readonly timed: boolean }[] {
	if (!night) return [];
	const tables =
		cell.read.kind === "method"
			? methods.flatMap(({ cell: own, value }) =>
					own === cell && value ? { of: undefined, rows: value.minutes(), timed: value.content.at !== undefined } : [],
				)
			: targets?.cell === cell
				? (targets.value ?? []).flatMap((target) =>
						target ? { of: target.name, rows: targetMinutes(target, field, night.zone), timed: target.timed } : [],
					)
				: [];
	return tables.filter(({ rows }) => rows.length > 0);
}
