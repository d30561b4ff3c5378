import { basename } from "node:path";
import { Command, InvalidArgumentError, Option } from "commander";
import { HIGHEST_GROUND, LOWEST_GROUND } from "../../shared/earth/ground.ts";
import { type LandmarkUse, landmarkUse } from "../../shared/earth/landmark-use.ts";
import { sightline } from "../../shared/earth/sightline.ts";
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
import { halfTurn } from "../../shared/sky/vector.ts";
import { groundsAt, surveyGround } from "../../shared/terrain/survey.ts";
import { applyEdits, type TextEdit } from "../../shared/text/edits.ts";
import { scalarText } from "../../shared/text/scalar.ts";
import { type Phrase, sentences, told } from "../../shared/text/sentence.ts";
import { shown } from "../../shared/text/shown.ts";
import { CannotRun, readPlanFile, readText } from "../files.node.ts";
import { elevationDoubt, isJustBefore, noGround, strangeHeights, withoutTile } from "../ground/tell.ts";
import { HELP } from "../help-words.ts";
import { joinedPlan } from "../library.node.ts";
import { type MapPoint, type MapProblem, readMapPoints, type UnplacedPoint } from "../map-file.ts";
import { elevationEdits } from "../site-edits.ts";
import { tilesOf } from "../terrain.node.ts";
import { replaceFile } from "../write-file.node.ts";
import { lengthOption } from "./place-options.ts";

