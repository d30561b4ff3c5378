/** `drift`: the axis is corrected from the drift of test frames in two places of the sky (`alignment/drift.ts`). */
import type { AxisVector } from "../../alignment/axis-error.ts";
import { MEASURED_TO_PIXELS, solveRates } from "../../alignment/drift.ts";
import { isTooClose } from "../../alignment/pairs.ts";
import type { EpochMs } from "../../earth/zone.ts";
import { bearingText } from "../../notation/bearing.ts";
import { durationText } from "../../notation/duration.ts";
import { heightText } from "../../notation/height.ts";
import { exactNightClock } from "../../notation/night-clock.ts";
import { bodyName, clock, mapping, optional, quantity, required } from "../../notation/shape.ts";
import { type PathOf, valuesFor } from "../../notation/value.ts";
import { pixelScaleArcsec } from "../../optics/camera.ts";
import { equatorialPlace, findBody } from "../../sky/place.ts";
import { halfTurn } from "../../sky/vector.ts";
import type { CommonContent, ContentOf } from "../common-keys.ts";
import { markValues } from "../mark-values.ts";
import { type Mark, method, type Obstacle, type SetUp } from "../method.ts";
import { markOf, sightObstacles } from "../sight.ts";
import { source } from "../source.ts";
import { axisNumbers, type Tonight } from "../tonight.ts";
import { words } from "./words.ts";

/** Rounds of two test frames that it takes as a rule, and minutes beside each frame: to aim, to look, to turn. */
const ROUNDS = 2;
const BESIDE_FRAME = 5;

/** How long a test frame runs when the plan does not say, seconds. Common practice, no source. */
const TEST_FRAME = 240;
/** How well a drift is measured where no lens is known, degrees. Common practice, no source. */
const MEASURED_TO = 30 / 3600;

const test = mapping("A test frame for the drift", {
	star: required(bodyName(), { doc: "Star (or the middle of the frame) whose drift is measured.", example: "Spica" }),
	at: required(clock(), { doc: "Clock time of the frame's middle.", example: '"21:10"' }),
	frame: optional(quantity("duration", { min: 0.001, max: 7200 }), {
		doc: "How long the frame runs.",
		example: "4 min",
		otherwise: "4 min",
	}),
});

const keys = {
	first: optional(test, { doc: "the first test frame.", example: '{ star: Spica, at: "21:10", frame: 4 min }' }),
	second: optional(test, {
		doc: "the second, some six hours of hour angle from the first.",
		example: '{ star: Altair, at: "21:20", frame: 4 min }',
	}),
};

type Content = ContentOf<typeof keys> & CommonContent;

const roundsTake = ({ first, second }: ContentOf<typeof keys>): number =>
	ROUNDS * [first, second].reduce((sum, one) => sum + (one?.frame ?? TEST_FRAME) / 60 + BESIDE_FRAME, 0);

type TestKey = keyof typeof keys;
const TESTS: readonly TestKey[] = ["first", "second"];

interface DriftSetUp extends SetUp {
	/** In the order in which they are taken. */
	readonly tests: readonly SeenTest[];
	/** Hour angle between the stars, degrees. */
	readonly spread: number | undefined;
}

interface SeenTest {
	readonly mark: Mark;
	readonly at: EpochMs;
	readonly frame: number;
	readonly hourAngle: number;
}

function setUp(content: Content, tonight: Tonight): DriftSetUp {
	const { spot, onSite, camera } = tonight;
	const obstacles: Obstacle[] = [];
	for (const key of TESTS) {
		if (!content[key]?.star || content[key]?.at === undefined) obstacles.push({ type: "needs-key", key });
	}
	const [one, other] = TESTS.map((key) => seenTest(content, key, tonight, obstacles));
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
		windows: open ? [{ from, until }] : [],
		marks: one && other ? [one.mark, other.mark] : [],
		tests,
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

function seenTest(content: Content, key: TestKey, tonight: Tonight, obstacles: Obstacle[]): SeenTest | undefined {
	const { star, at: clockTime, frame = TEST_FRAME } = content[key] ?? {};
	if (!star || clockTime === undefined) return undefined;
	const body = findBody(star);
	if (!body) {
		obstacles.push({ type: "unknown-name", key: `${key}.star`, name: star });
		return undefined;
	}
	const at = tonight.instant(clockTime);
	const { magnitude: _, seenMagnitude: __, ...mark } = markOf(body, `${key}.star`, tonight, at);
	// The camera sees fainter stars than the eye: only cover and daylight count.
	const sight = sightObstacles(mark, body, mark.direction, tonight, at);
	obstacles.push(...sight.filter(({ type }) => type !== "too-faint"));
	return { mark, at, frame, hourAngle: equatorialPlace(body, tonight.spot, at).hourAngle };
}

const SHOWN_AT = ["first", "first.star", "at"] as const satisfies readonly PathOf<Content>[];
const { of: valuesOfMarks, ...markTable } = markValues<PathOf<Content>>(SHOWN_AT);
const values = valuesFor<PathOf<Content>>()("method", {
	"pair-spread": {
		is: "angle",
		places: 0,
		label: "Hour angle between the stars",
		how: "90° is best; the error grows as 1 / sin of it.",
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
		...tests.map(({ mark, frame, at }) => ({
			say: words.frame({
				star: mark.name,
				height: heightText(mark.direction.altitude),
				bearing: bearingText(mark.direction.azimuth),
				frame: durationText(frame),
				at: exactNightClock(tonight, at),
			}),
			number: exactNightClock(tonight, at),
			at,
		})),
		{ say: words.log() },
		{ say: tonight.tools.scales ? words.correct() : words.correctBall() },
	],
	declares: { ...markTable, ...values },
	values: ({ marks, spread }) => [
		...valuesOfMarks(marks),
		...(spread === undefined ? [] : [values["pair-spread"](spread, { of: "drift" })]),
	],
});
