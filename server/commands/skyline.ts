import { basename } from "node:path";
import { Command, InvalidArgumentError, Option } from "commander";
import { evaluate } from "../../shared/evaluate/evaluate.ts";
import { degrees as degreesText } from "../../shared/notation/angle.ts";
import { bearingText } from "../../shared/notation/bearing.ts";
import { heightText } from "../../shared/notation/height.ts";
import { fieldAcrossPhoto, PHOTO_PROJECTIONS, type PhotoProjection, scaleAcross } from "../../shared/photo/attitude.ts";
import { skylineOfLines } from "../../shared/photo/skyline-of.ts";
import { stillReads } from "../../shared/plan/cell-edits.ts";
import { measuredText } from "../../shared/plan/measured.ts";
import { cellsOf, type Plan, readPlan } from "../../shared/plan/plan.ts";
import { edgesThatCross, outlineOf, type SkyPoint } from "../../shared/sky/outline.ts";
import { turn } from "../../shared/sky/vector.ts";
import { groundsAt, surveyGround } from "../../shared/terrain/survey.ts";
import { applyEdits, type TextEdit } from "../../shared/text/edits.ts";
import { type Phrase, sentences, told } from "../../shared/text/sentence.ts";
import { shown } from "../../shared/text/shown.ts";
import { CannotRun, type ReadPlanFile, readPlanFile, readText } from "../files.node.ts";
import {
	elevationDoubt,
	type GroundSpot,
	groundSpot,
	kilometres,
	noGround,
	notesOf,
	skylineOf,
	withoutTile,
} from "../ground/tell.ts";
import { groundEdits } from "../ground/write.ts";
import { HELP } from "../help-words.ts";
import { joinedPlan } from "../library.node.ts";
import { elevationEdits, lostSkyline, siteEdits } from "../site-edits.ts";
import { sources } from "../site-sources.ts";
import { tilesOf } from "../terrain.node.ts";
import { inDegrees, keysText, outlinesFrom, readPhotoPoints, readSurvey, saysParts, skylinePoints } from "../traced.ts";
import type { PartPoint } from "../tracing/site-keys.ts";
import { replaceFile } from "../write-file.node.ts";
import { coordinate, lengthOption, metres } from "./place-options.ts";

