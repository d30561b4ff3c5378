import { basename } from "node:path";
import { Command, InvalidArgumentError, Option } from "commander";
import { evaluate } from "../../shared/evaluate/evaluate.ts";
import type { SightedLandmark } from "../../shared/methods/tonight.ts";
import { bearingText } from "../../shared/notation/bearing.ts";
import { coordinateText } from "../../shared/notation/coordinate.ts";
import { heightText } from "../../shared/notation/height.ts";
import type { PhotoProjection } from "../../shared/photo/attitude.ts";
import { DEG, RAD, turn } from "../../shared/sky/vector.ts";
import { tileNameAt } from "../../shared/terrain/hgt.ts";
import { type GroundSurvey, surveyGround } from "../../shared/terrain/survey.ts";
import { type Phrase, sentences, told } from "../../shared/text/sentence.ts";
import { shown } from "../../shared/text/shown.ts";
import { CannotRun, readText } from "../files.node.ts";
import { HELP } from "../help-words.ts";
import { joinedPlan } from "../library.node.ts";
import { tilesOf } from "../terrain.node.ts";
import { keysText, readPhotoPoints, readSurvey, saysParts, type TracedPoint } from "../traced.ts";
import { coordinate, metres } from "./place-options.ts";

const words = sentences("command.skyline", {
	about: `Makes the site's skyline key from a survey, a table of bearings and altitudes: sorted, with true bearings. Or, with
		--terrain, from elevation tiles that you have: what the ground around hides. Or, with --photo, from places in a photo:
		skyline, openings and obstructions.`,
	mustBeDegrees: "It must be degrees, east positive.",
	csvFileBearing: `a CSV file: bearing, altitude in degrees, one point a line; a heading and comments (#) are allowed. A
		third value may be skyline, opening, obstruction or window, a fourth its name: corners in order around it`,
	bearingsAreMagnetic: "the bearings are magnetic: use the declination of this plan's site and night",
	bearingsAreMagnetic2: "the bearings are magnetic: use this declination, east positive",
	elevationTilesHgt: "elevation tiles, .hgt or GeoTIFF in latitude and longitude, or folders of them",
	withTerrainSpot: "with --terrain: the spot is this plan's site, and its landmarks are looked at too",
	withTerrainNorth: "with --terrain: north positive, or with N or S",
	withTerrainEast: "with --terrain: east positive, or with E or W",
	withTerrainGround: "with --terrain: of the ground you stand on, where you know it better than the tiles",
	withTerrainCamera: "with --terrain: of the camera above the ground",
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
	onlyTerrain: "{option} goes with --terrain: a table of bearings knows no place",
	where: "--terrain needs the spot: --latitude and --longitude, or --plan",
	planOrPlace: "give --plan or --latitude and --longitude, not both",
	noSite: "{plan}: it has no site with coordinates that can be read",
	eyeHeight: "--eye-height: {height} m is not between 0 and 1,000 m",
	reach: "--reach: {reach} is not between 1 km and 300 km",
	notCovered: `no tile covers {latitude}, {longitude}: its ground is needed first of all. As a .hgt file it is called
		{name}`,
	from: `Ground by elevation tiles, seen from {eye} m ({of}), as far as {reach}; true bearings; straight lines within
		{tolerance}° of it.`,
	byTiles: "the eye, by the tiles",
	byYou: "the eye, by the elevation given",
	groundOnly: `No trees, walls, arches or roofs are in it, and nothing nearer than {near} m: look for yourself and add what hides
		more.`,
	elevation: `The elevation given, {plan} m, and the tiles', {tiles} m, differ by more than 50 m: check the coordinates, and
		whether the site is in a gorge or on a rock that the tiles smooth away.`,
	bridged: "{count} heights without a value were taken from their neighbours.",
	voids: "{count} heights have no value and too few neighbours: the ground there is left out.",
	gap: "At bearings {from}° to {until}° the tiles know the ground to {known} only: what is farther is left out.",
	sea: "At {degrees}° of bearings no tile has any ground: it was taken as the sea.",
	photo: `places in a photo, as CSV: x, y in pixels from the upper left corner, then mark, horizon, skyline, opening,
		obstruction or window, then a name, and for a mark its bearing and altitude`,
	size: "with --photo: its width and height in pixels, such as 6000x4000",
	projection: "with --photo: how its lens draws; equirectangular is a whole panorama",
	field: "with --photo: the angle of view across its width; without it three marks or more tell",
	sizeForm: "Write width and height: 6000x4000.",
	fieldForm: "Write it in degrees, between 1 and 360: 73.7.",
	needsSize: "--photo needs the photo's size: --size 6000x4000",
	onlyPhoto: "{option} goes with --photo",
	fromPhoto:
		"From a photo ({path}): {marks} marks, off by {worst} at most; points within {within} of where they are, 19 times in 20.",
	fromSurvey: "From a survey ({path}); true bearings.",
	mark: "mark {name}: {off} from where the others have it.",
	wrongMark:
		"mark {name} disagrees with the others by {off}: look at its place in the photo, its bearing and its altitude.",
	wrongMarks: "Marks {names} do not agree, by up to {off}, and none of them alone is to blame: look at each again.",
	lookedAt: "The camera looked at bearing {bearing}, {altitude}; {field} across.",
	partly: `The skyline is traced over {degrees}° of bearings. Between its ends the plan goes on straight, past north too: add
		what is there.`,
	hidden: "{name}, {away} away, is hidden by the ground at {at}.",
});

