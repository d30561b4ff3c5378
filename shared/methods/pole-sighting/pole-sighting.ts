/**
 * `pole-sighting`: the axis is put on the pole through a polar scope or sight hole, by the pole star's place beside it
 * (`alignment/pole.ts`).
 */
import { type PoleStarPlace, poleStarPlace, seenPole } from "../../alignment/pole.ts";
import { degrees } from "../../notation/angle.ts";
import { optional, starName } from "../../notation/shape.ts";
import { type PathOf, valuesFor } from "../../notation/value.ts";
import { hiddenBy } from "../../sky/cover.ts";
import { SKY_RATE_ARCSEC } from "../../sky/frame.ts";
import { longest } from "../../sky/intervals.ts";
import { findBody, type SkyBody } from "../../sky/place.ts";
import { whereTrue } from "../../sky/roots.ts";
import { RAD } from "../../sky/vector.ts";
import type { CommonContent, ContentOf } from "../common-keys.ts";
import { markValues } from "../mark-values.ts";
import { method, type Obstacle, type SetUp } from "../method.ts";
import { canSight, markOf, sightObstacles } from "../sight.ts";
import { source } from "../source.ts";
import { axisNumbers, type Tonight } from "../tonight.ts";
import { words } from "./words.ts";

const STEP_MS = 600_000;
/** How well a star is put on its mark in a scope, and how well the scope stands along the axis, degrees. Common practice, no source. */
const SCOPE_AIM = 3 / 60;
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
}

function setUp(content: Content, tonight: Tonight): PoleSetUp {
	const { spot, cover, onSite } = tonight;
	const obstacles: Obstacle[] = [];
	const name = content.star ?? (spot.latitude >= 0 ? "Polaris" : "sigma Octantis");
	const body = findBody(name);
	const pole = seenPole(spot);
	const by = hiddenBy(cover, pole);
	if (by) obstacles.push({ type: "pole-hidden", by, skyline: cover.skylineAt(pole.azimuth) });
	if (!body) obstacles.push({ type: "unknown-name", key: "star", name });
	const windows = by || !body ? [] : whereTrue((t) => canSightThroughScope(body, tonight, t), onSite, STEP_MS);
	const wanted = content.at === undefined ? undefined : tonight.instant(content.at);
	const at = body && (wanted ?? longest(windows)?.from ?? onSite.from);
	const mark =
		body && at !== undefined ? markOf(body, content.star === undefined ? "kind" : "star", tonight, at) : undefined;
	const poleStar = body && at !== undefined ? poleStarPlace(body, spot, at) : undefined;
	if (mark && at !== undefined && !by) {
		const sight = sightObstacles(mark, mark.body, mark.direction, tonight, at);
		obstacles.push(...sight.filter(({ type }) => type !== "too-faint"));
		if (windows.length === 0) obstacles.push({ type: "no-window" });
	}
	const bothWays = [
		{ along: 1, across: 0 },
		{ along: 0, across: 1 },
	];
	// The pole star turns about the pole: a late clock or a scope rolled by an angle puts it D · angle to one side.
	const { right, up } = poleStar ?? { right: 0, up: 0 };
	const perSecond = (SKY_RATE_ARCSEC / 3600) * RAD;
	return {
		...axisNumbers(tonight),
		at,
		windows,
		marks: mark ? [mark] : [],
		poleStar,
		obstacles,
		pictures: {},
		sources: [
			source("aim", content, tonight, bothWays, SCOPE_AIM),
			source("squareness", content, tonight, bothWays, SCOPE_SQUARENESS),
			source("level", content, tonight, [{ along: right * RAD, across: up * RAD }]),
			source("clock", content, tonight, [{ along: right * perSecond, across: up * perSecond }]),
			source("body", content, tonight, bothWays),
		],
	};
}

/** Through a scope fainter stars can be seen than by eye: only twilight and cover count. */
function canSightThroughScope(body: SkyBody, tonight: Tonight, at: number): boolean {
	const faint = body.type === "star" && body.star.magnitude > 4.5;
	return canSight(faint ? { ...body, star: { ...body.star, magnitude: 4.4 } } : body, tonight, at);
}

/** `1:25` for 1.42 hours of a clock face. */
function clockFace(hours: number): string {
	const minutes = Math.round(hours * 60) % 720;
	return `${Math.floor(minutes / 60) || 12}:${String(minutes % 60).padStart(2, "0")}`;
}

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
		label: "Where it stands, upright",
		how: "As the hour hand of a clock face around the pole, as one faces it.",
		at: SHOWN_AT,
	},
	"pole-star-clock-inverted": {
		is: "text",
		label: "Where it stands, inverted",
		how: "Through a scope that turns the view by half a turn.",
		at: SHOWN_AT,
	},
});

/** The pole itself, sighted. */
export const poleSighting = method({
	kind: "pole-sighting",
	words,
	keys,
	markKeys: ["star"],
	needsScales: false,
	hazards: () => [],
	setUp,
	steps({ poleStar, marks: [mark], tilt }) {
		if (!poleStar || !mark) return [];
		return [
			{ say: words.rough(), number: degrees(tilt) },
			{ say: words.find({ mark: mark.name }), number: `${(poleStar.distance * 60).toFixed(1)}′` },
			{
				say: words.put({ inverted: clockFace(poleStar.clockInverted) }),
				number: clockFace(poleStar.clockUpright),
			},
			{ say: words.lock() },
		];
	},
	declares: { ...markTable, ...values },
	values({ marks, poleStar }) {
		const [mark] = marks;
		if (!mark || !poleStar) return valuesOfMarks(marks);
		const of = mark.name;
		return [
			...valuesOfMarks(marks),
			values["pole-star-distance"](poleStar.distance * 60, { of, fill: { mark: mark.name } }),
			values["pole-star-clock"](clockFace(poleStar.clockUpright), { of }),
			values["pole-star-clock-inverted"](clockFace(poleStar.clockInverted), { of }),
		];
	},
	propose: () => [{ content: {}, keys: {}, by: words.inView() }],
	drafts: [""],
});
