import { basename } from "node:path";
import { Command, InvalidArgumentError } from "commander";
import { type LandmarkUse, landmarkUse } from "../../shared/earth/landmark-use.ts";
import { evaluate } from "../../shared/evaluate/evaluate.ts";
import { degrees } from "../../shared/notation/angle.ts";
import { bearingText } from "../../shared/notation/bearing.ts";
import { coordinateText } from "../../shared/notation/coordinate.ts";
import { heightText } from "../../shared/notation/height.ts";
import { readQuantity } from "../../shared/notation/quantity.ts";
import { stillReads } from "../../shared/plan/cell-edits.ts";
import { addMeasured } from "../../shared/plan/measured.ts";
import { cellsOf, readPlan } from "../../shared/plan/plan.ts";
import { coveredBy } from "../../shared/sky/cover.ts";
import { groundsAt, surveyGround } from "../../shared/terrain/survey.ts";
import { applyEdits } from "../../shared/text/edits.ts";
import { scalarText } from "../../shared/text/scalar.ts";
import { type Phrase, sentences, told } from "../../shared/text/sentence.ts";
import { shown } from "../../shared/text/shown.ts";
import { CannotRun, readPlanFile, readText } from "../files.node.ts";
import { HELP } from "../help-words.ts";
import { joinedPlan } from "../library.node.ts";
import { type MapPoint, type MapProblem, readMapPoints } from "../map-file.ts";
import { tilesOf } from "../terrain.node.ts";
import { replaceFile } from "../write-file.node.ts";
import { metres } from "./place-options.ts";

const words = sentences("command.landmarks", {
	about: `Takes the points of a map's file as landmarks of a plan's site: those whose bearing is sure enough, that are near
		enough to be seen, and that neither the skyline nor the ground hides. They are printed as YAML for the site, or
		written into the plan with --write.`,
	map: "a map's file: GPX way points, KML placemarks, or GeoJSON points",
	plan: "the plan whose site they are for",
	write: "write them into the plan",
	terrain:
		"elevation tiles, .hgt or GeoTIFF, or folders of them: for lines of sight, and for elevations that the file lacks",
	error: "how wrong the place of a landmark and yours may be, together",
	within: "largest error of a bearing",
	reach: "farthest landmark",
	most: "how many at most, the nearest first",
	notAnAngle: "Write it in degrees: 0.25, 0.5°.",
	notACount: "It must be a whole number from 1 to 200.",
	unknown: "{path}: it is not GPX, KML or GeoJSON",
	packed: "{path}: it is packed, as .kmz files are; unpack it, and give the .kml file in it",
	doctype:
		"{path}: it declares a document type, which GPX and KML do not need; delete the line with <!DOCTYPE and what belongs to it",
	xml: "{path}, line {line}: it is not well-formed XML; it may not have been saved whole",
	json: "{path}: it is not JSON; it may not have been saved whole",
	notGeoJson: "{path}: it is JSON, but not GeoJSON with points",
	many: "{path}: it has more than {most} points; export only those around the site",
	noPoints: "{path}: no points in it; lines and areas are no landmarks",
	noSite: "{plan}: it has no site with coordinates that can be read",
	taken: `{plan}: its landmarks come from another file; give that file after --plan, or write landmarks into this site
		first`,
	positive: "{option}: {value} m is not between 1 m and 10 km",
	noneUseful: "{path}: none of its {count} points is of use as a landmark here.",
	cannotWrite: "{plan} is not written: landmarks cannot be added to its site as it is written; add them by hand",
	header: "From {file}: places within {error}, so bearings within {within}.",
	kept: "{name}: bearing {bearing} ± {spread}, {away}, {altitude}.",
	keptFlat: "{name}: bearing {bearing} ± {spread}, {away}; the file has no elevation: it was taken as high as you are.",
	near: "{name}: left out; at {away} an error of {error} turns its bearing by {spread}.",
	far: "{name}: left out; it is {away} away.",
	curve: "{name}: left out; at {away} it is below the horizon.",
	skyline:
		"{name}: left out; at {altitude} it is lower than the plan's skyline, {skyline}. If you see it, add it by hand with its measured altitude.",
	behind: "{name}: left out; at bearing {bearing} it is behind {by}.",
	outside: "{name}: left out; at bearing {bearing} and {altitude} it is outside every opening.",
	ground: "{name}: left out; {away} away, it is hidden by the ground at {at}.",
	known: "{name}: left out; the plan has a landmark of that name, or at that place.",
	away: "{count} point{s} farther than {reach}: left out.",
	more: "{name}: left out; {most} nearer ones are enough (--most).",
	ellipsoid: `GeoJSON's elevations are above the ellipsoid, by the standard (RFC 7946), and can be up to 100 m off from
		those above the sea: compare one with a map.`,
	unnamed: "point {number}",
	written: "{plan}: {count} landmark{s} added.",
	spot: "the spot, by the tiles, is {elevation} m high; the plan does not say, and 0 m would be taken.",
});

