/** `drift`: the axis is corrected from the drift of test frames in two places of the sky (`alignment/drift.ts`). */
import type { AxisVector } from "../../alignment/axis-error.ts";
import { MEASURED_TO_PIXELS, solveRates } from "../../alignment/drift.ts";
import { isTooClose } from "../../alignment/pairs.ts";
import { type EpochMs, minuteUp } from "../../earth/zone.ts";
import { bearingText } from "../../notation/bearing.ts";
import { durationText } from "../../notation/duration.ts";
import { heightText } from "../../notation/height.ts";
import { exactNightClock, nightClock } from "../../notation/night-clock.ts";
import { bodyName, clock, mapping, optional, quantity, required } from "../../notation/shape.ts";
import { type PathOf, valuesFor } from "../../notation/value.ts";
import { pixelScaleArcsec } from "../../optics/camera.ts";
import type { Interval } from "../../sky/intervals.ts";
import { apparentDirection, equatorialPlace, findBody, type SkyBody } from "../../sky/place.ts";
import { whereTrue } from "../../sky/roots.ts";
import { halfTurn } from "../../sky/vector.ts";
import { minutesTaken } from "../before-frames.ts";
import type { CommonContent, ContentOf } from "../common-keys.ts";
import { markValues } from "../mark-values.ts";
import { type Mark, method, type Obstacle, type SetUp } from "../method.ts";
import { onMinutes } from "../minutes.ts";
import { markOf, sightObstacles } from "../sight.ts";
import { source } from "../source.ts";
import { axisNumbers, type Tonight } from "../tonight.ts";
import { driftPairs } from "./pairs.ts";
import { words } from "./words.ts";

/** Rounds of two test frames that it takes as a rule, and minutes beside each frame: to aim, to look, to turn. */
const ROUNDS = 2;
const BESIDE_FRAME = 5;

/** How long a test frame runs when the plan does not say, seconds. Common practice, no source. */
const TEST_FRAME = 240;
const MINUTE_MS = 60_000;
const STEP_MS = 600_000;
/** How well a drift is measured where no lens is known, degrees. Common practice, no source. */
const MEASURED_TO = 30 / 3600;

const test = mapping("A test frame for the drift", {
	star: required(bodyName(), { doc: "Star (or the middle of the frame) whose drift is measured.", example: "Spica" }),
	at: optional(clock(), {
		doc: "Clock time of the frame's middle.",
		example: '"21:10"',
		otherwise: "when the evening has time for both frames, one right after the other",
	}),
	frame: optional(quantity("duration", { min: 0.001, max: 7200 }), {
		doc: "How long the frame runs.",
		example: "4 min",
		otherwise: "4 min",
	}),
});

const keys = {
	first: optional(test, { doc: "the first test frame.", example: "{ star: Spica, frame: 4 min }" }),
	second: optional(test, {
		doc: "the second, some six hours of hour angle from the first.",
		example: "{ star: Altair, frame: 4 min }",
	}),
};

export type Content = ContentOf<typeof keys> & CommonContent;

const roundsTake = ({ first, second }: ContentOf<typeof keys>): number =>
	ROUNDS * [first, second].reduce((sum, one) => sum + (one?.frame ?? TEST_FRAME) / 60 + BESIDE_FRAME, 0);

type TestKey = keyof typeof keys;
const TESTS: readonly TestKey[] = ["first", "second"];

export interface DriftSetUp extends SetUp {
	/** In the order in which they are taken. */
	readonly tests: readonly SeenTest[];
	/** Hour angle between the stars, degrees. */
	readonly spread: number | undefined;
}

interface SeenTest {
	readonly key: TestKey;
	readonly mark: Mark;
	readonly at: EpochMs;
	readonly frame: number;
	readonly hourAngle: number;
}