const words = sentences("command.skyline", {
	about: `Makes the site's skyline key from a survey, a table of bearings and altitudes: sorted, with true bearings.
		Or, with --terrain, from elevation tiles that you have: the horizon of the surrounding ground. Or, with --photo,
		from points in a photo: skyline, openings and obstructions.`,
	mustBeDegrees: "It must be degrees, east positive.",
	csvFileBearing: `a CSV file: bearing, altitude in degrees, one point a line; a heading and comments (#) are allowed. A
		third value may be skyline, opening, obstruction or window, a fourth its name: corners in order around it`,
	bearingsAreMagnetic: "the bearings are magnetic: use the declination of this plan's site and night",
	bearingsAreMagnetic2: "the bearings are magnetic: use this declination, east positive",
	elevationTilesHgt: "elevation tiles, .hgt or GeoTIFF in latitude and longitude, or folders of them",
	plan: "the plan whose site it is: with --terrain the spot, and its landmarks are checked too",
	write: `write it into the site of --plan, with a comment on where it is from. A skyline seen in part replaces that
		part only`,
	withTerrainNorth: "with --terrain: degrees, north positive, or with N or S, such as 46.5 N",
	withTerrainEast: "with --terrain: degrees, east positive, or with E or W, such as 8.5 E",
	withTerrainGround: "with --terrain: elevation of the ground you stand on, if you know it better than the tiles",
	withTerrainCamera: "with --terrain: height of the camera above the ground",
	withTerrainHow: "with --terrain: how far to look",
	twoPointsHave: "{path}: two points have the bearing {bearing}°; keep the higher one",
	magneticBearingsMade: "Magnetic bearings made true: {angle}° added.",
	subtracted: "Magnetic bearings made true: {angle}° subtracted.",
	expectedBearingAltitude: "{place}: expected a bearing and an altitude in degrees, such as 120, 18",
	expectedTwoValues: "{place}: expected two values, found {count}",
	expectedAltitudeFrom: "{place}: expected an altitude from −30° to 90°, found {altitude}°",
	noPointsFound: "{path}: no points found",
	pointsAreToo: "{path}: {count} points are too many: at most {most}",
	magneticDeclinationNeeds:
		"{plan}: the magnetic declination needs the site's coordinates and a date that the magnetic model covers",
	either: "{path}: give a table or --terrain, not both",
	nothing: "give a table of bearings and altitudes, or --terrain with elevation tiles",
	onlyTerrain: "{option} goes with --terrain: a table of bearings has no position",
	where: "--terrain needs the spot: --latitude and --longitude, or --plan",
	planOrPlace: "give --plan or --latitude and --longitude, not both",
	noSite: "{plan}: it has no site with coordinates that can be read",
	eyeHeight: "--eye-height: {height} m is not between 0 and 1,000 m",
	reach: "--reach: {reach} is not between 1 km and 300 km",
	photo: `places in a photo, as CSV: x, y in pixels from the upper left corner, then mark, horizon, skyline, opening,
		obstruction or window, then a name, and for a mark its bearing and altitude`,
	size: "with --photo: its width and height in pixels, such as 6000x4000",
	projection: "with --photo: projection of its lens; equirectangular is a whole panorama",
	field: "with --photo: the angle of view across its width; without it, three marks or more are needed",
	ambiguous: "Two camera attitudes fit these marks; the more level one was used. Add a mark to be sure.",
	sizeForm: "Write width and height: 6000x4000.",
	fieldForm: "Write it in degrees, between 1 and 360: 73.7.",
	needsSize: "--photo needs the photo's size: --size 6000x4000",
	onlyPhoto: "{option} goes with --photo",
	mark: "mark {name}: {off} from where the others put it.",
	wrongMark:
		"mark {name} disagrees with the others by {off}: check its place in the photo, its bearing and its altitude.",
	wrongMarks: "Marks {names} disagree by up to {off}, and no single one of them is to blame: check each again.",
	lookedAt: "The camera looked at bearing {bearing}, {altitude}; {field} across.",
	onlyPlan: "--plan goes with --terrain or --write",
	writePlan: "--write needs --plan, the plan to write into",
	taken: `{plan} is not written: its {key} come from another file; give that file after --plan, or write the {key} into this
		site first`,
	cannotWrite: "{plan} is not written: it cannot be added to its site as that is written; add it by hand",
	crosses: "{path}: the outline of `{name}` crosses itself between its corners {first} and {second}",
	written: "{plan}: its site has this now: {what}. See what that changes: lodebook check {plan}",
	swapped: "With latitude and longitude swapped, the tiles would cover it: are the two the wrong way round?",
	decimalComma: `{place}: expected two values, found {count}. With a decimal comma, put a semicolon between the values: 0;
		52,5`,
	replace: "with --write: replace a skyline that the site already has, all round",
	onlyReplace: "--replace goes with --write",
	inPlace: `{plan} is not written: its site has a skyline already, of {count} point{s}, the highest at {altitude} at
		bearing {bearing}. To write this one in its place, add --replace`,
	replaced: "Replaced: the site's skyline of {count} point{s}, the highest at {altitude} at bearing {bearing}.",
	otherGround: `{plan} is not written: its elevation, {elevation} m, and the ground of the tiles there, {tiles} m,
		differ by more than 50 m, so the skyline would be wrong. Correct the elevation, or delete it to have the tiles'
		elevation written; or say which to use: --elevation '{tiles} m'`,
	elevation: "It had no elevation; {elevation} m is written, from the tiles.",
	partlyWritten: `The skyline is traced over {degrees}° of bearings; elsewhere the plan's own is kept, or, if it had none,
		a straight line between the ends.`,
	partly: `The skyline is traced over {degrees}° of bearings. Between its ends the plan continues in a straight line,
		across north too: add what is missing.`,
});

