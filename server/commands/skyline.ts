import { Command, InvalidArgumentError } from "commander";
import { evaluate } from "../../shared/evaluate/evaluate.ts";
import { turn } from "../../shared/sky/vector.ts";
import { CannotRun, readText } from "../files.node.ts";
import { joinedPlan } from "../library.node.ts";

interface Options {
	readonly magnetic?: string;
	readonly declination?: number;
}

const degrees = (text: string): number => {
	const value = Number(text.replace("°", "").replace("−", "-"));
	if (!Number.isFinite(value) || Math.abs(value) > 180)
		throw new InvalidArgumentError("It must be degrees, east positive.");
	return value;
};

export const skylineCommand = (): Command =>
	new Command("skyline")
		.description(
			"Makes the site's skyline key from a survey, a table of bearings and altitudes: sorted, with true bearings.",
		)
		.argument(
			"<table>",
			"a CSV file: bearing, altitude in degrees, one point a line; a heading and comments (#) are allowed",
		)
		.option("--magnetic <plan>", "the bearings are magnetic: use the declination of this plan's site and night")
		.option("--declination <degrees>", "the bearings are magnetic: use this declination, east positive", degrees)
		.addHelpText("after", "\nExample:\n  lodebook skyline walls.csv --magnetic samples/roofless-chapel.lode.yaml")
		.action((path: string, options: Options) => {
			const points = readTable(path, readText(path));
			const declination = options.declination ?? (options.magnetic === undefined ? 0 : declinationOf(options.magnetic));
			const turned = points.map(({ bearing, altitude }) => ({
				bearing: round(turn(bearing + declination)),
				altitude: round(altitude),
			}));
			const sorted = turned.sort((a, b) => a.bearing - b.bearing);
			const twice = sorted.find(({ bearing }, i) => i > 0 && sorted[i - 1]?.bearing === bearing);
			if (twice) throw new CannotRun(`${path}: two points have the bearing ${twice.bearing}°; keep the higher one`);
			process.stdout.write(
				`skyline: [${sorted.map(({ bearing, altitude }) => `[${bearing}, ${altitude}]`).join(", ")}]\n`,
			);
			if (declination !== 0)
				process.stderr.write(
					`Magnetic bearings made true: ${Math.abs(declination).toFixed(2)}° ${declination < 0 ? "subtracted" : "added"}.\n`,
				);
		});

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
				throw new CannotRun(`${place}: expected a bearing and an altitude in degrees, such as 120, 18`);
			}
			if (more.length > 0) throw new CannotRun(`${place}: expected two values, found ${more.length + 2}`);
			if (bearing < 0 || bearing > 360)
				throw new CannotRun(`${place}: expected a bearing from 0° to 360°, found ${bearing}°`);
			if (altitude < -30 || altitude > 90)
				throw new CannotRun(`${place}: expected an altitude from −30° to 90°, found ${altitude}°`);
			points.push({ bearing, altitude });
		});
	if (points.length === 0) throw new CannotRun(`${path}: no points found`);
	if (points.length > MOST_POINTS)
		throw new CannotRun(`${path}: ${points.length} points are too many: at most ${MOST_POINTS}`);
	return points;
}

function declinationOf(plan: string): number {
	const { field } = evaluate(joinedPlan(plan, readText(plan)));
	if (!field)
		throw new CannotRun(
			`${plan}: the magnetic declination needs the site's coordinates and a date that the magnetic model covers`,
		);
	return field.declination;
}
