/**
 * Points with names of a map's file: GPX 1.0 and 1.1 (way points), KML 2.2 (placemarks that are points), GeoJSON
 * (RFC 7946). XML is read as a stream that knows no entity but XML's own five: a document type is refused.
 */
import sax from "sax";
import { isGround } from "../shared/earth/ground.ts";

export interface MapPoint {
	readonly name: string;
	/** Which it is in the file, from 1. */
	readonly number: number;
	/** Degrees. */
	readonly latitude: number;
	readonly longitude: number;
	/** Metres; undefined where the file does not say, or says what no ground has. */
	readonly elevation: number | undefined;
	/** The elevation as the file has it, where that is none. */
	readonly noElevation: string | undefined;
}

export type MapFormat = "GPX" | "KML" | "GeoJSON";

export interface MapPoints {
	readonly format: MapFormat;
	readonly points: readonly MapPoint[];
	/** Points whose place is none. */
	readonly unplaced: readonly UnplacedPoint[];
	/** Things that are not points. */
	readonly others: number;
}

/** A point with a coordinate that is not a number of degrees in its range. */
export interface UnplacedPoint {
	readonly name: string;
	/** Which it is in the file, from 1. */
	readonly number: number;
	readonly axis: "latitude" | "longitude";
	/** As the file has it; empty where it has none. */
	readonly said: string;
}

export type MapProblem =
	| { readonly code: "unknown" }
	| { readonly code: "packed" }
	| { readonly code: "doctype" }
	| { readonly code: "xml"; readonly line: number }
	| { readonly code: "json" }
	| { readonly code: "not-geojson" }
	| { readonly code: "many"; readonly most: number };

/** Points of a file at most: a map of a whole country is none of a site's surroundings. */
const MOST = 20_000;
/** Levels of a file's own nesting: of elements in XML, of collections in GeoJSON. */
const DEEPEST = 64;
const LONGEST_NAME = 80;

class Refused extends Error {
	readonly problem: MapProblem;

	constructor(problem: MapProblem) {
		super(problem.code);
		this.problem = problem;
	}
}

/** Reads what a map's file holds. */
export function readMapPoints(text: string): MapPoints | MapProblem {
	const start = text.replace(/^\uFEFF/, "").trimStart();
	try {
		if (start.startsWith("PK\u0003\u0004")) return { code: "packed" };
		if (start.startsWith("<")) return readXml(start);
		return start.startsWith("{") ? readGeoJson(start) : { code: "unknown" };
	} catch (error) {
		if (error instanceof Refused) return error.problem;
		throw error;
	}
}

/** What a file says of a point, as it has it. */
interface Said {
	readonly name: string | undefined;
	readonly latitude: unknown;
	readonly longitude: unknown;
	readonly elevation: unknown;
}

class Collected {
	readonly points: MapPoint[] = [];
	readonly unplaced: UnplacedPoint[] = [];
	others = 0;

	add(said: Said): void {
		const number = this.points.length + this.unplaced.length + 1;
		if (number > MOST) throw new Refused({ code: "many", most: MOST });
		const name = nameOf(said.name);
		const [latitude, longitude, height] = [said.latitude, said.longitude, said.elevation].map(numberOf) as [
			number,
			number,
			number,
		];
		const axis = Math.abs(latitude) <= 90 ? (Math.abs(longitude) <= 180 ? undefined : "longitude") : "latitude";
		if (axis) {
			this.unplaced.push({ name, number, axis, said: clipped(said[axis]) });
			return;
		}
		const isKnown = isGround(height);
		const noElevation = isKnown ? "" : clipped(said.elevation);
		this.points.push({
			name,
			number,
			latitude,
			longitude,
			elevation: isKnown ? height : undefined,
			noElevation: noElevation === "" ? undefined : noElevation,
		});
	}
}

const LONGEST_SAID = 24;

/** A value as the file has it, on one line and short; empty where there is none. */
function clipped(value: unknown): string {
	if (value === undefined || value === null) return "";
	const text = nameOf(typeof value === "object" ? "…" : String(value));
	const signs = [...text];
	return signs.length > LONGEST_SAID ? `${signs.slice(0, LONGEST_SAID).join("")}…` : text;
}

/** On one line, and no longer than a card has room for; empty where there is none. */
const nameOf = (name: string | undefined): string =>
	[...(name ?? "").replace(/[\p{Cc}\p{Cf}\s]+/gu, " ").trim()].slice(0, LONGEST_NAME).join("").trim();

/** A number as these formats write it; NaN for anything else. */
const numberOf = (value: unknown): number => (typeof value === "number" ? value : numberIn(value));

const numberIn = (text: unknown): number =>
	typeof text === "string" && /^\s*[-+]?(?:\d+\.?\d*|\.\d+)(?:e[-+]?\d+)?\s*$/i.test(text) ? Number(text) : Number.NaN;