interface Options {
	readonly magnetic?: string;
	readonly declination?: number;
	readonly terrain?: readonly string[];
	readonly plan?: string;
	readonly write?: boolean;
	readonly replace?: boolean;
	readonly latitude?: number;
	readonly longitude?: number;
	readonly elevation?: number;
	readonly eyeHeight: number;
	readonly reach: number;
	readonly photo?: string;
	readonly size?: readonly [number, number];
	readonly projection: PhotoProjection;
	readonly field?: number;
}

const sizeOf = (text: string): readonly [number, number] => {
	const [, width, height] = /^(\d{1,6})\s*[x×]\s*(\d{1,6})$/.exec(text.trim()) ?? [];
	if (!(Number(width) > 1 && Number(height) > 1)) throw new InvalidArgumentError(told(words.sizeForm()));
	return [Number(width), Number(height)];
};

const fieldOf = (text: string): number => {
	const value = Number(text.replace("°", ""));
	if (!(value >= 1 && value <= 360)) throw new InvalidArgumentError(told(words.fieldForm()));
	return value;
};

const degrees = (text: string): number => {
	const value = Number(text.replace("°", "").replace("−", "-"));
	if (!Number.isFinite(value) || Math.abs(value) > 180) throw new InvalidArgumentError(told(words.mustBeDegrees()));
	return value;
};

export const skylineCommand = (): Command =>
	new Command("skyline")
		.description(told(words.about()))
		.argument("[table]", told(words.csvFileBearing()))
		.option("--magnetic <plan>", told(words.bearingsAreMagnetic()))
		.addOption(
			new Option("--declination <degrees>", told(words.bearingsAreMagnetic2()))
				.argParser(degrees)
				.conflicts("magnetic"),
		)
		.option("--terrain <paths...>", told(words.elevationTilesHgt()))
		.option("--plan <plan>", told(words.plan()))
		.option("--write", told(words.write()))
		.option("--replace", told(words.replace()))
		.option("--latitude <latitude>", told(words.withTerrainNorth()), coordinate("latitude"))
		.option("--longitude <longitude>", told(words.withTerrainEast()), coordinate("longitude"))
		.option("--elevation <elevation>", told(words.withTerrainGround()), metres("1450, '4750 ft'"))
		.addOption(
			lengthOption("--eye-height <height>", told(words.withTerrainCamera()), {
				example: "'1.7 m', '170 cm', '6 ft'",
				otherwise: 1.7,
				said: "1.7 m",
				alone: [0, 20],
			}),
		)
		.addOption(
			lengthOption("--reach <distance>", told(words.withTerrainHow()), {
				example: "'100 km', '60 mi'",
				otherwise: 100_000,
				said: "100 km",
				alone: [1000, 300_000],
			}),
		)
		.option("--photo <points>", told(words.photo()))
		.option("--size <pixels>", told(words.size()), sizeOf)
		.addOption(
			new Option("--projection <name>", told(words.projection())).choices(PHOTO_PROJECTIONS).default("rectilinear"),
		)
		.option("--field <degrees>", told(words.field()), fieldOf)
		.addHelpText(
			"after",
			`
${HELP.examples}
  lodebook skyline --photo arch.csv --size 6000x4000
  lodebook skyline walls.csv --magnetic samples/roofless-chapel.lode.yaml
  lodebook skyline --terrain tiles --latitude '32.4123 S' --longitude '20.9 E'
  lodebook skyline --terrain tiles --plan plan.lode.yaml --write`,
		)
		.action(async (path: string | undefined, options: Options) => {
			if (options.write && options.plan === undefined) throw new CannotRun(told(words.writePlan()));
			if (options.replace && !options.write) throw new CannotRun(told(words.onlyReplace()));
			if (options.terrain) {
				if (path !== undefined) throw new CannotRun(told(words.either({ path })));
				await fromTerrain(options.terrain, options);
				return;
			}
			if (options.plan !== undefined && !options.write) throw new CannotRun(told(words.onlyPlan()));
			const only = (["latitude", "longitude", "elevation"] as const).find((key) => options[key] !== undefined);
			if (only) throw new CannotRun(told(words.onlyTerrain({ option: `--${only}` })));
			if (options.photo !== undefined) {
				if (path !== undefined) throw new CannotRun(told(words.either({ path })));
				fromPhoto(options.photo, options);
				return;
			}
			const alone = (["size", "field"] as const).find((key) => options[key] !== undefined);
			if (alone) throw new CannotRun(told(words.onlyPhoto({ option: `--${alone}` })));
			if (path === undefined) throw new CannotRun(told(words.nothing()));
			fromSurvey(path, options);
		});

