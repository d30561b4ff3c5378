/** Where the sites are: an outline map without tiles. North is up; lengths hold at its middle. */
import { told } from "../../text/sentence.ts";
import { Picture } from "../page/picture.tsx";
import { coasts } from "./coast.ts";
import type { ReportedPlace } from "./record.ts";
import { words } from "./words.ts";

export interface MarkedPlace extends ReportedPlace {
	/** Where the report tells of it. */
	readonly href: string;
}

const WIDTH = 900;
/** Room for a latitude to a hundredth of a degree. */
const MARGIN = 66;
/** Degrees; a map of one site shows its surroundings. */
const LEAST_SPAN = 0.05;
/** Over a smaller stretch the coast is too coarse. Degrees. */
const COAST_FROM = 4;
/** About as much room as a letter and a line of a name take. */
const LETTER = 7.5;
const LINE = 16;
/** Of the Earth's mean meridian. */
const KM_PER_DEGREE = 111.19;

export function SiteMap({ places }: { readonly places: readonly MarkedPlace[] }) {
	if (places.length === 0) return null;
	const map = mapOf(places);
	const { x, y, height, step, coast } = map;
	const land = coast
		? coasts()
				.map((ring) => pathOf(ring, map))
				.filter((d) => d !== "")
		: [];
	const digits = step < 0.1 ? 2 : step < 1 ? 1 : 0;
	const labels = places.map(({ name, latitude, longitude }) => {
		const [at, width] = [x(map.nearest(longitude)), name.length * LETTER];
		const isLeft = at + BESIDE + width > WIDTH;
		return { x: isLeft ? at - BESIDE - width : at + BESIDE, y: y(latitude), name, isLeft };
	});
	const named = withRoom(labels);
	const said = { count: places.length, s: places.length === 1 ? "" : "s", step: `${step.toFixed(digits)}°` };
	return (
		<figure>
			<Picture
				viewBox={`0 0 ${WIDTH} ${height}`}
				title={told(words.map())}
				says={told(words.mapSays(said))}
				font-size="13"
			>
				<clipPath id="map-frame">
					<rect x={MARGIN} y={MARGIN / 2} width={WIDTH - 2 * MARGIN} height={height - 1.5 * MARGIN} />
				</clipPath>
				<g clip-path="url(#map-frame)">
					{land.map((d) => (
						<path key={d} d={d} fill="var(--panel)" stroke="var(--soft)" />
					))}
				</g>
				{linesBetween(map.west, map.east, step).map((longitude) => (
					<g key={longitude}>
						<line x1={x(longitude)} x2={x(longitude)} y1={MARGIN / 2} y2={height - MARGIN} stroke="var(--line)" />
						<text x={x(longitude)} y={height - MARGIN + 18} text-anchor="middle" class="quiet">
							{degreesText(longitudeOf(longitude), digits, "E", "W")}
						</text>
					</g>
				))}
				{linesBetween(map.south, map.north, step).map((latitude) => (
					<g key={latitude}>
						<line x1={MARGIN} x2={WIDTH - MARGIN} y1={y(latitude)} y2={y(latitude)} stroke="var(--line)" />
						<text x={MARGIN - 4} y={y(latitude) + 4} text-anchor="end" class="quiet">
							{degreesText(latitude, digits, "N", "S")}
						</text>
					</g>
				))}
				{places.map(({ name, latitude, longitude, href }, i) => (
					<a key={`${i} ${href}`} href={href}>
						<circle cx={x(map.nearest(longitude))} cy={y(latitude)} r="5" fill="var(--blue)" stroke="var(--paper)">
							<title>{name}</title>
						</circle>
						{named[i] && (
							<text
								x={x(map.nearest(longitude)) + (labels[i]?.isLeft ? -BESIDE : BESIDE)}
								y={y(latitude) + 4}
								text-anchor={labels[i]?.isLeft ? "end" : undefined}
							>
								{name}
							</text>
						)}
					</a>
				))}
				<path d={`M${MARGIN} ${height - 9}v-5h${map.bar.width}v5`} fill="none" stroke="var(--ink)" />
				<text x={MARGIN + map.bar.width + 8} y={height - 8} class="quiet">
					{told(words.scale({ length: map.bar.length }))}
				</text>
			</Picture>
			{coast && <figcaption>{told(words.coast())}</figcaption>}
		</figure>
	);
}

/** From a mark to its name. */
const BESIDE = 9;