const words = sentences("command.landmarks", {
	about: `Makes landmarks for a plan's site from the points of a map file: those whose bearing is accurate enough,
		that are near enough to be seen, and that neither the skyline nor the ground hides. They are printed as YAML for
		the site, or written into the plan with --write.`,
	map: "a map file: GPX waypoints, KML placemarks, or GeoJSON points",
	plan: "the plan whose site they are for",
	write: "write them into the plan",
	terrain:
		"elevation tiles, .hgt or GeoTIFF, or folders of them: for lines of sight, and for elevations that the file lacks",
	error: "combined error of your position and a landmark's",
	within: "largest error of a bearing",
	reach: "greatest distance of a landmark",
	most: "how many at most, the nearest first",
	notAnAngle: "Write it in degrees: 0.25, 0.5°.",
	notACount: "It must be a whole number from 1 to 200.",
	unknown: "{path}: it is not GPX, KML or GeoJSON",
	packed: "{path}: it is packed, as .kmz files are; unpack it, and give the .kml file in it",
	doctype:
		"{path}: it declares a document type, which GPX and KML do not need; delete the line with <!DOCTYPE and what belongs to it",
	xml: "{path}, line {line}: it is not well-formed XML; the file may be incomplete",
	json: "{path}: it is not JSON; the file may be incomplete",
	notGeoJson: "{path}: it is JSON, but not GeoJSON with points",
	many: "{path}: it has more than {most} points; export only those around the site",
	noPoints: "{path}: no points in it; lines and areas cannot be landmarks",
	noSite: "{plan}: it has no site with coordinates that can be read",
	taken: `{plan}: its landmarks come from another file; give that file after --plan, or write landmarks into this site
		first`,
	positive: "{option}: {value} m is not between 1 m and 10 km",
	oneUseless: "{path}: its one point cannot be used as a landmark here.",
	noneUseful: "{path}: none of its {count} points can be used as a landmark here.",
	nothingNew: "{plan}: no landmark added; {count} of the points in {path} {are} there already.",
	cannotWrite: "{plan} is not written: landmarks cannot be added to its site as it is written; add them by hand",
	header: "From {file}: places within {error}, so bearings within {within}.",
	before: "Those with an altitude are lower than the skyline but in front of it, according to the elevation tiles.",
	below: "{angle} below level",
	kept: "{name}: bearing {bearing} ± {spread}, {away}, {altitude}.",
	keptFlat: `{name}: bearing {bearing} ± {spread}, {away}; without an elevation that can be used, it was taken to be as
		high as you are.`,
	near: "{name}: left out; at {away} an error of {error} turns its bearing by {spread}.",
	far: "{name}: left out; it is {away} away.",
	curve: "{name}: left out; at {away} it is below the horizon.",
	skyline:
		"{name}: left out; at {altitude} it is lower than the plan's skyline, {skyline}. If you see it, add it by hand with its measured altitude.",
	level: `{name}: left out; at {altitude} it is lower than the level horizon, which is used as long as the plan has no skyline. If you see it, add it by hand with its measured altitude.`,
	behind: "{name}: left out; at bearing {bearing} it is hidden by {by}.",
	outside: "{name}: left out; at bearing {bearing} and {altitude} it is outside every opening.",
	ground: "{name}: left out; {away} away, it is hidden by the ground at {at}.",
	groundThere: "{name}: left out; {away} away, it is hidden by the ground just in front of it: check its elevation.",
	known: "{name}: left out; the plan has a landmark of that name, or at that place.",
	twice: "{name}: left out; it is where {other} is.",
	noCoordinate: "{name}: left out; the file gives no {axis} for it.",
	badLatitude: "{name}: left out; its latitude, {said}, is not a number from −90 to 90.",
	badLongitude: "{name}: left out; its longitude, {said}, is not a number from −180 to 180.",
	badElevation: "{name}: its elevation in the file, {said}, is not used: it is not a number from {low} to {high} m.",
	away: "{count} point{s} left out: further away than {twice}, and --reach is {reach}.",
	swapped: `With latitude and longitude swapped, {count} of them would be within {reach}: check whether the file has the two the wrong way round.`,
	more: "{name}: left out; {most} nearer {ones} enough (--most).",
	ellipsoid: `GeoJSON's elevations are above the ellipsoid, by the standard (RFC 7946), and can differ by up to 100 m
		from those above the sea: compare one with a map.`,
	unnamed: "point {number}",
	others: "And {count} more left out.",
	written: "{plan}: {count} landmark{s} added.",
	spot: `The plan gives no elevation: the altitudes are computed from {elevation} m, which the tiles give; write that
		into the plan.`,
	elevation: "The plan gave no elevation; {elevation} m is written, from the tiles.",
	otherGround: `{plan} is not written: correct its elevation, or delete it to have the tiles' elevation used and
		written. If it is right and the tiles are wrong, leave --terrain out`,
	doubtful: `With that elevation, landmarks may be listed or left out wrongly. Correct it, or remove it to use that of
		the tiles.`,
	noElevation:
		"The plan gives no elevation: the altitudes are computed from 0 m. Give the site its elevation, or tiles with --terrain.",
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
		.addOption(
			lengthOption("--error <distance>", told(words.error()), {
				example: "'10 m', '30 ft'",
				otherwise: 10,
				said: "10 m",
			}),
		)
		.addOption(new Option("--within <angle>", told(words.within())).argParser(angle).default(0.25, "0.25°"))
		.addOption(
			lengthOption("--reach <distance>", told(words.reach()), {
				example: "'50 km', '30 mi'",
				otherwise: 50_000,
				said: "50 km",
				alone: [1000, 300_000],
			}),
		)
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
	/** Lower than the skyline and seen all the same: by the tiles it is nearer than the ground that makes the skyline there. */
	readonly before?: boolean;
}

async function landmarks(path: string, options: Options): Promise<void> {
	const { plan, error, reach, most } = options;
	if (!(error >= 1 && error <= 10_000)) throw new CannotRun(told(words.positive({ option: "--error", value: error })));
	const map = readMapPoints(readText(path));
	if ("code" in map) throw new CannotRun(told(problemText(path, map)));
	if (map.points.length === 0) {
		tellSome(map.unplaced.map(unplacedText));
		throw new CannotRun(
			told(map.unplaced.length > 0 ? uselessText(path, map.unplaced.length) : words.noPoints({ path })),
		);
	}
	const file = readPlanFile(plan);
	const evaluation = evaluate(joinedPlan(plan, file.text));
	const { site } = evaluation;
	const cell = cellsOf(readPlan(file.text), "site")[0];
	if (!site || !cell) throw new CannotRun(told(words.noSite({ plan })));
	if (site.content.landmarks?.length && !cell.read.places.has("landmarks"))
		throw new CannotRun(told(words.taken({ plan })));
	const { spot } = site;
	const hasSkyline = site.content.skyline !== undefined;

	const near = map.points.filter((point) => roughlyWithin(point, spot, 2 * reach));
	const { sources: tiles, unread } = tilesOf(options.terrain ?? [], spot, reach);
	const grounds = await groundsAt(tiles, [spot, ...near]);
	// In whole metres, as they are written: what is told and what the plan then shows is the same.
	const [byTiles, ...below] = grounds.map((one) => one && Math.round(one));
	const added = site.content.elevation === undefined ? byTiles : undefined;
	const ownElevation = site.content.elevation ?? byTiles;
	const from = { ...spot, elevation: ownElevation ?? spot.elevation };
	const names = new Set((site.content.landmarks ?? []).map(({ name }) => name));
	const weighed = near
		.map((point, i): Weighed => {
			const elevation = point.elevation === undefined ? below[i] : Math.round(point.elevation);
			const use = landmarkUse(from, { ...point, elevation: elevation ?? from.elevation }, error);
			return { name: nameOf(point), point, elevation, use };
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
	const ground = survey && "code" in survey ? undefined : survey;
	if (survey && "code" in survey) process.stderr.write(`${noGround(spot, survey, unread)}\n`);
	else for (const why of unread) tell(withoutTile(why));
	if (unread.size > 0) process.exitCode = 2;
	const doubt = ground && elevationDoubt(site.content.elevation, ground.ground);
	if (doubt) {
		tell(doubt);
		if (options.write) throw new CannotRun(told(words.otherGround({ plan })));
		tell(words.doubtful());
	}
	if (ground) for (const note of strangeHeights(ground)) tell(note);
	const kept: Weighed[] = [];
	const away = map.points.length - near.length;
	const notes: Phrase[] = [...map.unplaced.map(unplacedText), ...near.flatMap(elevationText)];
	let known = 0;
	for (const [i, one] of weighed.entries()) {
		const why = obstacle(one, ground?.horizon.hiddenAt[i]) ?? (kept.length >= most ? "more" : undefined);
		if (why === "more") notes.push(words.more({ name: one.name, most, ones: most === 1 ? "one is" : "ones are" }));
		else if (why) notes.push(why);
		else {
			const name = free(one.name, names);
			names.add(name);
			kept.push({ ...one, name, before: isBefore(one.use) });
		}
	}
	if (away > 0)
		notes.push(
			words.away({ count: away, s: away === 1 ? "" : "s", twice: kilometres(2 * reach), reach: kilometres(reach) }),
		);
	const swapped = map.points.filter(
		({ latitude, longitude }) =>
			Math.abs(longitude) <= 90 &&
			sightline(spot, { latitude, longitude, elevation: 0 }).distance > 2 * reach &&
			sightline(spot, { latitude: longitude, longitude: latitude, elevation: 0 }).distance <= reach,
	);
	if (swapped.length > 0) notes.push(words.swapped({ count: swapped.length, reach: kilometres(reach) }));
	if (kept.length === 0) {
		tellSome(notes);
		if (known === 0) throw new CannotRun(told(uselessText(path, map.points.length + map.unplaced.length)));
		if (options.write) write(elevationEdits(cell, added));
		tell(words.nothingNew({ path, plan, count: known, are: known === 1 ? "is" : "are" }));
		return;
	}
	for (const { name, elevation, use } of kept) {
		const numbers = {
			name,
			bearing: bearingText(use.bearing),
			spread: degrees(use.spread),
			away: kilometres(use.distance),
		};
		tell(
			elevation === undefined ? words.keptFlat(numbers) : words.kept({ ...numbers, altitude: seenAt(use.altitude) }),
		);
	}
	tellSome(notes);
	if (ownElevation === undefined && kept.some(({ elevation }) => elevation !== undefined)) tell(words.noElevation());
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
			...(kept.some(({ before }) => before) ? [told(words.before())] : []),
		],
	};
	if (!options.write) {
		if (added !== undefined) tell(words.spot({ elevation: added }));
		process.stdout.write(
			`${added === undefined ? "" : `elevation: ${added} m\n`}landmarks:\n${[...measured.comments.map((one) => `  # ${one}`), ...measured.items.map((one) => `  - ${one}`)].join("\n")}\n`,
		);
		return;
	}
	const edits = addMeasured(cell, "landmarks", measured);
	if (edits.length === 0) throw new CannotRun(told(words.cannotWrite({ plan })));
	write([...elevationEdits(cell, added), ...edits]);
	tell(words.written({ plan, count: kept.length, s: kept.length === 1 ? "" : "s" }));

	function write(edits: readonly TextEdit[]): void {
		if (edits.length === 0) return;
		if (!stillReads(readPlan(file.text), edits)) throw new CannotRun(told(words.cannotWrite({ plan })));
		replaceFile(file, applyEdits(file.text, edits));
		if (added !== undefined && cell && elevationEdits(cell, added).length > 0)
			tell(words.elevation({ elevation: added }));
	}

	function obstacle({ name, point, elevation, use }: Weighed, hiddenAt: number | undefined): Phrase | undefined {
		const away = kilometres(use.distance);
		if (isKnown(name, point)) {
			known++;
			return words.known({ name });
		}
		if (use.distance > reach) return words.far({ name, away });
		if (use.spread > options.within)
			return words.near({ name, away, error: `${Math.round(error)} m`, spread: degrees(use.spread) });
		if (use.beyondHorizon && elevation !== undefined) return words.curve({ name, away });
		if (hiddenAt !== undefined) {
			if (isJustBefore(hiddenAt, use.distance)) return words.groundThere({ name, away });
			return words.ground({ name, away, at: kilometres(hiddenAt) });
		}
		if (!site) return undefined;
		const direction = { azimuth: use.bearing, altitude: use.altitude };
		const by = coveredBy(site.cover, direction);
		const skyline = site.cover.skylineAt(use.bearing);
		const bearing = bearingText(use.bearing);
		if (by === "roof") return words.outside({ name, bearing, altitude: heightText(use.altitude) });
		if (by) return words.behind({ name, bearing, by: by.name });
		if (isLower(use) && !isBefore(use)) {
			const altitude = heightText(use.altitude);
			return hasSkyline
				? words.skyline({ name, altitude, skyline: degrees(skyline) })
				: words.level({ name, altitude });
		}
		const same = kept.find((other) => isAt(point, other.point));
		return same && words.twice({ name, other: same.name });
	}

	function isLower({ bearing, altitude }: LandmarkUse): boolean {
		return site !== undefined && site.cover.skylineAt(bearing) - altitude >= WORTH_SAYING;
	}

	/** Whether the plan's skyline, if it has one, is the ground behind it, to which the line of sight is free. */
	function isBefore(use: LandmarkUse): boolean {
		if (!site || !ground || !isLower(use)) return false;
		if (!hasSkyline) return true;
		const { altitudes, distances } = ground.horizon;
		const index = Math.round((use.bearing * altitudes.length) / 360) % altitudes.length;
		return (
			(distances[index] as number) > use.distance &&
			site.cover.skylineAt(use.bearing) <= (altitudes[index] as number) + ground.tolerance + SAME
		);
	}

	/** No farther from each other than their places are sure. */
	function isAt({ latitude, longitude }: MapPoint, other: { latitude: number; longitude: number }): boolean {
		const east = halfTurn(other.longitude - longitude) * Math.cos((latitude * Math.PI) / 180);
		return Math.hypot(other.latitude - latitude, east) * METRES_PER_DEGREE < error;
	}

	/** In the plan under that name at about that place, or at that place. */
	function isKnown(name: string, point: MapPoint): boolean {
		return (site?.content.landmarks ?? []).some(
			({ name: own, latitude, longitude }) =>
				own?.toLowerCase() === name.toLowerCase() ||
				(latitude !== undefined && longitude !== undefined && isAt(point, { latitude, longitude })),
		);
	}
}

const uselessText = (path: string, count: number): Phrase =>
	count === 1 ? words.oneUseless({ path }) : words.noneUseful({ path, count });

const nameOf = ({ name, number }: { name: string; number: number }): string => name || told(words.unnamed({ number }));

function unplacedText({ name, number, axis, said }: UnplacedPoint): Phrase {
	const called = nameOf({ name, number });
	if (said === "") return words.noCoordinate({ name: called, axis });
	return (axis === "latitude" ? words.badLatitude : words.badLongitude)({ name: called, said });
}

/** What is seen lower than level is not below the horizon, which is ground. */
const seenAt = (altitude: number): Phrase =>
	altitude <= -0.005 ? words.below({ angle: degrees(-altitude) }) : heightText(altitude);

const elevationText = (point: MapPoint): readonly Phrase[] =>
	point.noElevation === undefined
		? []
		: [
				words.badElevation({
					name: nameOf(point),
					said: point.noElevation,
					low: `−${-LOWEST_GROUND}`,
					high: HIGHEST_GROUND.toLocaleString("en"),
				}),
			];

function tellSome(notes: readonly Phrase[]): void {
	for (const note of notes.slice(0, NOTES)) tell(note);
	if (notes.length > NOTES) tell(words.others({ count: notes.length - NOTES }));
}

const tell = (phrase: Phrase): boolean => process.stderr.write(`${told(phrase)}\n`);

/** As the finding on hidden landmarks has it, degrees. */
const WORTH_SAYING = 1;
/** By how much a skyline that was made of the same ground may be higher, beside its straight lines: rounding, degrees. */
const SAME = 0.1;
const METRES_PER_DEGREE = 111_320;
/** Points left out that are told of one by one. */
const NOTES = 50;

/** Quick and never too strict: what is farther in latitude alone. */
const roughlyWithin = ({ latitude }: MapPoint, spot: { latitude: number }, reach: number): boolean =>
	Math.abs(latitude - spot.latitude) * 110_000 <= reach;

/** The altitude says that it is seen although the skyline is higher. */
const itemText = ({ name, point: { latitude, longitude }, elevation, use, before }: Weighed): string =>
	`{ name: ${scalarText(name, { flow: true })}, latitude: ${coordinateText(latitude, "latitude")}, longitude: ${coordinateText(longitude, "longitude")}${elevation === undefined ? "" : `, elevation: ${Math.round(elevation)} m`}${before ? `, altitude: ${Math.round(100 * use.altitude) / 100 || 0}°` : ""} }`;

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