function fromSurvey(path: string, options: Options): void {
	const text = readText(path);
	const declination = turnOf(options);
	const comments = [told(sources.survey({ path: shown(basename(path)) }))];
	if (saysParts(text)) {
		const points = readSurvey(path, text, declination);
		give(path, { points, lines: [aroundGap(points)], comments }, options);
	} else {
		const points = readTable(path, text).map(({ bearing, altitude }) => ({
			part: "skyline" as const,
			name: "",
			bearing: round(turn(bearing + declination)),
			altitude: round(altitude),
		}));
		const sorted = [...points].sort((a, b) => a.bearing - b.bearing);
		const twice = sorted.find(({ bearing }, i) => i > 0 && sorted[i - 1]?.bearing === bearing);
		if (twice) throw new CannotRun(told(words.twoPointsHave({ path, bearing: twice.bearing })));
		if (options.write) give(path, { points, lines: [aroundGap(points)], comments }, options);
		else
			process.stdout.write(
				`skyline: [${sorted.map(({ bearing, altitude }) => `[${bearing}, ${altitude}]`).join(", ")}]\n`,
			);
	}
	tellTurn(declination);
}

interface Given {
	readonly points: readonly PartPoint[];
	/** The skyline's points as lines, each in its order. */
	readonly lines: readonly (readonly SkyPoint[])[];
	readonly comments: readonly string[];
}

/** Prints what was measured, or writes it. */
function give(path: string, given: Given, { plan, write, replace }: Options): void {
	const degrees = tracedDegrees(given.points);
	if (!write || plan === undefined) {
		process.stdout.write(keysText(path, given.points, given.comments));
		if (degrees !== undefined) say(words.partly({ degrees }));
		return;
	}
	const file = readPlanFile(plan);
	const { site } = evaluate(joinedPlan(plan, file.text));
	const own = readPlan(file.text);
	const cell = cellsOf(own, "site")[0];
	if (!cell) throw new CannotRun(told(words.noSite({ plan })));
	keysText(path, given.points, given.comments);
	const outlines = outlinesFrom(path, given.points);
	for (const { name, outline } of [
		...outlines.openings,
		...outlines.obstructions,
		...outlines.obstructions.flatMap(({ name, window }) => (window ? [{ name, outline: window }] : [])),
	]) {
		const crossing = edgesThatCross(outlineOf(outline));
		if (crossing)
			throw new CannotRun(told(words.crosses({ path, name, first: crossing[0] + 1, second: crossing[1] + 1 })));
	}
	const whole = degrees === undefined;
	const lines = given.lines.filter(({ length }) => length > 0);
	const before = site?.content.skyline;
	const all = whole ? skylinePoints(given.points) : skylineOfLines(lines, before);
	const hasSkyline = lines.length > 0;
	const lost = hasSkyline && whole ? lostSkyline(cell, all) : undefined;
	if (lost && !replace) throw new CannotRun(told(words.inPlace({ plan, ...lostText(lost) })));
	const found = siteEdits(cell, site?.content ?? {}, {
		skyline: hasSkyline ? { points: all, comments: given.comments, whole: whole || before === undefined } : undefined,
		...outlines,
		said: (name) => `${shown(name)}: ${given.comments.join(" ")}`,
	});
	if ("taken" in found) throw new CannotRun(told(words.taken({ plan, key: found.taken })));
	const what = [
		...(hasSkyline ? ["skyline"] : []),
		...[...outlines.openings, ...outlines.obstructions].map(({ name }) => `\`${shown(name)}\``),
	];
	writePlan(file, own, found.edits, what.join(", "));
	if (lost) say(words.replaced(lostText(lost)));
	if (hasSkyline && degrees !== undefined) say(words.partlyWritten({ degrees }));
}

