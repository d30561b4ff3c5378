/**
 * `pole-sighting`: the axis is put on the pole through a polar scope or sight hole, by the pole star's place beside it
 * (`alignment/pole.ts`).
 */
import { missOf } from "../../alignment/pointer.ts";
import { type PoleStarPlace, poleStarPlace, seenPole } from "../../alignment/pole.ts";
import { type EpochMs, minuteOf } from "../../earth/zone.ts";
import { degrees } from "../../notation/angle.ts";
import { exactNightClock } from "../../notation/night-clock.ts";
import { optional, starName } from "../../notation/shape.ts";
import { type PathOf, valuesFor } from "../../notation/value.ts";
import { hiddenBy } from "../../sky/cover.ts";
import { SKY_RATE_ARCSEC } from "../../sky/frame.ts";
import { type Interval, longest } from "../../sky/intervals.ts";
import { sunAltitude } from "../../sky/night.ts";
import { apparentDirection, findBody, type SkyBody } from "../../sky/place.ts";
import { whereTrue } from "../../sky/roots.ts";
import { cosBetween, type Star, starAt, starColumns } from "../../sky/stars.ts";
import { RAD, turn } from "../../sky/vector.ts";
import { type Phrase, told } from "../../text/sentence.ts";
import { inTime, minutesTaken } from "../before-frames.ts";
import type { CommonContent, ContentOf } from "../common-keys.ts";
import { markValues } from "../mark-values.ts";
import { type DialPlace, method, type Obstacle, type Pictures, type SetUp } from "../method.ts";
import { minuteNear, onMinutes } from "../minutes.ts";
import { tiltNumber } from "../set-scale.ts";
import { canSight, markOf, sightObstacles } from "../sight.ts";
import { source } from "../source.ts";
import { axisNumbers, type Tonight } from "../tonight.ts";
import { words } from "./words.ts";

const STEP_MS = 600_000;
const HALF_HOUR_MS = 1_800_000;
/** How well a star is put on its mark in a scope, and how well the scope stands along the axis, degrees. Common practice, no source. */
const SCOPE_AIM = 3 / 60;
/** The same where a ball is held by hand and locked. Common practice, no source. */
const BALL_AIM = 0.25;
const SCOPE_SQUARENESS = 5 / 60;

const keys = {
	star: optional(starName(), {
		doc: "the pole star.",
		example: "Polaris",
		otherwise: "Polaris in the north, σ Octantis in the south",
	}),
};

type Content = ContentOf<typeof keys> & CommonContent & { readonly kind?: string };

export interface PoleSetUp extends SetUp {
	readonly poleStar: PoleStarPlace | undefined;
	/** How far refraction lifts the pole that is sighted above the true one, degrees: the axis ends so much too high. */
	readonly lift: number;
}

const poleStarOf = (latitude: number): string => (latitude >= 0 ? "Polaris" : "sigma Octantis");

/** Minutes that eyes take to get used to the dark. Common practice, no source. */
const EYES_TAKE = 25;
/** What it takes, minutes. Common practice, no source. */
const MINUTES = 5;

/**
 * The best time of a window: its first minute; of a faint pole star, which is at the edge of what can be seen then, when
 * eyes have been in the dark for long enough, if that is in time for the frames.
 */
function bestIn(window: Interval, body: SkyBody | undefined, content: Content, tonight: Tonight): EpochMs {
	const wish = isFaint(body) ? Math.min(window.from + EYES_TAKE * 60_000, window.until) : window.from;
	const [early] = inTime([window], tonight, minutesTaken(content, MINUTES));
	return early ? Math.min(Math.max(wish, early.from), early.until) : wish;
}

const isFaint = (body: SkyBody | undefined): body is SkyBody & { readonly type: "star" } =>
	body?.type === "star" && body.star.magnitude > HARD_TO_TELL;

