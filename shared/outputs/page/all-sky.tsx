/**
 * The all-sky chart: the whole sky as a circle, the zenith in its middle, held overhead with the side one faces at the
 * bottom; so east is on the left of who faces south, and on the right of who faces north. Degrees from the zenith are
 * all of one length (equidistant).
 */
import { compassPoint } from "../../notation/bearing.ts";
import type { Direction } from "../../sky/horizontal.ts";
import type { SkyPoint } from "../../sky/outline.ts";
import { halfTurn, RAD } from "../../sky/vector.ts";
import { told } from "../../text/sentence.ts";
import { MILKY_WAY_OPACITY } from "./panorama.tsx";
import { Picture } from "./picture.tsx";
import { shortened } from "./shortened.ts";
import { between, moonShape, type SkyArea, type SkyPlace, seenAt, tiltAt } from "./sky-paths.ts";
import type { PanoramaView } from "./view.ts";
import { words } from "./words.ts";

const MIDDLE = 150;
const RADIUS = 126;
/** Degrees of bearing between points of a line that is straight on the strip. */
const STEP = 5;
/** The chart's dots against those of the strip, which is four times as wide. */
const DOT = 0.5;
const LONGEST_NAME = 19;

const px = (value: number): number => Math.round(value * 10) / 10;

/** Where a direction is on the chart of one who faces a bearing. */
export function onChart(facing: number, { azimuth, altitude }: Direction): readonly [x: number, y: number] {
	const far = (RADIUS * (90 - altitude)) / 90;
	const angle = (azimuth - facing) * RAD;
	return [px(MIDDLE + Math.sin(angle) * far), px(MIDDLE + Math.cos(angle) * far)];
}