const lostText = ({ count, altitude, bearing }: NonNullable<ReturnType<typeof lostSkyline>>) => ({
	count,
	s: count === 1 ? "" : "s",
	altitude: degreesText(altitude),
	bearing: bearingText(bearing),
});

function writePlan(file: ReadPlanFile, plan: Plan, edits: readonly TextEdit[], what: string): void {
	const path = shown(file.path);
	if (edits.length === 0 || !stillReads(plan, edits)) throw new CannotRun(told(words.cannotWrite({ plan: path })));
	replaceFile(file, applyEdits(file.text, edits));
	say(words.written({ plan: path, what }));
}

const turnOf = ({ declination, magnetic }: Options): number =>
	declination ?? (magnetic === undefined ? 0 : declinationOf(magnetic));

function tellTurn(declination: number): void {
	if (declination !== 0)
		process.stderr.write(
			`${told((declination < 0 ? words.subtracted : words.magneticBearingsMade)({ angle: Math.abs(declination).toFixed(2) }))}\n`,
		);
}

function fromPhoto(path: string, options: Options): void {
	const { size, projection, field } = options;
	if (!size) throw new CannotRun(told(words.needsSize()));
	const [width, height] = size;
	if (projection === "rectilinear" && field !== undefined && field >= 179) throw new CannotRun(told(words.fieldForm()));
	const scale = field === undefined ? undefined : scaleAcross({ width, height, projection }, field);
	const declination = turnOf(options);
	const { attitude, marks, points, plusMinus } = readPhotoPoints(
		path,
		readText(path),
		{ width, height, projection, scale },
		declination,
	);
	const worst = Math.max(...attitude.residuals);
	const off = (index: number): string => angleText(attitude.residuals[index] ?? 0);
	const told95 = angleText(2 * plusMinus);
	const comment = told(
		sources.photo({ path: shown(basename(path)), marks: marks.length, worst: angleText(worst), within: told95 }),
	);
	give(path, { points, lines: linesOf(points), comments: [comment] }, options);
	tellTurn(declination);
	const middle = attitude.at(width / 2, height / 2);
	if (middle)
		say(
			words.lookedAt({
				bearing: bearingText(middle.bearing),
				altitude: heightText(middle.altitude),
				field: angleText(fieldAcrossPhoto({ width, height, projection }, attitude.scale)),
			}),
		);
	const { disagree, ambiguous } = attitude;
	if (ambiguous) say(words.ambiguous());
	for (const [i, { name }] of marks.entries())
		if (!(disagree.length === 1 && disagree[0] === i)) say(words.mark({ name, off: off(i) }));
	const [first] = disagree;
	if (disagree.length === 1 && first !== undefined)
		say(words.wrongMark({ name: marks[first]?.name ?? "", off: off(first) }));
	if (disagree.length > 1)
		say(words.wrongMarks({ names: disagree.map((i) => marks[i]?.name ?? "").join(", "), off: angleText(worst) }));
}