export function setUp(content: Content, tonight: Tonight): DriftSetUp {
	const { spot, onSite, camera } = tonight;
	const obstacles: Obstacle[] = [];
	for (const key of TESTS) if (!content[key]?.star) obstacles.push({ type: "needs-key", key });
	const free = content.first?.at === undefined && content.second?.at === undefined;
	const starts = free ? startsOf(content, tonight) : undefined;
	const times = timesOf(content, tonight, starts);
	if (starts?.length === 0) obstacles.push({ type: "no-window" });
	const [one, other] = TESTS.map((key, i) => seenTest(content, key, times?.[i], tonight, obstacles));
	const spread = one && other && Math.abs(halfTurn(other.hourAngle - one.hourAngle));
	if (spread !== undefined && isTooClose(spread)) obstacles.push({ type: "pair-too-close", spread, key: "second" });
	const effects = one && other && solveRates(spot.latitude, one.hourAngle, other.hourAngle);
	const from = one && other && Math.max(onSite.from, Math.min(one.at, other.at) - 600_000);
	const until =
		one && other && Math.min(onSite.until, Math.max(one.at + one.frame * 1000, other.at + other.frame * 1000));
	const tests = [one, other].filter((seen) => seen !== undefined).sort((a, b) => a.at - b.at);
	const open = from !== undefined && until !== undefined && from < until && obstacles.length === 0;
	// One degree of measured displacement over a frame is 3600″ / frame of rate.
	const perDegree = (effect: AxisVector | undefined, frame: number): AxisVector =>
		effect ? { along: (effect.along * 3600) / frame, across: (effect.across * 3600) / frame } : { along: 0, across: 0 };
	return {
		...axisNumbers(tonight),
		at: tests[0]?.at,
		begins: tests[0] && tests[0].at - tests[0].frame * 500 - BESIDE_FRAME * MINUTE_MS,
		windows: starts ?? (open ? [{ from, until }] : []),
		...(free && starts && content.at === undefined && { free }),
		marks: one && other ? [one.mark, other.mark] : [],
		tests,
		testFrames: tests.map(({ key, mark, at, frame }) => {
			const until = at + frame * 500;
			return { key, of: mark.name, from: at - frame * 500, until, free: until + BESIDE_FRAME * MINUTE_MS };
		}),
		spread,
		obstacles,
		pictures: {},
		sources: [
			source(
				"aim",
				content,
				tonight,
				[perDegree(effects?.[0], one?.frame ?? TEST_FRAME), perDegree(effects?.[1], other?.frame ?? TEST_FRAME)],
				camera ? (MEASURED_TO_PIXELS * pixelScaleArcsec(camera)) / 3600 : MEASURED_TO,
			),
		],
	};
}

const frameOf = (content: Content, key: TestKey): number => content[key]?.frame ?? TEST_FRAME;

/** Between the middles of the two test frames, on whole minutes. */
const apart = (content: Content): number =>
	minuteUp((frameOf(content, "first") / 2 + frameOf(content, "second") / 2) * 1000 + BESIDE_FRAME * MINUTE_MS);

/** From the beginning to the middle of the first test frame. */
const lead = (content: Content): number => frameOf(content, "first") * 500 + BESIDE_FRAME * MINUTE_MS;

/** Whole minutes at which the middle of the first frame can be, both stars being in view at theirs; undefined where a star is not known. */
function startsOf(content: Content, tonight: Tonight): readonly Interval[] | undefined {
	const bodies = TESTS.flatMap((key) => findBody(content[key]?.star ?? "") ?? []);
	const [first, second] = bodies;
	if (!first || !second) return undefined;
	const { onSite, zone } = tonight;
	const step = apart(content);
	const rest = minutesTaken(content, roundsTake(content)) * MINUTE_MS - lead(content);
	const isSeen = (body: SkyBody, at: EpochMs): boolean => cameraObstacles(body, tonight, at).length === 0;
	const works = (at: EpochMs): boolean => isSeen(first, at) && isSeen(second, at + step);
	const within = { from: onSite.from, until: onSite.until - rest };
	if (within.until <= within.from) return [];
	return tonight.remember(`drift ${first.name} ${second.name} ${step} ${rest}`, () =>
		onMinutes(whereTrue(works, within, STEP_MS), works, zone),
	);
}