/** The chart at the minute of the view from the spot; its caption says how it is held. */
export function AllSky({ view, figures = false }: { readonly view: PanoramaView; readonly figures?: boolean }) {
	const { frame, at } = view;
	const facing = frame.centre;
	const place = (direction: Direction) => onChart(facing, direction);
	const line = (directions: readonly Direction[]): string =>
		directions.length === 0 ? "" : `M${directions.map((one) => place(one).join(" ")).join("L")}`;
	const area = (corners: readonly SkyPoint[]): string => `${line(sides(corners))}Z`;
	const shift = (direction: Direction): string => `translate(${place(direction).join(",")})`;
	const seen = (one: SkyPlace): Direction => seenAt(frame, one, at);
	const rim = `M${MIDDLE - RADIUS} ${MIDDLE}a${RADIUS} ${RADIUS} 0 1 0 ${2 * RADIUS} 0a${RADIUS} ${RADIUS} 0 1 0 ${-2 * RADIUS} 0Z`;
	const ground = line(view.skyline.map(([azimuth, altitude]) => ({ azimuth, altitude: Math.max(0, altitude) })));
	// Whose middle the skyline hides is not drawn: nothing would be left of it but half a name.
	const bodies = view.bodies.filter(({ points }) => {
		const direction = between(points, at);
		return direction && direction.altitude > Math.max(0, skylineNear(view, direction.azimuth));
	});
	const labels = labelsOf([
		...view.places.map((one) => [one.name, one.name, place(seen(one.place))] as const),
		...bodies.flatMap(({ name, points }) => {
			const direction = between(points, at);
			return direction ? [[name, name, place(direction)] as const] : [];
		}),
		[POLE, told(words.poleName()), place(view.pole)],
	]);
	return (
		<figure class="chart all-sky">
			<Picture viewBox="0 0 300 300" title={told(words.allSky())} says={view.wholeSky}>
				<clipPath id="all-sky-edge">
					<circle cx={MIDDLE} cy={MIDDLE} r={RADIUS} />
				</clipPath>
				<circle cx={MIDDLE} cy={MIDDLE} r={RADIUS} fill="var(--sky)" />
				<g clip-path="url(#all-sky-edge)">
					{view.milkyWay.map((area, i) => (
						<path
							key={`${i} ${area.links.length}`}
							d={areaOnChart(area, seen, place)}
							fill="var(--band)"
							fill-opacity={MILKY_WAY_OPACITY[i]}
						/>
					))}
					{figures && (
						<path
							d={view.figures.map((one) => figureOnChart(one, seen, place)).join("")}
							fill="none"
							stroke="var(--soft)"
							stroke-width={0.5}
						/>
					)}
					{[30, 60].map((altitude) => (
						<circle
							key={altitude}
							cx={MIDDLE}
							cy={MIDDLE}
							r={(RADIUS * (90 - altitude)) / 90}
							fill="none"
							stroke="var(--line)"
							stroke-width={0.6}
						/>
					))}
					<path
						d={`M${MIDDLE} ${MIDDLE - RADIUS}v${2 * RADIUS}${line(view.equator)}`}
						fill="none"
						stroke="var(--soft)"
						stroke-width={0.7}
						stroke-dasharray="1 4"
					/>
					{view.stars.map(({ radius, places }) => (
						<path
							key={radius}
							d={dots(places, seen, place)}
							fill="none"
							stroke="var(--ink)"
							stroke-width={px(radius * 2 * DOT)}
							stroke-linecap="round"
						/>
					))}
					{view.tracks.map(({ name, points, hours }) => (
						<g key={`${name} ${points[0]?.azimuth}`}>
							<path d={line(points)} fill="none" stroke="var(--blue)" stroke-dasharray="6 3" />
							{hours.map((hour) => (
								<circle key={hour.clock} r={1.6} transform={shift(hour)} fill="var(--blue)" />
							))}
						</g>
					))}
					{bodies.map((body) => (
						<Body key={body.name} body={body} view={view} place={place} label={labels.get(body.name)} />
					))}
					{view.obstructions.map(({ name, corners, window }) => (
						<path
							key={name}
							d={`${area(corners)}${window ? area(window) : ""}`}
							fill="var(--ground)"
							fill-rule="evenodd"
						/>
					))}
					{view.openings.length > 0 && (
						<>
							<mask id="all-sky-walls" maskUnits="userSpaceOnUse" x={0} y={0} width={300} height={300}>
								<rect width={300} height={300} fill="#fff" />
								{view.openings.map(({ name, corners }) => (
									<path key={name} d={area(corners)} fill="#000" />
								))}
							</mask>
							<rect width={300} height={300} fill="var(--ground)" mask="url(#all-sky-walls)" />
						</>
					)}
					<path d={`${rim}${ground}Z`} fill="var(--ground)" fill-rule="evenodd" />
					{view.frames.map(({ name, sky, ground: fixed }) => (
						<path
							key={name}
							d={`${line(sky ? sky.map(seen) : (fixed ?? []))}Z`}
							fill="none"
							stroke="var(--blue)"
							stroke-width={1.2}
							stroke-dasharray={sky ? undefined : "5 4"}
						/>
					))}
				</g>
				<circle cx={MIDDLE} cy={MIDDLE} r={RADIUS} fill="none" stroke="var(--soft)" />
				{[0, 90, 180, 270].map((bearing) => {
					const [x, y] = onChart(facing, { azimuth: bearing, altitude: -10 });
					return (
						<text key={bearing} x={x} y={y + 5} text-anchor="middle" class="strong">
							{compassPoint(bearing)}
						</text>
					);
				})}
				<g transform={shift(view.pole)}>
					<circle
						r={5}
						fill="none"
						stroke="var(--ink)"
						stroke-width={1.3}
						stroke-dasharray={view.pole.hidden ? "3 3" : undefined}
					/>
					<circle r={1.4} fill="var(--ink)" />
				</g>
				{view.aim && (
					<g transform={shift(view.aim)} stroke="var(--ochre)" fill="none">
						<circle r={5} />
						<path d="M-9 0H-4M4 0H9M0-9V-4M0 4V9" />
					</g>
				)}
				<Label label={labels.get(POLE)} />
				{view.places.map(({ name, kind, place: own }) => {
					const direction = seen(own);
					if (direction.altitude < 0) return null;
					return (
						<g key={`${kind} ${name}`}>
							<g transform={shift(direction)}>
								{kind === "guide" ? (
									<path d="M0-5V5M-5 0H5M-3-3 3 3M-3 3 3-3" stroke="var(--ochre)" stroke-width={1.2} />
								) : kind === "core" ? (
									<circle r={4} fill="none" stroke="var(--ink)" stroke-width={1.2} />
								) : (
									<path d="M0-5 5 0 0 5-5 0Z" fill="var(--blue)" />
								)}
							</g>
							<Label label={labels.get(name)} />
						</g>
					);
				})}
			</Picture>
			<figcaption>{view.wholeSky}</figcaption>
		</figure>
	);
}

interface Written {
	readonly name: string;
	readonly x: number;
	readonly y: number;
	readonly isRight: boolean;
}

/** Of the pole's label among the others. */
const POLE = "pole";
/** Of a line of text and of a letter, of the chart's own measure. */
const LINE = 13;
const LETTER = 7;

/** Names beside their marks, toward the middle, so that they stay inside; one that would cover another goes a line on. */
function labelsOf(marks: readonly (readonly [key: string, name: string, at: readonly [number, number]])[]) {
	const written = new Map<string, Written>();
	for (const [key, long, [x, y]] of marks) {
		const name = shortened(long, LONGEST_NAME);
		const isRight = x > MIDDLE;
		const from = isRight ? x - 9 - name.length * LETTER : x + 9;
		const isFree = (line: number): boolean =>
			[...written.values()].every((one) => {
				const start = one.isRight ? one.x - one.name.length * LETTER : one.x;
				const apart = start > from + name.length * LETTER || start + one.name.length * LETTER < from;
				return apart || Math.abs(one.y - line) >= LINE;
			});
		const line = [0, 1, -1, 2, -2].map((by) => y + 4 + by * LINE).find(isFree) ?? y + 4;
		written.set(key, { name, x: px(isRight ? x - 9 : x + 9), y: px(line), isRight });
	}
	return written;
}