const say = (phrase: Phrase): boolean => process.stderr.write(`${told(phrase)}\n`);

/** Skyline points as they follow each other, one line a name. */
function linesOf(points: readonly PartPoint[]): readonly (readonly SkyPoint[])[] {
	const lines = new Map<string, SkyPoint[]>();
	for (const { part, name, bearing, altitude } of points)
		if (part === "skyline") lines.set(name, [...(lines.get(name) ?? []), [bearing, altitude]]);
	return [...lines.values()];
}

/** Skyline points of a survey as one line that begins behind the widest gap. */
function aroundGap(points: readonly PartPoint[]): readonly SkyPoint[] {
	const sorted = points
		.filter(({ part }) => part === "skyline")
		.map(({ bearing, altitude }): SkyPoint => [bearing, altitude])
		.sort(([a], [b]) => a - b);
	const gaps = sorted.map(([bearing], i) => turn(bearing - (sorted.at(i - 1)?.[0] ?? 0)));
	const start = Math.max(0, gaps.indexOf(Math.max(...gaps)));
	return [...sorted.slice(start), ...sorted.slice(0, start)];
}

/** Degrees of bearing over which a skyline is traced, where that is not all round. */
function tracedDegrees(points: readonly PartPoint[]): number | undefined {
	const bearings = points
		.filter(({ part }) => part === "skyline")
		.map(({ bearing }) => bearing)
		.sort((a, b) => a - b);
	if (bearings.length === 0) return undefined;
	const gap = Math.max(
		...bearings.map((one, i) =>
			i === 0 ? one + 360 - (bearings.at(-1) as number) : one - (bearings[i - 1] as number),
		),
	);
	return gap > 90 ? Math.round(360 - gap) : undefined;
}

const angleText = (value: number): string =>
	value < 0.005 ? "0.01°" : `${value < 1 ? value.toFixed(2) : value.toFixed(1)}°`;

function spotOf({ plan, latitude, longitude, elevation }: Options, text?: string): GroundSpot {
	if (plan === undefined) {
		if (latitude === undefined || longitude === undefined) throw new CannotRun(told(words.where()));
		return { latitude, longitude, elevation, landmarks: [] };
	}
	if (latitude !== undefined || longitude !== undefined) throw new CannotRun(told(words.planOrPlace()));
	const { site, landmarks } = evaluate(joinedPlan(plan, text ?? readText(plan)));
	if (!site) throw new CannotRun(told(words.noSite({ plan })));
	return { ...groundSpot(site, landmarks), elevation: elevation ?? site.content.elevation };
}

async function fromTerrain(paths: readonly string[], options: Options): Promise<void> {
	const { eyeHeight, reach } = options;
	if (!(eyeHeight >= 0 && eyeHeight <= 1000)) throw new CannotRun(told(words.eyeHeight({ height: eyeHeight })));
	if (!(reach >= 1000 && reach <= 300_000)) throw new CannotRun(told(words.reach({ reach: kilometres(reach) })));
	const file = options.write && options.plan !== undefined ? readPlanFile(options.plan) : undefined;
	const spot = spotOf(options, file?.text);
	const { landmarks } = spot;
	const { sources, unread } = tilesOf(paths, spot, reach);
	const survey = await surveyGround(sources, {
		...spot,
		eyeHeight,
		reach,
		sights: landmarks,
		progress: showProgress,
	});
	if ("code" in survey) {
		const why = noGround(spot, survey, unread);
		throw new CannotRun((await isOnTiles(paths, swappedSpot(spot))) ? `${why}. ${told(words.swapped())}` : why);
	}
	const skyline = skylineOf(survey, spot, reach);
	if (file) {
		const own = readPlan(file.text);
		const plan = shown(file.path);
		if (
			options.elevation === undefined &&
			spot.elevation !== undefined &&
			elevationDoubt(spot.elevation, survey.ground)
		)
			throw new CannotRun(
				told(words.otherGround({ plan, elevation: Math.round(spot.elevation), tiles: Math.round(survey.ground) })),
			);
		const cell = cellsOf(own, "site")[0];
		const lost = cell && lostSkyline(cell, survey.points);
		if (lost && !options.replace) throw new CannotRun(told(words.inPlace({ plan, ...lostText(lost) })));
		const elevation = spot.elevation === undefined ? survey.ground : undefined;
		writePlan(file, own, groundEdits(own, skyline, elevation), "skyline");
		if (lost) say(words.replaced(lostText(lost)));
		if (elevation !== undefined && cell && elevationEdits(cell, elevation).length > 0)
			say(words.elevation({ elevation: Math.round(elevation) }));
	} else process.stdout.write(measuredText("skyline", skyline));
	for (const note of notesOf(survey, spot, reach)) say(note);
	if (unread.size === 0) return;
	for (const why of unread) say(withoutTile(why));
	process.exitCode = 2;
}