function setUp(content: Content, tonight: Tonight): PoleSetUp {
	const { spot, cover, onSite, zone } = tonight;
	const obstacles: Obstacle[] = [];
	const name = content.star ?? poleStarOf(spot.latitude);
	const body = findBody(name);
	const pole = seenPole(spot);
	const by = hiddenBy(cover, pole);
	if (by) obstacles.push({ type: "pole-hidden", by, skyline: cover.skylineAt(pole.azimuth) });
	if (!body) obstacles.push({ type: "unknown-name", key: "star", name });
	const works = (t: EpochMs): boolean => body !== undefined && canSight(body, tonight, t, SCOPE_GAIN);
	const windows = by || !body ? [] : onMinutes(whereTrue(works, onSite, STEP_MS), works, zone);
	const window = longest(windows);
	const first = window && minuteNear(bestIn(window, body, content, tonight), [window], works, zone);
	// Where it never works, what keeps it from that is told for the darkest minute.
	const at = body && (content.at === undefined ? (first ?? darkest(onSite, tonight)) : tonight.instant(content.at));
	const mark =
		body && at !== undefined ? markOf(body, content.star === undefined ? "kind" : "star", tonight, at) : undefined;
	const poleStar = body && at !== undefined ? poleStarPlace(body, spot, at) : undefined;
	if (mark && at !== undefined && !by) {
		obstacles.push(...sightObstacles(mark, mark.body, mark.direction, tonight, at, SCOPE_GAIN));
		if (windows.length === 0) obstacles.push({ type: "no-window" });
	}
	const bothWays = [
		{ along: 1, across: 0 },
		{ along: 0, across: 1 },
	];
	const lift = pole.altitude - Math.abs(spot.latitude);
	// The pole star turns about the pole: a late clock or a scope rolled by an angle puts it D · angle to one side.
	const { right, up } = poleStar ?? { right: 0, up: 0 };
	const perSecond = (SKY_RATE_ARCSEC / 3600) * RAD;
	return {
		...axisNumbers(tonight),
		at,
		windows,
		marks: mark ? [mark] : [],
		poleStar,
		lift,
		bias: { along: lift, across: 0 },
		obstacles,
		pictures: mark && poleStar && at !== undefined ? { dial: dialPicture(mark.name, at, poleStar) } : {},
		sources: [
			source("aim", content, tonight, bothWays, tonight.tools.scales ? SCOPE_AIM : BALL_AIM),
			source("squareness", content, tonight, bothWays, SCOPE_SQUARENESS),
			source("level", content, tonight, [{ along: right * RAD, across: up * RAD }]),
			source("clock", content, tonight, [{ along: right * perSecond, across: up * perSecond }]),
			source("body", content, tonight, bothWays),
		],
	};
}

/** Magnitudes that a polar scope adds to what the eye sees: some 25 mm of glass against 7 mm of pupil, with its losses. Common practice, no source. */
const SCOPE_GAIN = 2;
/** A pole star fainter than this is hard to tell: its neighbours are told too. */
const HARD_TO_TELL = 4;
/** How far around it they are, degrees, and how many. */
const NEIGHBOURHOOD = 2.5;
const NEIGHBOURS = 3;

/** The brightest stars around a pole star, the brightest first. */
function neighboursOf({ star }: SkyBody & { readonly type: "star" }): readonly Star[] {
	const { magnitude, declination } = starColumns();
	const cosLimit = Math.cos(NEIGHBOURHOOD * RAD);
	const near: number[] = [];
	declination.forEach((value, index) => {
		if (index === star.index || Math.abs(value - star.declination) > NEIGHBOURHOOD) return;
		if (cosBetween(index, star.index) > cosLimit) near.push(index);
	});
	return near
		.sort((a, b) => (magnitude[a] as number) - (magnitude[b] as number))
		.slice(0, NEIGHBOURS)
		.map(starAt);
}

/** A faint pole star's neighbours in words: how bright, how far from it and which way, as the dial has it, upright. */
function patternAround(body: SkyBody & { readonly type: "star" }, { spot }: Tonight, at: EpochMs): readonly Phrase[] {
	const here = apparentDirection(body, spot, at);
	return neighboursOf(body).map((star, i) => {
		const { right, up, total } = missOf(here, apparentDirection({ type: "star", name: star.name, star }, spot, at));
		const { place } = onDial(turn(Math.atan2(right, up) / RAD) / 30);
		const neighbour = { star: star.name, magnitude: star.magnitude.toFixed(1), angle: degrees(total), place };
		return i === 0 ? words.neighbour(neighbour) : words.another(neighbour);
	});
}

/** The minute with the Sun lowest, of one every half hour. */
function darkest({ from, until }: Interval, { spot, zone }: Tonight): EpochMs {
	const count = Math.max(1, Math.ceil((until - from) / HALF_HOUR_MS));
	const moments = Array.from({ length: count + 1 }, (_, i) => minuteOf(zone, from + ((until - from) * i) / count));
	return moments.reduce((best, at) => (sunAltitude(spot, at) < sunAltitude(spot, best) ? at : best));
}

/** A place on a dial of twelve hours, as its hour hand has it, with the angle from the top. */
function onDial(hours: number): DialPlace {
	const minutes = Math.round(hours * 60) % 720;
	const place = { hours: Math.floor(minutes / 60) || 12, minutes: String(minutes % 60).padStart(2, "0") };
	return { place: told(words.dial(place)), angle: degrees(minutes / 2, 0) };
}

