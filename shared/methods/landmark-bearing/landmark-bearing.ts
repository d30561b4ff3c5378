/**
 * `landmark-bearing`: tilt by scale, bearing by turning the pan from a landmark of known place.
 *
 * A landmark (or the spot) that is off by s metres across the line of sight turns the bearing by s / distance; on the
 * sky cos φ of that.
 */
import { levelOfTurn } from "../../alignment/level.ts";
import type { EpochMs } from "../../earth/zone.ts";
import { bearingText } from "../../notation/bearing.ts";
import { heightText } from "../../notation/height.ts";
import { optional, reference } from "../../notation/shape.ts";
import type { PathOf } from "../../notation/value.ts";
import { coveredBy } from "../../sky/cover.ts";
import { both } from "../../sky/intervals.ts";
import { sunAltitude } from "../../sky/night.ts";
import { whereAtLeastZero } from "../../sky/roots.ts";
import { DEG, halfTurn, RAD } from "../../sky/vector.ts";
import type { CommonContent, ContentOf } from "../common-keys.ts";
import { markValues } from "../mark-values.ts";
import { type Mark, method, type Obstacle, type SetUp } from "../method.ts";
import { onMinutes } from "../minutes.ts";
import { type PanTurn, panValues } from "../pan-values.ts";
import { tiltStep, turnStep } from "../set-scale.ts";
import { source } from "../source.ts";
import { axisNumbers, cosLatitude, type Tonight, turnToSet } from "../tonight.ts";
import { words } from "./words.ts";

/** Sun's altitude down to which a landmark without a light of its own can be sighted. Common practice, no source. */
const LIGHT_ENOUGH = -6;

const keys = {
	landmark: optional(reference("landmark"), { doc: "name of a landmark of the site.", example: "water tower" }),
};

type Content = ContentOf<typeof keys> & CommonContent;

interface LandmarkSetUp extends SetUp {
	readonly pan: PanTurn | undefined;
}

function setUp(content: Content, tonight: Tonight): LandmarkSetUp {
	const { landmarks, onSite, spot, cover, tools, zone } = tonight;
	const obstacles: Obstacle[] = tools.scales ? [] : [{ type: "needs-scales" }];
	const numbers = axisNumbers(tonight);
	const name = content.landmark;
	const landmark = name === undefined ? undefined : landmarks.find((one) => one.name === name);
	if (name === undefined) obstacles.push({ type: "needs-key", key: "landmark" });
	else if (!landmark) obstacles.push({ type: "unknown-name", key: "landmark", name });
	const direction = landmark && { azimuth: landmark.bearing, altitude: landmark.altitude };
	const marks: readonly Mark[] =
		landmark && direction ? [{ name: landmark.name, key: "landmark", landmark, direction }] : [];
	const pan = landmark && { offset: turnToSet(numbers.bearing - landmark.bearing, tonight), rate: 0 };
	const by = direction && coveredBy(cover, direction);
	if (landmark && direction && by)
		obstacles.push({
			type: "hidden",
			name: landmark.name,
			key: "landmark",
			at: undefined,
			by,
			skyline: 0,
			...direction,
		});
	const light = (t: EpochMs): number => (landmark?.lit ? 1 : sunAltitude(spot, t) - LIGHT_ENOUGH);
	const lit = landmark?.lit ? [onSite] : whereAtLeastZero(light, onSite, 1_200_000);
	const windows = landmark && obstacles.length === 0 ? onMinutes(both(lit, [onSite]), (t) => light(t) >= 0, zone) : [];
	if (landmark && windows.length === 0 && obstacles.length === 0)
		obstacles.push({ type: "no-window", why: words.noLight() });
	const perDegree = cosLatitude(tonight);
	const altitude = landmark?.altitude ?? 0;
	const turnFromPole = landmark ? halfTurn(landmark.bearing - numbers.bearing) : 0;
	// A landmark known only by a measured bearing has no distance: its error is that of the aim that measured it.
	const perMetre = landmark?.located ? (perDegree * DEG) / Math.max(1, landmark.distance) : 0;
	return {
		...numbers,
		at: content.at === undefined ? undefined : tonight.instant(content.at),
		windows,
		marks,
		pan,
		obstacles,
		pictures: landmark && pan ? { turn: turnPicture(numbers.bearing, landmark.name, landmark.bearing, pan) } : {},
		sources: [
			source("tilt-scale", content, tonight, [{ along: 1, across: 0 }]),
			source("level", content, tonight, levelOfTurn(spot.latitude, turnFromPole)),
			source("pan-scale", content, tonight, [{ along: 0, across: perDegree }]),
			source("aim", content, tonight, [{ along: 0, across: perDegree / Math.cos(altitude * RAD) }]),
			source("landmark", content, tonight, [{ along: 0, across: perMetre }]),
		],
	};
}

const turnPicture = (pole: number, markName: string, mark: number, { offset }: PanTurn) => ({
	pole,
	mark,
	markName,
	offset,
});

const SHOWN_AT = ["landmark", "at"] as const satisfies readonly PathOf<Content>[];
const { of: valuesOfMarks, ...markTable } = markValues<PathOf<Content>>(SHOWN_AT);
const { of: valuesOfPan, offset: _, ...panTable } = panValues<PathOf<Content>>(SHOWN_AT);

/** A bearing taken from a landmark. */
export const landmarkBearing = method({
	kind: "landmark-bearing",
	words,
	keys,
	begins: ["landmark"],
	markKeys: ["landmark"],
	takes: () => 8,
	byScale: ["tilt", "pan"],
	hazards: () => [],
	setUp,
	steps({ marks: [mark], pan, bearing, ...numbers }, tonight) {
		if (!mark || !pan) return [];
		return [
			{ say: words.level() },
			tiltStep(numbers, tonight),
			{
				say: words.sight({
					mark: mark.name,
					bearing: bearingText(mark.direction.azimuth),
					altitude: heightText(mark.direction.altitude),
				}),
			},
			turnStep(pan.offset, tonight),
			{ say: words.lock(), number: bearingText(bearing), seen: true },
		];
	},
	declares: { ...panTable, ...markTable },
	values: ({ marks, pan }) => [...(marks[0] && pan ? valuesOfPan(marks[0].name, pan) : []), ...valuesOfMarks(marks)],
	hints: { landmark: [{ value: markTable["star-bearing"] }, { value: panTable["pan-offset"] }] },
	propose({ landmarks }) {
		const located = landmarks.filter((landmark) => landmark.located && !landmark.unseen);
		return [...located]
			.sort((a, b) => b.distance - a.distance)
			.map(({ name }) => ({
				content: { landmark: name },
				keys: { landmark: name },
				by: words.from({ mark: name }),
			}));
	},
});
