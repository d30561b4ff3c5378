/** What the logs of many plans say of each head: its constant errors, their spread, and the evenings they rest on. */
import type { EvaluatedLog, EveningConstants } from "../cells/log/log.ts";
import { constantsOf } from "../cells/log/log.ts";
import type { CalendarDate } from "../earth/calendar.ts";
import { dateText } from "../notation/date.ts";
import { cellsOf } from "../plan/plan.ts";
import type { Evaluation } from "./evaluate.ts";

export interface LoggedPlan {
	/** What the reader knows the plan by. */
	readonly path: string;
	readonly evaluation: Evaluation;
}

export interface HeadEvening {
	readonly path: string;
	readonly date: CalendarDate;
	readonly constants: EveningConstants;
}

/** A head, known by the tracker's name and its kind: plans that name no tracker mean one and the same. */
export interface Head {
	readonly name: string;
	readonly kind: string;
	readonly constant: EvaluatedLog["constant"];
	/** The evening from which a row with them can hold. */
	readonly next: CalendarDate | undefined;
	/** Those that tell a constant, by date; an evening that is in two plans counts once. */
	readonly evenings: readonly HeadEvening[];
	/** How many more were measured, the axis being set without a scale. */
	readonly others: number;
}

/** Whether a plan has a log of which nothing can be said. */
export const isUnreadable = ({ evaluation: { plan, log } }: LoggedPlan): boolean => {
	const cell = cellsOf(plan, "log")[0];
	return cell !== undefined && log?.value === undefined && cell.read.content?.length !== 0;
};

/** Whether a plan has a cell that may have been its log: one that cannot be read, or whose kind is misspelt. */
export const mayHideLog = ({ evaluation: { plan } }: LoggedPlan): boolean =>
	plan.cells.some(
		({ read }) =>
			read.kind === undefined &&
			read.problems.some((problem) =>
				problem.type === "unknown-kind" ? problem.nearest === "log" : problem.type !== "empty-cell",
			),
	);

interface Gathered {
	readonly name: string;
	readonly kind: string;
	readonly evenings: Map<string, HeadEvening>;
	readonly next: { readonly date: CalendarDate }[];
	others: number;
}

/** In the order of their names. */
export function headsOf(plans: readonly LoggedPlan[]): readonly Head[] {
	const heads = new Map<string, Gathered>();
	for (const { path, evaluation } of plans) {
		const { tracker, log } = evaluation;
		if (!log?.value) continue;
		const name = tracker?.name ?? "tracker";
		const kind = tracker?.head ?? "geared";
		const key = JSON.stringify([name, kind]);
		const head: Gathered = heads.get(key) ?? { name, kind, evenings: new Map(), next: [], others: 0 };
		heads.set(key, head);
		const { evenings, next } = log.value;
		if (next) head.next.push({ date: next });
		for (const { date, constants, found, part } of evenings) {
			if (!constants.tilt && !constants.pan) head.others += found || part ? 1 : 0;
			else {
				const same = JSON.stringify([dateText(date), constants]);
				if (!head.evenings.has(same)) head.evenings.set(same, { path, date, constants });
			}
		}
	}
	return [...heads.values()]
		.sort((one, other) => (one.name < other.name ? -1 : 1))
		.map(({ name, kind, evenings, next, others }) => {
			const all = [...evenings.values()].sort((one, other) => (dateText(one.date) < dateText(other.date) ? -1 : 1));
			return {
				name,
				kind,
				constant: constantsOf(all.map(({ constants }) => constants)),
				next: latest(next),
				evenings: all,
				others,
			};
		});
}

/** Each plan says from when on a row can hold for it: the last of them holds for all. */
const latest = (dates: readonly { readonly date: CalendarDate }[]): CalendarDate | undefined =>
	dates.map(({ date }) => date).sort((one, other) => (dateText(one) < dateText(other) ? 1 : -1))[0];