const swappedSpot = ({ latitude, longitude }: GroundSpot) => ({ latitude: longitude, longitude: latitude });

/** Whether tiles know the ground at a place, if it is one. */
async function isOnTiles(paths: readonly string[], spot: ReturnType<typeof swappedSpot>): Promise<boolean> {
	if (Math.abs(spot.latitude) > 90) return false;
	const [ground] = await groundsAt(tilesOf(paths, spot, 1000).sources, [spot]);
	return ground !== undefined;
}

/** How far it is, on a terminal only. */
function showProgress(part: number): void {
	if (process.stderr.isTTY) process.stderr.write(part < 1 ? `\r${Math.round(100 * part)} %` : "\r     \r");
}

const round = (value: number): number => Math.round(value * 100) / 100;

const MOST_POINTS = 720;

function readTable(path: string, text: string): readonly { readonly bearing: number; readonly altitude: number }[] {
	const points: { bearing: number; altitude: number }[] = [];
	text
		.replace(/^\uFEFF/, "")
		.split(/\r\n|\n|\r/)
		.forEach((line, i) => {
			const content = inDegrees(line.replace(/#.*/, "").trim());
			if (content === "") return;
			const [first = "", second = "", ...more] = content.includes(";")
				? content.split(";").map((part) => part.trim())
				: content.split(/\s*[,\t]\s*|\s+/);
			const [bearing, altitude] = [first, second].map((one) =>
				Number(one.replace(/["°]/g, "").replace(",", ".").replace("−", "-") || "x"),
			) as [number, number];
			const place = `${path}, line ${i + 1}`;
			if (!Number.isFinite(bearing) || !Number.isFinite(altitude)) {
				// The heading.
				if (points.length === 0 && !/\d/.test(content)) return;
				throw new CannotRun(told(words.expectedBearingAltitude({ place })));
			}
			if (more.length > 0 && /^[^;\s]*\d,\d[^;]*$/.test(content))
				throw new CannotRun(told(words.decimalComma({ place, count: more.length + 2 })));
			if (more.length > 0) throw new CannotRun(told(words.expectedTwoValues({ place, count: more.length + 2 })));
			if (bearing < 0 || bearing > 360)
				throw new CannotRun(`${place}: expected a bearing from 0° to 360°, found ${bearing}°`);
			if (altitude < -30 || altitude > 90) throw new CannotRun(told(words.expectedAltitudeFrom({ place, altitude })));
			points.push({ bearing, altitude });
		});
	if (points.length === 0) throw new CannotRun(told(words.noPointsFound({ path })));
	if (points.length > MOST_POINTS)
		throw new CannotRun(told(words.pointsAreToo({ path, count: points.length, most: MOST_POINTS })));
	return points;
}

function declinationOf(plan: string): number {
	const { field } = evaluate(joinedPlan(plan, readText(plan)));
	if (!field) throw new CannotRun(told(words.magneticDeclinationNeeds({ plan })));
	return field.declination;
}