interface Options {
	readonly magnetic?: string;
	readonly declination?: number;
	readonly terrain?: readonly string[];
	readonly plan?: string;
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

const PROJECTIONS: readonly PhotoProjection[] = ["rectilinear", "equidistant", "equisolid", "equirectangular"];

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
		.option("--declination <degrees>", told(words.bearingsAreMagnetic2()), degrees)
		.option("--terrain <paths...>", told(words.elevationTilesHgt()))
		.option("--plan <plan>", told(words.withTerrainSpot()))
		.option("--latitude <latitude>", told(words.withTerrainNorth()), coordinate("latitude"))
		.option("--longitude <longitude>", told(words.withTerrainEast()), coordinate("longitude"))
		.option("--elevation <elevation>", told(words.withTerrainGround()), metres("1450, '4750 ft'"))
		.option("--eye-height <height>", told(words.withTerrainCamera()), metres("1.7, '6 ft'"), 1.7)
		.option("--reach <distance>", told(words.withTerrainHow()), metres("'100 km', '60 mi'"), 100_000)
		.option("--photo <points>", told(words.photo()))
		.option("--size <pixels>", told(words.size()), sizeOf)
		.addOption(new Option("--projection <name>", told(words.projection())).choices(PROJECTIONS).default("rectilinear"))
		.option("--field <degrees>", told(words.field()), fieldOf)
		.addHelpText(
			"after",
			`
${HELP.examples}
  lodebook skyline --photo arch.csv --size 6000x4000
  lodebook skyline walls.csv --magnetic samples/roofless-chapel.lode.yaml
  lodebook skyline --terrain tiles --latitude '32.4123 S' --longitude '20.9 E'`,
		)
		.action(async (path: string | undefined, options: Options) => {
			if (options.terrain) {
				if (path !== undefined) throw new CannotRun(told(words.either({ path })));
				await fromTerrain(options.terrain, options);
				return;
			}
			const only = (["plan", "latitude", "longitude", "elevation"] as const).find((key) => options[key] !== undefined);
			if (only) throw new CannotRun(told(words.onlyTerrain({ option: `--${only}` })));
			if (options.photo !== undefined) {
				if (path !== undefined) throw new CannotRun(told(words.either({ path })));
				fromPhoto(options.photo, options);
				return;
			}
			const alone = (["size", "field"] as const).find((key) => options[key] !== undefined);
			if (alone) throw new CannotRun(told(words.onlyPhoto({ option: `--${alone}` })));
			if (path === undefined) throw new CannotRun(told(words.nothing()));
			const text = readText(path);
			if (saysParts(text)) {
				const points = readSurvey(path, text, turnOf(options));
				process.stdout.write(keysText(path, points, [told(words.fromSurvey({ path: shown(basename(path)) }))]));
				tellTurn(turnOf(options));
				tellPartly(points);
			} else fromTable(path, options);
		});

function fromTable(path: string, options: Options): void {
	const points = readTable(path, readText(path));
	const declination = turnOf(options);
	const turned = points.map(({ bearing, altitude }) => ({
		bearing: round(turn(bearing + declination)),
		altitude: round(altitude),
	}));
	const sorted = turned.sort((a, b) => a.bearing - b.bearing);
	const twice = sorted.find(({ bearing }, i) => i > 0 && sorted[i - 1]?.bearing === bearing);
	if (twice) throw new CannotRun(told(words.twoPointsHave({ path, bearing: twice.bearing })));
	process.stdout.write(`skyline: [${sorted.map(({ bearing, altitude }) => `[${bearing}, ${altitude}]`).join(", ")}]\n`);
	tellTurn(declination);
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
	const scale = field === undefined ? undefined : scaleOf(projection, width, field);
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
		words.fromPhoto({ path: shown(basename(path)), marks: marks.length, worst: angleText(worst), within: told95 }),
	);
	process.stdout.write(keysText(path, points, [comment]));
	tellTurn(declination);
	const say = (phrase: Phrase): boolean => process.stderr.write(`${told(phrase)}\n`);
	const middle = attitude.at(width / 2, height / 2);
	if (middle)
		say(
			words.lookedAt({
				bearing: bearingText(middle.bearing),
				altitude: heightText(middle.altitude),
				field: angleText(fieldAcrossOf(projection, width, attitude.scale)),
			}),
		);
	const { disagree } = attitude;
	for (const [i, { name }] of marks.entries())
		if (!(disagree.length === 1 && disagree[0] === i)) say(words.mark({ name, off: off(i) }));
	const [first] = disagree;
	if (disagree.length === 1 && first !== undefined)
		say(words.wrongMark({ name: marks[first]?.name ?? "", off: off(first) }));
	if (disagree.length > 1)
		say(words.wrongMarks({ names: disagree.map((i) => marks[i]?.name ?? "").join(", "), off: angleText(worst) }));
	tellPartly(points);
}