function readXml(text: string): MapPoints | MapProblem {
	const parser = sax.parser(true, { trim: false, normalize: false });
	const found = new Collected();
	const path: string[] = [];
	let format: MapFormat | undefined;
	let said: Record<string, string> = {};
	let isPoint = false;
	const isIn = (...tail: readonly string[]): boolean =>
		tail.every((one, i) => path[path.length - tail.length + i] === one);
	parser.onerror = () => {
		throw new Refused({ code: "xml", line: parser.line + 1 });
	};
	parser.ondoctype = () => {
		throw new Refused({ code: "doctype" });
	};
	parser.onopentag = ({ name, attributes }) => {
		// Some writers put the format's own elements into a prefix.
		const local = name.replace(/^.*:/, "");
		if (path.length === 0) format = local === "gpx" ? "GPX" : local === "kml" ? "KML" : undefined;
		if (!format) throw new Refused({ code: "unknown" });
		path.push(local);
		if (path.length > DEEPEST) throw new Refused({ code: "xml", line: parser.line + 1 });
		if ((format === "GPX" && isIn("gpx", "wpt")) || (format === "KML" && local === "Placemark")) {
			said = { lat: String(attributes.lat ?? ""), lon: String(attributes.lon ?? "") };
			isPoint = false;
		} else if (format === "GPX" && path.length === 2 && /^(?:trk|rte)$/.test(local)) found.others++;
	};
	const hear = (piece: string): void => {
		const key =
			format === "GPX"
				? isIn("wpt", "name")
					? "name"
					: isIn("wpt", "ele")
						? "ele"
						: undefined
				: isIn("Placemark", "name")
					? "name"
					: isIn("Point", "coordinates")
						? "coordinates"
						: isIn("Point", "altitudeMode")
							? "mode"
							: undefined;
		if (key) said[key] = ((said[key] ?? "") + piece).slice(0, 1000);
	};
	parser.ontext = hear;
	parser.oncdata = hear;
	parser.onclosetag = () => {
		const local = path.pop();
		if (format === "GPX" && local === "wpt" && isIn("gpx"))
			found.add({ name: said.name, latitude: said.lat, longitude: said.lon, elevation: said.ele });
		if (format === "KML" && local === "Point") {
			isPoint = true;
			const [longitude, latitude, altitude] = (said.coordinates ?? "").split(",");
			// Without a mode the altitude is one above the ground, which nobody reads: KML 2.2, altitudeModeEnum.
			const elevation = said.mode?.trim() === "absolute" ? altitude : undefined;
			found.add({ name: said.name, latitude, longitude, elevation });
			said = { ...said, coordinates: "", mode: "" };
		}
		if (format === "KML" && local === "Placemark" && !isPoint) found.others++;
	};
	parser.write(text).close();
	return format ? { format, ...found } : { code: "unknown" };
}

function readGeoJson(text: string): MapPoints | MapProblem {
	let root: unknown;
	try {
		root = JSON.parse(text);
	} catch {
		return { code: "json" };
	}
	const found = new Collected();
	if (!isRecord(root) || !/^(?:FeatureCollection|Feature|GeometryCollection|Point|MultiPoint)$/.test(String(root.type)))
		return { code: "not-geojson" };
	look(root, undefined, 0);
	return { format: "GeoJSON", ...found };

	function look(one: unknown, name: string | undefined, depth: number): void {
		if (!isRecord(one) || depth > DEEPEST) {
			found.others++;
			return;
		}
		switch (one.type) {
			case "FeatureCollection":
				for (const feature of listOf(one.features)) look(feature, undefined, depth + 1);
				return;
			case "Feature": {
				const { name: called, title } = isRecord(one.properties) ? one.properties : {};
				const own = [called, title].find((value) => typeof value === "string");
				look(one.geometry, own as string | undefined, depth + 1);
				return;
			}
			case "GeometryCollection":
				for (const geometry of listOf(one.geometries)) look(geometry, name, depth + 1);
				return;
			case "Point":
				position(one.coordinates, name);
				return;
			case "MultiPoint":
				for (const coordinates of listOf(one.coordinates)) position(coordinates, name);
				return;
			default:
				found.others++;
		}
	}

	function position(coordinates: unknown, name: string | undefined): void {
		const [longitude, latitude, elevation] = listOf(coordinates);
		// Numbers alone: RFC 7946, 3.1.1.
		const asNumber = (value: unknown): unknown => (typeof value === "string" ? `"${value}"` : value);
		found.add({
			name,
			latitude: asNumber(latitude),
			longitude: asNumber(longitude),
			elevation: asNumber(elevation),
		});
	}
}

const listOf = (value: unknown): readonly unknown[] => (Array.isArray(value) ? value : []);
const isRecord = (value: unknown): value is Readonly<Record<string, unknown>> =>
	typeof value === "object" && value !== null && !Array.isArray(value);
