/** What follows from a method: its set-up tonight, its budget, its steps. */
import { type Budget, budgetOf } from "../../alignment/budget.ts";
import type { MagneticField } from "../../earth/magnetism.ts";
import { type EpochMs, wallClock } from "../../earth/zone.ts";
import { Kept, lazily } from "../../memory/memory.ts";
import { beginAt, doneFrom, minutesTaken } from "../../methods/before-frames.ts";
import { isOfItsTime, type SetUp, type Step } from "../../methods/method.ts";
import { type AnyMethod, type MethodContent, methodName, methodOf } from "../../methods/methods.ts";
import type { SightedLandmark, Tonight } from "../../methods/tonight.ts";
import type { Interval } from "../../sky/intervals.ts";
import type { Phrase } from "../../text/sentence.ts";
import type { EvaluatedLens } from "../lens/lens.ts";
import { everyMinute, type MinuteRow, minuteTable } from "../minute-table.ts";
import type { EvaluatedNight } from "../night/night.ts";
import type { EvaluatedSite } from "../site/site.ts";
import type { TrackerContent } from "../tracker/keys.ts";
import { toolsOf } from "../tracker/tracker.ts";

export interface EvaluatedMethod {
	readonly content: MethodContent;
	readonly method: AnyMethod;
	/** What people call it. */
	readonly name: string;
	readonly setUp: SetUp;
	readonly budget: Budget;
	/** What to do, made when asked for. */
	readonly steps: () => readonly Step[];
	/** Its numbers by the minute around its time, made when asked for; none where none changes. */
	readonly minutes: () => readonly MinuteRow[];
	/** The same for every minute, as long as it works: for what is live. */
	readonly everyMinute: () => readonly MinuteRow[];
	/** What it needs. */
	readonly needs: Phrase;
	/** Seconds that it takes. */
	readonly takes: number;
	/** When it is begun; undefined where that can be at any time. */
	readonly begins: EpochMs | undefined;
	/** When it is done: after its time, or after arriving where it can be done at any. */
	readonly done: EpochMs;
	/** Whether it can work tonight as it is planned. */
	readonly works: boolean;
	/** When it would work where nothing but the time planned keeps it from that; else none. */
	readonly otherwise: readonly Interval[];
}

/** Searches of one night that are remembered at once. */
const KEPT_SEARCHES = 64;

/** What every method is evaluated from: the spot, its cover, the night, the tools. */
export function tonightOf(
	site: EvaluatedSite,
	night: EvaluatedNight,
	field: () => MagneticField | undefined,
	landmarks: () => readonly SightedLandmark[],
	tracker: TrackerContent | undefined,
	lens: EvaluatedLens | undefined,
	{ ready, pace }: Pick<Tonight, "ready" | "pace">,
): Tonight {
	const searches = new Kept<string, unknown>(KEPT_SEARCHES);
	return {
		spot: site.spot,
		cover: site.cover,
		extinction: site.extinction,
		night: night.sky,
		zone: night.zone,
		date: night.date,
		onSite: night.onSite,
		ready,
		pace,
		due: undefined,
		get magnetic() {
			return field();
		},
		get landmarks() {
			return landmarks();
		},
		tools: toolsOf(tracker, night.date),
		camera: lens?.camera,
		instant: night.instant,
		remember: <T>(name: string, search: () => T): T => searches.of(name, search) as T,
	};
}

/** The tilt that hands set, degrees: what the scale must show, its zero in it, where the scale sets the axis. */
export const tiltToSet = ({ method, setUp }: Pick<EvaluatedMethod, "method" | "setUp">): number =>
	method.byScale.includes("tilt") ? setUp.scaleTilt : setUp.tilt;

/** Whether a method works at another moment, its marks being as they are. */
export function worksAt({ content, method }: EvaluatedMethod, tonight: Tonight, at: EpochMs): boolean {
	const then = method.setUp({ ...content, at: wallClock(tonight.zone, at).secondsOfDay } as MethodContent, tonight);
	return then.obstacles.length === 0 && then.windows.length > 0;
}

/** Undefined while the kind cannot be read. */
export function evaluateMethod(
	content: MethodContent | undefined,
	tonight: Tonight | undefined,
): EvaluatedMethod | undefined {
	if (!content?.kind || !tonight) return undefined;
	const method = methodOf(content.kind);
	const setUp = method.setUp(content, tonight);
	const minutes = minutesTaken(content, method.takes(content));
	const begins = setUp.begins ?? (setUp.at === undefined ? undefined : beginAt(setUp.at, minutes));
	const byMinute = (table: typeof minuteTable): readonly MinuteRow[] => {
		const { at, windows } = setUp;
		const valuesAt = at === undefined ? undefined : method.byMinute?.(setUp, tonight);
		return at === undefined || !valuesAt ? [] : table(windows, at, tonight.zone, valuesAt);
	};
	return {
		content,
		method,
		name: methodName(method, content),
		setUp,
		takes: minutes * 60,
		begins,
		done: doneFrom(begins ?? tonight.onSite.from, minutes),
		budget: budgetOf(setUp),
		steps: lazily(() => method.steps(setUp, tonight, content)),
		minutes: lazily(() => byMinute(minuteTable)),
		everyMinute: lazily(() => byMinute(everyMinute)),
		needs: method.needs?.(content, tonight) ?? method.words.needs(),
		works: setUp.obstacles.length === 0 && setUp.windows.length > 0,
		otherwise:
			setUp.obstacles.length > 0 && content.at !== undefined && setUp.obstacles.every(isOfItsTime) ? setUp.windows : [],
	};
}
