/** What can be done with many plans, on several cores: each takes a plan's path, and what it is asked and gives is data. */
import type { checkJob } from "./check.node.ts";
import type { nightsJob } from "./nights.node.ts";
import type { reportJob } from "./report.node.ts";

/** What is done with one plan. Throws `CannotRun` where the plan cannot be read. */
export type Job<A, M> = (path: string, asked: A) => M;

/** Loaded where they are done. */
export const JOBS = {
	check: async () => (await import("./check.node.ts")).checkJob,
	nights: async () => (await import("./nights.node.ts")).nightsJob,
	report: async () => (await import("./report.node.ts")).reportJob,
} as const satisfies Readonly<Record<string, () => Promise<Job<never, unknown>>>>;

interface Done {
	readonly check: typeof checkJob;
	readonly nights: typeof nightsJob;
	readonly report: typeof reportJob;
}

export type JobName = keyof Done;
export type Asked<J extends JobName> = Parameters<Done[J]>[1];
export type Made<J extends JobName> = ReturnType<Done[J]>;