/** A skyline that is not traced all round. */
function tellPartly(points: readonly TracedPoint[]): void {
	const bearings = points
		.filter(({ part }) => part === "skyline")
		.map(({ bearing }) => bearing)
		.sort((a, b) => a - b);
	if (bearings.length === 0) return;
	const gap = Math.max(
		...bearings.map((one, i) =>
			i === 0 ? one + 360 - (bearings.at(-1) as number) : one - (bearings[i - 1] as number),
		),
	);
	if (gap > 90) process.stderr.write(`${told(words.partly({ degrees: Math.round(360 - gap) }))}\n`);
}

const angleText = (value: number): string =>
	value < 0.005 ? "0.01°" : `${value < 1 ? value.toFixed(2) : value.toFixed(1)}°`;

/** Pixels a radian of a lens with an angle of view across the photo's width. */
function scaleOf(projection: PhotoProjection, width: number, field: number): number {
	const half = (field * RAD) / 2;
	if (projection === "rectilinear") {
		if (field >= 179) throw new CannotRun(told(words.fieldForm()));
		return width / 2 / Math.tan(half);
	}
	return width / 2 / (projection === "equisolid" ? 2 * Math.sin(half / 2) : half);
}

function fieldAcrossOf(projection: PhotoProjection, width: number, scale: number): number {
	const half = width / 2 / scale;
	if (projection === "rectilinear") return 2 * Math.atan(half) * DEG;
	return projection === "equisolid" ? 4 * Math.asin(Math.min(1, half / 2)) * DEG : 2 * half * DEG;
}

/** A spot whose skyline is asked for. */
interface Spot {
	readonly latitude: number;
	readonly longitude: number;
	readonly elevation: number | undefined;
	readonly landmarks: readonly SightedLandmark[];
}

function spotOf({ plan, latitude, longitude, elevation }: Options): Spot {
	if (plan === undefined) {
		if (latitude === undefined || longitude === undefined) throw new CannotRun(told(words.where()));
		return { latitude, longitude, elevation, landmarks: [] };
	}
	if (latitude !== undefined || longitude !== undefined) throw new CannotRun(told(words.planOrPlace()));
	const { site, landmarks } = evaluate(joinedPlan(plan, readText(plan)));
	if (!site) throw new CannotRun(told(words.noSite({ plan })));
	const { spot, content } = site;
	return {
		latitude: spot.latitude,
		longitude: spot.longitude,
		elevation: elevation ?? content.elevation,
		landmarks: landmarks.filter(({ located }) => located),
	};
}

/** Metres by which a plan's elevation and the tiles' may differ before it is said. */
const FAR_OFF = 50;

