/** What the logs of many plans say of each head: its constant errors, their spread, and the evenings they rest on. */
import type { Doubt, EvaluatedLog, EveningConstants } from "../cells/log/log.ts";
import { constantsOf } from "../cells/log/log.ts";
import type { Zeros } from "../cells/tracker/zeros.ts";
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

export interface DoubtfulEvening {
	readonly path: string;
	readonly date: CalendarDate;
	readonly doubt: Doubt;
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
	/** What the steps of the plan with the latest evening correct for already. */
	readonly inForce: Zeros;
	/** Those whose numbers are not to be trusted, by date: nothing is built on them. */
	readonly doubtful: readonly DoubtfulEvening[];
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
	readonly doubtful: Map<string, DoubtfulEvening>;
	readonly next: { readonly date: CalendarDate; readonly inForce: Zeros }[];
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
		const head: Gathered = heads.get(key) ?? {
			name,
			kind,
			evenings: new Map(),
			doubtful: new Map(),
			next: [],
			others: 0,
		};
		heads.set(key, head);
		const { evenings, next, inForce } = log.value;
		if (next) head.next.push({ date: next, inForce });
		for (const { date, constants, found, part, doubt } of evenings) {
			if (doubt) head.doubtful.set(JSON.stringify([dateText(date), doubt]), { path, date, doubt });
			else if (!constants.tilt && !constants.pan) head.others += found || part ? 1 : 0;
			else {
				const same = JSON.stringify([dateText(date), constants]);
				if (!head.evenings.has(same)) head.evenings.set(same, { path, date, constants });
			}
		}
	}
	return [...heads.values()]
		.sort((one, other) => (one.name < other.name ? -1 : 1))
		.map(({ name, kind, evenings, doubtful, next, others }) => {
			const all = [...evenings.values()].sort(byDate);
			const last = latest(next);
			return {
				name,
				kind,
				constant: constantsOf(all.map(({ constants }) => constants)),
				next: last?.date,
				inForce: last?.inForce ?? { tilt: 0, pan: 0 },
				doubtful: [...doubtful.values()].sort(byDate),
				evenings: all,
				others,
			};
		});
}

const byDate = (one: { readonly date: CalendarDate }, other: { readonly date: CalendarDate }): number =>
	dateText(one.date) < dateText(other.date) ? -1 : 1;

/** Each plan says from when on a row can hold for it: the last of them holds for all. */
const latest = (dates: Gathered["next"]): Gathered["next"][number] | undefined => [...dates].sort(byDate).at(-1);
