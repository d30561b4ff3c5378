/**
 * Work on many plans, on as many cores as there are. Each thread takes the next few plans of the list by a counter that
 * they share; this one works from the start, and the others help once they have loaded. What comes of it is in the order
 * of the list, whoever did it.
 */
import { availableParallelism } from "node:os";
import { Worker } from "node:worker_threads";
import { CannotRun } from "./files.node.ts";
import { type Asked, JOBS, type Job, type JobName, type Made } from "./jobs/jobs.ts";

/** What came of one plan; `failed`: why it could not be read. */
export type Outcome<M> = { readonly made: M } | { readonly failed: string };

/** What a helper is told, and shares with the others. */
export interface HelperData {
	readonly job: JobName;
	readonly asked: unknown;
	readonly paths: readonly string[];
	/** [the next plan that nobody has taken; per helper, whether it has begun or is not needed]. */
	readonly shared: SharedArrayBuffer;
	readonly helper: number;
}

/** What a helper says: a few plans are done, all are done. */
export type HelperMessage = { readonly from: number; readonly outcomes: readonly Outcome<unknown>[] } | "done";

/** Plans that a thread takes at a time: those beside each other often share cells. */
const TAKEN = 8;
/** Fewer plans are done before a helper has loaded. */
const WORTH_A_HELPER = 24;
/** Each holds memory of its own. */
const MOST_THREADS = 8;
const [IDLE, BEGUN, NOT_NEEDED] = [0, 1, 2];

/** `threads`: at most so many. */
export async function forMany<J extends JobName>(
	job: J,
	paths: readonly string[],
	asked: Asked<J>,
	threads = availableParallelism(),
): Promise<readonly Outcome<Made<J>>[]> {
	const most = Math.min(threads, MOST_THREADS, Math.ceil(paths.length / WORTH_A_HELPER));
	const shared = new SharedArrayBuffer(Int32Array.BYTES_PER_ELEMENT * Math.max(1, most));
	const outcomes = new Array<Outcome<Made<J>>>(paths.length);
	const place = (from: number, some: readonly Outcome<unknown>[]): void => {
		for (const [i, one] of some.entries()) outcomes[from + i] = one as Outcome<Made<J>>;
	};
	const helpers = Array.from({ length: most - 1 }, (_, i) =>
		startHelper({ job, asked, paths, shared, helper: i + 1 }, place),
	);
	try {
		const data = { job, asked, paths, shared };
		await takeTurns(data, place);
		await Promise.all(helpers.map(({ done }, i) => (isNeeded(shared, i + 1) ? done : undefined)));
	} finally {
		for (const { worker } of helpers) void worker.terminate();
	}
	return outcomes;
}

function startHelper(workerData: HelperData, place: (from: number, some: readonly Outcome<unknown>[]) => void) {
	const worker = new Worker(new URL("./lodebook-worker.mjs", import.meta.url), { workerData });
	const done = new Promise<void>((resolve, reject) => {
		worker.on("message", (message: HelperMessage) => {
			if (message === "done") resolve();
			else place(message.from, message.outcomes);
		});
		worker.on("error", reject);
		worker.on("exit", () => resolve());
	});
	// One that fails while this thread still works is told of afterwards.
	done.catch(() => {});
	return { worker, done };
}

/** Whether a helper has begun; if not, it never will. */
const isNeeded = (shared: SharedArrayBuffer, helper: number): boolean =>
	Atomics.compareExchange(new Int32Array(shared), helper, IDLE, NOT_NEEDED) !== IDLE;

/** Whether a helper may begin. */
export const mayBegin = ({ shared, helper }: HelperData): boolean =>
	Atomics.compareExchange(new Int32Array(shared), helper, IDLE, BEGUN) === IDLE;

/** Takes plans until none is left. `give` is told what came of each few. */
export async function takeTurns(
	{ job, asked, paths, shared }: Omit<HelperData, "helper">,
	give: (from: number, outcomes: readonly Outcome<unknown>[]) => void,
): Promise<void> {
	const next = new Int32Array(shared);
	const run = (await JOBS[job]()) as Job<unknown, unknown>;
	for (;;) {
		const from = Atomics.add(next, 0, TAKEN);
		if (from >= paths.length) return;
		give(
			from,
			paths.slice(from, from + TAKEN).map((path) => outcomeOf(() => run(path, asked))),
		);
	}
}

function outcomeOf<M>(make: () => M): Outcome<M> {
	try {
		return { made: make() };
	} catch (error) {
		if (error instanceof CannotRun) return { failed: error.message };
		throw error;
	}
}