interface Options {
	readonly plan: string;
	readonly write?: boolean;
	readonly terrain?: readonly string[];
	readonly error: number;
	readonly within: number;
	readonly reach: number;
	readonly most: number;
}

const angle = (text: string): number => {
	const plain = Number(text);
	const reading = readQuantity(text, "angle");
	const value = Number.isFinite(plain) && text.trim() !== "" ? plain : reading.ok ? reading.value : Number.NaN;
	if (!(value > 0 && value <= 10)) throw new InvalidArgumentError(told(words.notAnAngle()));
	return value;
};

const count = (text: string): number => {
	const value = Number(text);
	if (!Number.isInteger(value) || value < 1 || value > 200) throw new InvalidArgumentError(told(words.notACount()));
	return value;
};

export const landmarksCommand = (): Command =>
	new Command("landmarks")
		.description(told(words.about()))
		.argument("<map>", told(words.map()))
		.requiredOption("--plan <plan>", told(words.plan()))
		.option("--write", told(words.write()))
		.option("--terrain <paths...>", told(words.terrain()))
		.option("--error <distance>", told(words.error()), metres("10, '30 ft'"), 10)
		.option("--within <angle>", told(words.within()), angle, 0.25)
		.option("--reach <distance>", told(words.reach()), metres("'50 km', '30 mi'"), 50_000)
		.option("--most <count>", told(words.most()), count, 20)
		.addHelpText(
			"after",
			`
${HELP.examples}
  lodebook landmarks summits.gpx --plan samples/roofless-chapel.lode.yaml
  lodebook landmarks lights.kml --plan plan.lode.yaml --terrain tiles --write`,
		)
		.action(landmarks);

interface Weighed {
	readonly name: string;
	readonly point: MapPoint;
	/** The file's or the tiles'. */
	readonly elevation: number | undefined;
	readonly use: LandmarkUse;
}

async function landmarks(path: string, options: Options): Promise<void> {
	const { plan, error, reach, most } = options;
	if (!(error >= 1 && error <= 10_000)) throw new CannotRun(told(words.positive({ option: "--error", value: error })));
	const map = readMapPoints(readText(path));
	if ("code" in map) throw new CannotRun(told(problemText(path, map)));
	if (map.points.length === 0) throw new CannotRun(told(words.noPoints({ path })));
	const file = readPlanFile(plan);
	const evaluation = evaluate(joinedPlan(plan, file.text));
	const { site } = evaluation;
	const cell = cellsOf(readPlan(file.text), "site")[0];
	if (!site || !cell) throw new CannotRun(told(words.noSite({ plan })));
	if (site.content.landmarks?.length && !cell.read.places.has("landmarks"))
		throw new CannotRun(told(words.taken({ plan })));
	const { spot } = site;

	const near = map.points
		.map((point, i) => ({ point, number: i + 1 }))
		.filter(({ point }) => roughlyWithin(point, spot, 2 * reach));
	const tiles = options.terrain ? tilesOf(options.terrain, spot, reach) : [];
	const grounds = await groundsAt(tiles, [spot, ...near.map(({ point }) => point)]);
	const ownElevation = site.content.elevation ?? grounds[0];
	if (site.content.elevation === undefined && ownElevation !== undefined)
		tell(words.spot({ elevation: Math.round(ownElevation) }));
	const from = { ...spot, elevation: ownElevation ?? spot.elevation };
	const names = new Set((site.content.landmarks ?? []).map(({ name }) => name));
	const weighed = near
		.map(({ point, number }, i): Weighed => {
			const elevation = point.elevation ?? grounds[i + 1];
			const use = landmarkUse(from, { ...point, elevation: elevation ?? from.elevation }, error);
			return { name: point.name || told(words.unnamed({ number })), point, elevation, use };
		})
		.sort((a, b) => a.use.distance - b.use.distance);

	const survey =
		tiles.length === 0
			? undefined
			: await surveyGround(tiles, {
					...spot,
					elevation: ownElevation,
					eyeHeight: 1.7,
					reach,
					sights: weighed.map(({ use }) => use),
				});
	const kept: Weighed[] = [];
	const away = map.points.length - near.length;
	const notes: Phrase[] = [];
	for (const [i, one] of weighed.entries()) {
		const why = obstacle(one, survey?.horizon.hiddenAt[i]) ?? (kept.length >= most ? "more" : undefined);
		if (why === "more") notes.push(words.more({ name: one.name, most }));
		else if (why) notes.push(why);
		else {
			const name = free(one.name, names);
			names.add(name);
			kept.push({ ...one, name });
		}
	}
	if (away > 0) notes.push(words.away({ count: away, s: away === 1 ? "" : "s", reach: kilometres(2 * reach) }));
	if (kept.length === 0) {
		for (const note of notes) tell(note);
		throw new CannotRun(told(words.noneUseful({ path, count: map.points.length })));
	}
	for (const { name, elevation, use } of kept) {
		const numbers = {
			name,
			bearing: bearingText(use.bearing),
			spread: degrees(use.spread),
			away: kilometres(use.distance),
		};
		tell(
			elevation === undefined
				? words.keptFlat(numbers)
				: words.kept({ ...numbers, altitude: heightText(use.altitude) }),
		);
	}
	for (const note of notes.slice(0, NOTES)) tell(note);
	if (map.format === "GeoJSON" && kept.some(({ point }) => point.elevation !== undefined)) tell(words.ellipsoid());

	const measured = {
		items: kept.map(itemText),
		comments: [
			told(
				words.header({
					file: shown(basename(path)),
					error: `${Math.round(error)} m`,
					within: degrees(Math.max(...kept.map(({ use }) => use.spread))),
				}),
			),
		],
	};
	if (!options.write) {
		process.stdout.write(
			`landmarks:\n${[...measured.comments.map((one) => `  # ${one}`), ...measured.items.map((one) => `  - ${one}`)].join("\n")}\n`,
		);
		return;
	}
	const edits = addMeasured(cell, "landmarks", measured);
	if (edits.length === 0 || !stillReads(readPlan(file.text), edits))
		throw new CannotRun(told(words.cannotWrite({ plan })));
	replaceFile(file, applyEdits(file.text, edits));
	tell(words.written({ plan, count: kept.length, s: kept.length === 1 ? "" : "s" }));

	function obstacle({ name, point, elevation, use }: Weighed, hiddenAt: number | undefined): Phrase | undefined {
		const away = kilometres(use.distance);
		if (isKnown(name, point)) return words.known({ name });
		if (use.distance > reach) return words.far({ name, away });
		if (use.spread > options.within)
			return words.near({ name, away, error: `${Math.round(error)} m`, spread: degrees(use.spread) });
		if (use.beyondHorizon && elevation !== undefined) return words.curve({ name, away });
		if (hiddenAt !== undefined) return words.ground({ name, away, at: kilometres(hiddenAt) });
		if (!site) return undefined;
		const direction = { azimuth: use.bearing, altitude: use.altitude };
		const by = coveredBy(site.cover, direction);
		const skyline = site.cover.skylineAt(use.bearing);
		const bearing = bearingText(use.bearing);
		if (by === "roof") return words.outside({ name, bearing, altitude: heightText(use.altitude) });
		if (by) return words.behind({ name, bearing, by: by.name });
		if (skyline - use.altitude >= WORTH_SAYING)
			return words.skyline({ name, altitude: heightText(use.altitude), skyline: degrees(skyline) });
		return undefined;
	}

	/** In the plan under that name at about that place, or at that place. */
	function isKnown(name: string, { latitude, longitude }: MapPoint): boolean {
		return (site?.content.landmarks ?? []).some(
			(one) =>
				one.name?.toLowerCase() === name.toLowerCase() ||
				(one.latitude !== undefined &&
					one.longitude !== undefined &&
					Math.hypot(one.latitude - latitude, (one.longitude - longitude) * Math.cos((latitude * Math.PI) / 180)) *
						METRES_PER_DEGREE <
						error),
		);
	}
}

