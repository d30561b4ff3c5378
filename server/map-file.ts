/**
 * Points with names of a map's file: GPX 1.0 and 1.1 (way points), KML 2.2 (placemarks that are points), GeoJSON
 * (RFC 7946). XML is read as a stream that knows no entity but XML's own five: a document type is refused.
 */
import sax from "sax";

export interface MapPoint {
	readonly name: string;
	/** Degrees. */
	readonly latitude: number;
	readonly longitude: number;
	/** Metres; undefined where the file does not say. */
	readonly elevation: number | undefined;
}

export type MapFormat = "GPX" | "KML" | "GeoJSON";

export interface MapPoints {
	readonly format: MapFormat;
	readonly points: readonly MapPoint[];
	/** Things that are not points, or whose place cannot be read. */
	readonly others: number;
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

class Collected {
	readonly points: MapPoint[] = [];
	others = 0;

	add(name: string | undefined, latitude: number, longitude: number, elevation: number | undefined): void {
		if (!(Math.abs(latitude) <= 90 && Math.abs(longitude) <= 180)) {
			this.others++;
			return;
		}
		if (this.points.length >= MOST) throw new Refused({ code: "many", most: MOST });
		const known = elevation !== undefined && elevation >= -500 && elevation <= 9000 ? elevation : undefined;
		this.points.push({ name: nameOf(name), latitude, longitude, elevation: known });
	}
}

/** On one line, and no longer than a card has room for; empty where there is none. */
const nameOf = (name: string | undefined): string =>
	[...(name ?? "").replace(/[\p{Cc}\p{Cf}\s]+/gu, " ").trim()].slice(0, LONGEST_NAME).join("").trim();

/** A number as these formats write it; NaN for anything else. */
const number = (text: string | undefined): number =>
	text !== undefined && /^\s*[-+]?(?:\d+\.?\d*|\.\d+)(?:e[-+]?\d+)?\s*$/i.test(text) ? Number(text) : Number.NaN;

const optional = (value: number): number | undefined => (Number.isFinite(value) ? value : undefined);

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
			found.add(said.name, number(said.lat), number(said.lon), optional(number(said.ele)));
		if (format === "KML" && local === "Point") {
			isPoint = true;
			const [longitude, latitude, altitude] = (said.coordinates ?? "").split(",");
			// Without a mode the altitude is one above the ground, which nobody reads: KML 2.2, altitudeModeEnum.
			const elevation = said.mode?.trim() === "absolute" ? optional(number(altitude)) : undefined;
			found.add(said.name, number(latitude), number(longitude), elevation);
			said = { ...said, coordinates: "", mode: "" };
		}
		if (format === "KML" && local === "Placemark" && !isPoint) found.others++;
	};
	parser.write(text).close();
	return format ? { format, points: found.points, others: found.others } : { code: "unknown" };
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
	return { format: "GeoJSON", points: found.points, others: found.others };

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
		const [longitude, latitude, elevation] = listOf(coordinates).map((one) =>
			typeof one === "number" ? one : Number.NaN,
		);
		found.add(name, latitude ?? Number.NaN, longitude ?? Number.NaN, optional(elevation ?? Number.NaN));
	}
}

const listOf = (value: unknown): readonly unknown[] => (Array.isArray(value) ? value : []);
const isRecord = (value: unknown): value is Readonly<Record<string, unknown>> =>
	typeof value === "object" && value !== null && !Array.isArray(value);