/** Which names are written: those that would be over another are left to who points at the mark. */
function withRoom(
	names: readonly { readonly x: number; readonly y: number; readonly name: string }[],
): readonly boolean[] {
	const written: (typeof names)[number][] = [];
	return names.map((one) => {
		const hides = written.some(
			(other) =>
				Math.abs(other.y - one.y) < LINE &&
				one.x < other.x + other.name.length * LETTER &&
				other.x < one.x + one.name.length * LETTER,
		);
		if (!hides) written.push(one);
		return !hides;
	});
}

interface MapFrame {
	/** Degrees; east is over 180 where the map goes over that meridian. */
	readonly west: number;
	readonly east: number;
	readonly south: number;
	readonly north: number;
	readonly height: number;
	/** Degrees from one line to the next. */
	readonly step: number;
	readonly coast: boolean;
	readonly bar: { readonly length: number; readonly width: number };
	readonly x: (longitude: number) => number;
	readonly y: (latitude: number) => number;
	/** The same longitude, counted on from the west of the map. */
	readonly nearest: (longitude: number) => number;
}

function mapOf(places: readonly ReportedPlace[]): MapFrame {
	const [first, last] = longitudes(places.map(({ longitude }) => longitude));
	const latitudes = places.map(({ latitude }) => latitude);
	const [low, high] = [Math.min(...latitudes), Math.max(...latitudes)];
	const middle = (low + high) / 2;
	// Lengths along a parallel shrink; near the poles they would be nothing.
	const shrink = Math.max(0.1, Math.cos((middle * Math.PI) / 180));
	const across = Math.max(last - first, (high - low) / shrink, LEAST_SPAN / shrink) * 1.3;
	const down = Math.max((high - low) * 1.4, across * shrink * 0.45);
	const [west, south] = [(first + last - across) / 2, Math.max(-90, middle - down / 2)];
	const [east, north] = [west + across, Math.min(90, middle + down / 2)];
	const scale = (WIDTH - 2 * MARGIN) / across;
	const height = ((north - south) / shrink) * scale + 1.5 * MARGIN;
	const step = roundBelow(across / 5);
	const length = roundBelow((across * shrink * KM_PER_DEGREE) / 5);
	return {
		west,
		east,
		south,
		north,
		height: Math.round(height),
		step,
		coast: across * shrink >= COAST_FROM,
		bar: { length, width: Math.round((length / (shrink * KM_PER_DEGREE)) * scale) },
		x: (longitude) => rounded(MARGIN + (longitude - west) * scale),
		y: (latitude) => rounded(MARGIN / 2 + ((north - latitude) / shrink) * scale),
		nearest: (longitude) => longitude + 360 * Math.round(((west + east) / 2 - longitude) / 360),
	};
}

/** The shortest stretch of longitudes that has all of them, from west to east. */
function longitudes(all: readonly number[]): readonly [number, number] {
	const sorted = [...new Set(all.map((one) => longitudeOf(one)))].sort((a, b) => a - b);
	let [widest, from] = [-1, 0];
	for (const [i, one] of sorted.entries()) {
		const next = sorted[i + 1] ?? (sorted[0] as number) + 360;
		if (next - one > widest) [widest, from] = [next - one, (i + 1) % sorted.length];
	}
	const west = sorted[from] as number;
	return [west, west + 360 - widest];
}

const longitudeOf = (degrees: number): number => ((((degrees + 180) % 360) + 360) % 360) - 180;

/** 1, 2 or 5 times a power of ten. */
function roundBelow(value: number): number {
	const power = 10 ** Math.floor(Math.log10(value));
	const times = value / power;
	return Number(((times >= 5 ? 5 : times >= 2 ? 2 : 1) * power).toPrecision(1));
}

const rounded = (value: number): number => Math.round(value * 10) / 10;

function linesBetween(from: number, until: number, step: number): readonly number[] {
	const first = Math.ceil(from / step);
	return Array.from({ length: Math.max(0, Math.floor(until / step) - first + 1) }, (_, i) => (first + i) * step);
}

const degreesText = (value: number, digits: number, plus: string, minus: string): string =>
	Number(value.toFixed(digits)) === 0 ? "0°" : `${Math.abs(value).toFixed(digits)}° ${value > 0 ? plus : minus}`;

/** As often as the map, which may go over the meridian of 180°, has it. */
function pathOf(ring: readonly (readonly [number, number])[], { west, east, x, y }: MapFrame): string {
	return [-360, 0, 360]
		.filter((turn) => {
			const seen = ring.map(([longitude]) => longitude + turn);
			return Math.max(...seen) >= west && Math.min(...seen) <= east;
		})
		.map((turn) => `M${ring.map(([longitude, latitude]) => `${x(longitude + turn)} ${y(latitude)}`).join("L")}Z`)
		.join("");
}