const tell = (phrase: Phrase): boolean => process.stderr.write(`${told(phrase)}\n`);

/** As the finding on hidden landmarks has it, degrees. */
const WORTH_SAYING = 1;
const METRES_PER_DEGREE = 111_320;
/** Points left out that are told of one by one. */
const NOTES = 50;

/** Quick and never too strict: what is farther in latitude alone. */
const roughlyWithin = ({ latitude }: MapPoint, spot: { latitude: number }, reach: number): boolean =>
	Math.abs(latitude - spot.latitude) * 110_000 <= reach;

const itemText = ({ name, point: { latitude, longitude }, elevation }: Weighed): string =>
	`{ name: ${scalarText(name, { flow: true })}, latitude: ${coordinateText(latitude, "latitude")}, longitude: ${coordinateText(longitude, "longitude")}${elevation === undefined ? "" : `, elevation: ${Math.round(elevation)} m`} }`;

/** The name, numbered where another has it. */
function free(name: string, taken: ReadonlySet<string | undefined>): string {
	for (let number = 1; ; number++) {
		const one = number === 1 ? name : `${name} ${number}`;
		if (!taken.has(one)) return one;
	}
}

function problemText(path: string, problem: MapProblem): Phrase {
	switch (problem.code) {
		case "unknown":
			return words.unknown({ path });
		case "packed":
			return words.packed({ path });
		case "doctype":
			return words.doctype({ path });
		case "xml":
			return words.xml({ path, line: problem.line });
		case "json":
			return words.json({ path });
		case "not-geojson":
			return words.notGeoJson({ path });
		case "many":
			return words.many({ path, most: problem.most.toLocaleString("en") });
	}
}

const kilometres = (length: number): string =>
	length < 950
		? `${Math.round(length / 10) * 10} m`
		: `${length < 9950 ? (length / 1000).toFixed(1) : Math.round(length / 1000)} km`;