const Label = ({ label }: { readonly label: Written | undefined }) =>
	label === undefined ? null : (
		<text x={label.x} y={label.y} text-anchor={label.isRight ? "end" : "start"}>
			{label.name}
		</text>
	);

function Body({
	body: { kind, points, tilts },
	view: { at, moonLit },
	place,
	label,
}: {
	readonly body: PanoramaView["bodies"][number];
	readonly view: PanoramaView;
	readonly place: (direction: Direction) => readonly [number, number];
	readonly label: Written | undefined;
}) {
	const seen = between(points, at);
	if (!seen) return null;
	return (
		<g>
			<g transform={`translate(${place(seen).join(",")})`}>
				{kind === "moon" ? (
					<>
						<circle r={6} fill="var(--ground)" stroke="var(--ochre)" stroke-width={0.8} />
						<path
							d={moonShape(6, moonLit)}
							fill="var(--ochre)"
							transform={`rotate(${px(tiltAt(points, tilts ?? [], at) + turnOnChart(place, seen))})`}
						/>
					</>
				) : (
					<circle r={kind === "sun" ? 6 : 2.6} fill="var(--ochre)" />
				)}
			</g>
			<Label label={label} />
		</g>
	);
}

/** Which way on the chart is up at a direction, toward the zenith: degrees clockwise from the chart's top. */
export function turnOnChart(
	place: (direction: Direction) => readonly [number, number],
	{ azimuth, altitude }: Direction,
): number {
	const [x, y] = place({ azimuth, altitude: Math.min(altitude, 89) });
	return Math.atan2(MIDDLE - x, y - MIDDLE) / RAD;
}

/** A closed outline's sides with points between, since what is straight on the strip is bent here. */
const sides = (corners: readonly SkyPoint[]): readonly Direction[] =>
	corners.flatMap(([bearing, altitude], i) => {
		const [nextBearing, nextAltitude] = corners[(i + 1) % corners.length] ?? [bearing, altitude];
		const parts = Math.max(1, Math.ceil(Math.abs(nextBearing - bearing) / STEP));
		return Array.from({ length: parts }, (_, k) => ({
			azimuth: bearing + ((nextBearing - bearing) * k) / parts,
			altitude: altitude + ((nextAltitude - altitude) * k) / parts,
		}));
	});

/** The skyline's altitude at the nearest bearing that it is known for. */
const skylineNear = ({ skyline }: PanoramaView, bearing: number): number =>
	skyline.reduce(
		(best, one) => (Math.abs(halfTurn(one[0] - bearing)) < Math.abs(halfTurn(best[0] - bearing)) ? one : best),
		skyline[0] ?? ([0, 0] as const),
	)[1];

type Placing = (direction: Direction) => readonly [number, number];
type Seeing = (place: SkyPlace) => Direction;

/** An area of the sky by its quarters; what is wholly below the horizon is left out. */
function areaOnChart({ ends, links }: SkyArea, seen: Seeing, place: Placing): string {
	const places = Array.from({ length: ends.length / 2 }, (_, i) => seen([ends[2 * i] ?? 0, ends[2 * i + 1] ?? 0]));
	let path = "";
	for (let i = 0; i < links.length; i += 2) {
		const [one, other] = [2 * (links[i] ?? 0), 2 * (links[i + 1] ?? 0)];
		const corners = [one, other, other + 1, one + 1].flatMap((k) => places[k] ?? []);
		if (corners.some(({ altitude }) => altitude >= 0))
			path += `M${corners.map((corner) => place(corner).join(" ")).join("L")}Z`;
	}
	return path;
}

/** The lines of a figure as far as they are above the horizon. */
function figureOnChart(line: readonly number[], seen: Seeing, place: Placing): string {
	let path = "";
	let isOn = false;
	for (let i = 0; i < line.length; i += 2) {
		const direction = seen([line[i] ?? 0, line[i + 1] ?? 0]);
		const isUp = direction.altitude > 0;
		if (isUp) path += `${isOn ? "L" : "M"}${place(direction).join(" ")}`;
		isOn = isUp;
	}
	return path;
}

/** Dots as lines of no length. `places`: right ascension and declination in turn. */
function dots(places: readonly number[], seen: Seeing, place: Placing): string {
	let path = "";
	for (let i = 0; i < places.length; i += 2) {
		const direction = seen([places[i] ?? 0, places[i + 1] ?? 0]);
		if (direction.altitude > 0) path += `M${place(direction).join(" ")}h0`;
	}
	return path;
}