/** The middles of both frames: as the cell has them; else when it does, or from when one is ready until they are due. */
function timesOf(
	content: Content,
	tonight: Tonight,
	starts: readonly Interval[] | undefined,
): readonly [EpochMs, EpochMs] | undefined {
	const [first, second] = TESTS.map((key) => {
		const at = content[key]?.at;
		return at === undefined ? undefined : tonight.instant(at);
	});
	const step = apart(content);
	if (first !== undefined) return [first, second ?? first + step];
	if (second !== undefined) return [second - step, second];
	if (content.at !== undefined) return [tonight.instant(content.at), tonight.instant(content.at) + step];
	const { ready, due = Number.POSITIVE_INFINITY } = tonight;
	const length = minutesTaken(content, roundsTake(content)) * MINUTE_MS;
	const ahead = lead(content);
	const inTime = starts?.flatMap(({ from, until }) => {
		const start = minuteUp(Math.max(from, ready + ahead));
		return start <= Math.min(until, due - length + ahead) ? [start] : [];
	});
	const start = inTime?.[0] ?? starts?.[0]?.from;
	return start === undefined ? undefined : [start, start + step];
}

/** The camera sees fainter stars than the eye: only cover and daylight count. */
const cameraObstacles = (body: SkyBody, tonight: Tonight, at: EpochMs, key = ""): readonly Obstacle[] =>
	sightObstacles({ name: body.name, key }, body, apparentDirection(body, tonight.spot, at), tonight, at).filter(
		({ type }) => type !== "too-faint",
	);

function seenTest(
	content: Content,
	key: TestKey,
	at: EpochMs | undefined,
	tonight: Tonight,
	obstacles: Obstacle[],
): SeenTest | undefined {
	const { star, frame = TEST_FRAME } = content[key] ?? {};
	if (!star) return undefined;
	const body = findBody(star);
	if (!body) {
		obstacles.push({ type: "unknown-name", key: `${key}.star`, name: star });
		return undefined;
	}
	if (at === undefined) return undefined;
	const { magnitude: _, seenMagnitude: __, ...mark } = markOf(body, `${key}.star`, tonight, at);
	obstacles.push(...cameraObstacles(body, tonight, at, mark.key));
	return { key, mark, at, frame, hourAngle: equatorialPlace(body, tonight.spot, at).hourAngle };
}

const SHOWN_AT = ["first", "first.star", "at"] as const satisfies readonly PathOf<Content>[];
const { of: valuesOfMarks, ...markTable } = markValues<PathOf<Content>>(SHOWN_AT);
const values = valuesFor<PathOf<Content>>()("method", {
	"pair-spread": {
		is: "angle",
		places: 0,
		label: "Hour angle between the stars",
		how: "90° is best; the error grows as 1 / sin of this angle.",
		at: ["first", "second"],
	},
});

/** Two stars watched: the axis error from how they drift on the sensor. */
export const drift = method({
	kind: "drift",
	words,
	keys,
	begins: ["first", "second"],
	markKeys: ["first", "first.star"],
	takes: roundsTake,
	byScale: [],
	corrects: true,
	hazards: () => [],
	setUp,
	steps: ({ tests }, tonight) => [
		{ say: words.rough() },
		...tests.map(({ mark, frame, at }) => {
			const number = exactNightClock(tonight, at);
			return {
				say: words.frame({
					star: mark.name,
					height: heightText(mark.direction.altitude),
					bearing: bearingText(mark.direction.azimuth),
					frame: durationText(frame),
					at: number,
				}),
				number,
				brief: words.frameBrief({ at: number, star: mark.name }),
				at,
			};
		}),
		{ say: words.log() },
		{ say: tonight.tools.scales ? words.correct() : words.correctBall() },
	],
	propose: (tonight, content = {}) =>
		driftPairs(content, tonight, setUp).map(({ content, keys, names: [first, second], at }) => ({
			content,
			keys,
			by: words.by({ first, second, at: nightClock(tonight, at) }),
		})),
	declares: { ...markTable, ...values },
	values: ({ marks, spread }) => [
		...valuesOfMarks(marks),
		...(spread === undefined ? [] : [values["pair-spread"](spread, { of: "drift" })]),
	],
});
