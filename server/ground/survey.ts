/** A plan's skyline from tiles that the client reads, each when it is its turn; loaded on first use. */
import type { Evaluation } from "../../shared/evaluate/evaluate.ts";
import { degrees } from "../../shared/notation/angle.ts";
import { bearingText } from "../../shared/notation/bearing.ts";
import { type CellOf, cellsOf } from "../../shared/plan/plan.ts";
import type { GroundAnswer } from "../../shared/protocol/ground.ts";
import { type GroundSurvey, surveyGround } from "../../shared/terrain/survey.ts";
import type { Tile } from "../../shared/terrain/tile.ts";
import { fromBase64 } from "../../shared/text/base64.ts";
import { type Phrase, sentences, told } from "../../shared/text/sentence.ts";
import { lostSkyline } from "../site-edits.ts";
import { elevationDoubt, groundSpot, noGround, notesOf, skylineOf, withoutTile } from "./tell.ts";
import { degreesAway, isWithin, tileOf } from "./tiles.ts";

const words = sentences("ground.survey", {
	noSite: "The plan has no site with coordinates that can be read.",
	replaces: "It replaces the site's skyline of {count} point{s}, the highest at {altitude} at bearing {bearing}.",
	far: "None of these tiles is within {reach} km of the site.",
});

/** As the command line has them where nothing else is said: metres. */
const EYE_HEIGHT = 1.7;
const REACH = 100_000;

/** Asks for a tile's bytes by its number. */
export type ReadTile = (index: number) => Promise<{ readonly bytes: string } | { readonly problem: string }>;

/** What tiles, by their names, tell of the plan's spot; one that cannot be read is named, and the others go on. */
export async function surveyFor(
	{ plan, site, landmarks }: Evaluation,
	names: readonly string[],
	read: ReadTile,
): Promise<GroundAnswer> {
	if (!site) return { problem: told(words.noSite()) };
	const spot = groundSpot(site, landmarks);
	const unread = new Set<string>();
	const tiles = names
		.map((name, index) => ({ name, index, away: degreesAway(name, spot) }))
		.filter(({ away }) => isWithin(away, REACH))
		.sort((a, b) => a.away - b.away)
		.map(({ name, index }) => ({
			load: async () => {
				const tile = await tileFrom(name, () => read(index));
				if (typeof tile !== "string") return tile;
				unread.add(tile);
				return undefined;
			},
		}));
	if (tiles.length === 0) return { problem: told(words.far({ reach: REACH / 1000 })) };
	const survey = await surveyGround(tiles, { ...spot, eyeHeight: EYE_HEIGHT, reach: REACH, sights: spot.landmarks });
	if ("code" in survey) return { problem: noGround(spot, survey, unread) };
	return {
		found: {
			points: survey.points,
			comments: skylineOf(survey, spot, REACH).comments,
			elevation: spot.elevation === undefined ? survey.ground : null,
		},
		doubts: doubtsOf(cellsOf(plan, "site")[0], elevationDoubt(spot.elevation, survey.ground), survey.points).map(told),
		notes: [...[...unread].map(withoutTile), ...notesOf(survey, spot, REACH)].map(told),
	};
}

/** That it is seen from another height than the tiles' ground, and that it takes the place of a skyline that is there. */
function doubtsOf(
	cell: CellOf<"site"> | undefined,
	elevation: Phrase | undefined,
	points: GroundSurvey["points"],
): readonly Phrase[] {
	const lost = cell && lostSkyline(cell, points);
	return [
		...(elevation ? [elevation] : []),
		...(lost
			? [
					words.replaces({
						count: lost.count,
						s: lost.count === 1 ? "" : "s",
						altitude: degrees(lost.altitude),
						bearing: bearingText(lost.bearing),
					}),
				]
			: []),
	];
}

/** A tile, or why it is none. */
async function tileFrom(name: string, read: () => ReturnType<ReadTile>): Promise<Tile | string> {
	const file = await read();
	if ("problem" in file) return file.problem;
	const tile = await tileOf(name, fromBase64(file.bytes));
	return "key" in tile ? told(tile) : tile;
}