async function fromTerrain(paths: readonly string[], options: Options): Promise<void> {
	const { eyeHeight, reach } = options;
	if (!(eyeHeight >= 0 && eyeHeight <= 1000)) throw new CannotRun(told(words.eyeHeight({ height: eyeHeight })));
	if (!(reach >= 1000 && reach <= 300_000)) throw new CannotRun(told(words.reach({ reach: kilometres(reach) })));
	const spot = spotOf(options);
	const { landmarks } = spot;
	const survey = await surveyGround(tilesOf(paths, spot, reach), {
		...spot,
		eyeHeight,
		reach,
		sights: landmarks,
		progress: showProgress,
	});
	const { latitude, longitude } = spot;
	if (!survey)
		throw new CannotRun(
			told(
				words.notCovered({
					latitude: coordinateText(latitude, "latitude"),
					longitude: coordinateText(longitude, "longitude"),
					name: `${tileNameAt(latitude, longitude)}.hgt`,
				}),
			),
		);
	process.stdout.write(skylineText(survey, spot, reach));
	for (const note of notesOf(survey, spot, reach)) process.stderr.write(`${told(note)}\n`);
}

/** How far it is, on a terminal only. */
function showProgress(part: number): void {
	if (process.stderr.isTTY) process.stderr.write(part < 1 ? `\r${Math.round(100 * part)} %` : "\r     \r");
}

const LINE = 110;

/** The key, with a comment on where it is from. */
function skylineText({ eye, near, points, tolerance }: GroundSurvey, { elevation }: Spot, reach: number): string {
	const comments = [
		words.from({
			eye: Math.round(eye.elevation),
			of: elevation === undefined ? words.byTiles() : words.byYou(),
			reach: kilometres(reach),
			tolerance: round(tolerance),
		}),
		words.groundOnly({ near: Math.ceil(near / 10) * 10 }),
	].map((comment) => `# ${told(comment)}\n`);
	const lines: string[] = [];
	let line = "  [";
	for (const [i, [bearing, altitude]] of points.entries()) {
		const point = `[${Math.round(bearing * 10) / 10}, ${round(altitude)}]${i < points.length - 1 ? "," : "]"}`;
		if (line.length + point.length > LINE) {
			lines.push(line.trimEnd());
			line = "   ";
		}
		line += `${point} `;
	}
	return `${comments.join("")}skyline:\n${[...lines, line.trimEnd()].join("\n")}\n`;
}

/** What the photographer should know beside: doubtful heights, what no tile knows, landmarks that are hidden. */
function* notesOf(survey: GroundSurvey, { elevation, landmarks }: Spot, reach: number): Generator<Phrase> {
	const { ground, horizon, bridged, voids, unknown } = survey;
	if (elevation !== undefined && Math.abs(elevation - ground) > FAR_OFF)
		yield words.elevation({ plan: Math.round(elevation), tiles: Math.round(ground) });
	if (bridged > 0) yield words.bridged({ count: bridged });
	if (voids > 0) yield words.voids({ count: voids });
	for (const { from, until, known } of gapsOf(horizon.knownTo, reach))
		yield words.gap({ from, until, known: kilometres(known) });
	if (unknown > 0) yield words.sea({ degrees: Math.round(unknown * 10) / 10 });
	for (const [i, { name, distance }] of landmarks.entries()) {
		const at = horizon.hiddenAt[i];
		if (at !== undefined) yield words.hidden({ name, at: kilometres(at), away: kilometres(distance) });
	}
}

/** Stretches of bearings in which the ground is not known as far as asked for, whole degrees, and how far it is there. */
function gapsOf(knownTo: ArrayLike<number>, reach: number) {
	const gaps: { from: number; until: number; known: number }[] = [];
	for (let bearing = 0; bearing < knownTo.length; bearing++) {
		const known = knownTo[bearing] as number;
		if (known >= reach - GAP_METRES) continue;
		const last = gaps.at(-1);
		if (last && last.until === bearing - 1) {
			last.until = bearing;
			last.known = Math.min(last.known, known);
		} else gaps.push({ from: bearing, until: bearing, known });
	}
	return gaps;
}

/** What is missing at the far end that is not worth a word. */
const GAP_METRES = 1000;

const kilometres = (length: number): string =>
	length < 950
		? `${Math.round(length / 10) * 10} m`
		: `${length < 9950 ? (length / 1000).toFixed(1) : Math.round(length / 1000)} km`;

const round = (value: number): number => Math.round(value * 100) / 100;

const MOST_POINTS = 720;

function readTable(path: string, text: string): readonly { readonly bearing: number; readonly altitude: number }[] {
	const points: { bearing: number; altitude: number }[] = [];
	text
		.replace(/^\uFEFF/, "")
		.split(/\r\n|\n|\r/)
		.forEach((line, i) => {
			const content = line.replace(/#.*/, "").trim();
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