const dialText = (hours: number): string => told(words.onDial(onDial(hours)));

const dialPicture = (
	star: string,
	at: EpochMs,
	{ distance, clockUpright, clockInverted }: PoleStarPlace,
): NonNullable<Pictures["dial"]> => ({
	star,
	at,
	distance,
	hours: clockUpright,
	upright: onDial(clockUpright),
	inverted: onDial(clockInverted),
});

const SHOWN_AT = ["star", "kind", "at"] as const satisfies readonly PathOf<Content>[];
const { of: valuesOfMarks, ...markTable } = markValues<PathOf<Content>>(["star", "at"]);
const values = valuesFor<PathOf<Content>>()("method", {
	"pole-star-distance": {
		is: "number",
		unit: "′",
		label: "{mark} from the pole",
		how: "Apparent place of date, refraction included.",
		at: SHOWN_AT,
	},
	"pole-star-clock": {
		is: "text",
		label: "Place on a 12-hour dial, upright",
		how: "As the hour hand of a 12-hour dial around the pole, as you face the pole.",
		at: SHOWN_AT,
	},
	"pole-star-clock-inverted": {
		is: "text",
		label: "Place on a 12-hour dial, inverted",
		how: "Through a scope that shows the view upside down.",
		at: SHOWN_AT,
	},
	"pole-lift": {
		is: "number",
		unit: "′",
		label: "Sighted pole above the true one by",
		how: "Refraction at the pole's altitude: the axis ends on the pole as it is seen, too high by this much.",
		at: SHOWN_AT,
	},
});

const valuesOfDial = ({ clockUpright, clockInverted }: PoleStarPlace, of: string) => [
	values["pole-star-clock"](dialText(clockUpright), { of }),
	values["pole-star-clock-inverted"](dialText(clockInverted), { of }),
];

const arcminutes = (angle: number): string => `${(angle * 60).toFixed(1)}′`;

/** The pole itself, sighted. */
export const poleSighting = method({
	kind: "pole-sighting",
	words,
	keys,
	markKeys: ["star"],
	takes: () => MINUTES,
	byScale: [],
	hazards: () => [],
	needs: ({ star }, { spot }) => {
		const body = findBody(star ?? poleStarOf(spot.latitude));
		return isFaint(body) ? words.needsFaint({ star: body.name, magnitude: body.star.magnitude.toFixed(1) }) : undefined;
	},
	setUp,
	steps({ poleStar, marks: [mark], tilt, at, lift }, tonight) {
		const { tools } = tonight;
		if (!poleStar || !mark || at === undefined) return [];
		const upright = onDial(poleStar.clockUpright);
		const inverted = onDial(poleStar.clockInverted);
		const clock = exactNightClock(tonight, at);
		return [
			{ say: tools.scales ? words.rough() : words.roughBall(), ...tiltNumber(tilt) },
			...(isFaint(mark.body)
				? [
						{
							say: words.faint({
								minutes: EYES_TAKE,
								mark: mark.name,
								magnitude: mark.body.star.magnitude.toFixed(1),
								seen: (mark.seenMagnitude ?? mark.body.star.magnitude).toFixed(1),
								pattern: patternAround(mark.body, tonight, at),
							}),
						},
					]
				: []),
			{ say: words.find({ mark: mark.name }), number: arcminutes(poleStar.distance), seen: true },
			{
				say: words.put({
					at: clock,
					angle: upright.angle,
					inverted: inverted.place,
					invertedAngle: inverted.angle,
				}),
				number: upright.place,
				brief: words.putBrief({ mark: mark.name, place: words.onDial(upright), at: clock }),
				at,
			},
			{ say: words.lock({ how: tools.scales ? words.lockHead() : words.lockBall(), lift: arcminutes(lift) }) },
		];
	},
	declares: { ...markTable, ...values },
	values({ marks, poleStar, lift }) {
		const [mark] = marks;
		if (!mark || !poleStar) return valuesOfMarks(marks);
		const of = mark.name;
		return [
			...valuesOfMarks(marks),
			values["pole-star-distance"](poleStar.distance * 60, { of, fill: { mark: mark.name } }),
			...valuesOfDial(poleStar, of),
			values["pole-lift"](lift * 60, { of }),
		];
	},
	byMinute({ marks: [mark] }, { spot }) {
		const body = mark?.body;
		if (!mark || !body) return undefined;
		return (at) => valuesOfDial(poleStarPlace(body, spot, at), mark.name);
	},
	propose: () => [{ content: {}, keys: {}, by: words.inView() }],
	drafts: [""],
});
