/** The panorama strip: bearing across, altitude up, as one stands there. */

import { degrees } from "../../notation/angle.ts";
import { compassPoint } from "../../notation/bearing.ts";
import type { SkyPoint } from "../../sky/outline.ts";
import { turn } from "../../sky/vector.ts";
import { told } from "../../text/sentence.ts";
import { Picture } from "./picture.tsx";
import {
	areaAt,
	areasOf,
	between,
	glowAt,
	linesAt,
	markAt,
	moonShape,
	openPath,
	outlineAt,
	outlineOf,
	type PanoramaFrame,
	starsAt,
	tiltAt,
	xOf,
	yOf,
} from "./sky-paths.ts";
import type { PanoramaView } from "./view.ts";
import { words } from "./words.ts";

const RULER = 46;
/** Of the Milky Way's band, its light parts and the clouds in these, one over the other. */
export const MILKY_WAY_OPACITY = [0.45, 0.65, 1] as const;
/**
 * One over the other. What the clock moves is in two of them, and by itself: the parts of the strip are copies, and of a
 * layer that changes all copies are made anew.
 */
const LAYERS = ["back", "behind", "ground", "front", "before"] as const;

/** `still`: for a picture on its own, without what a script needs to move the sky. */
export function Panorama({
	view,
	still = false,
	figures = false,
}: {
	readonly view: PanoramaView;
	readonly still?: boolean;
	/** Whether a picture on its own has the constellations' figures. */
	readonly figures?: boolean;
}) {
	const { frame, height, at } = view;
	const x = (bearing: number) => xOf(frame, bearing);
	const y = (altitude: number) => yOf(frame, altitude);
	/** Where an outline's name is written: by its first corner, below its top or above it. */
	const labelAt = (corners: readonly SkyPoint[], below: number) => ({
		x: x(corners[0]?.[0] ?? 0) + 6,
		y: Math.max(12, y(Math.max(...corners.map(([, altitude]) => altitude))) + below),
	});
	const bearings = Array.from({ length: 24 }, (_, i) => i * 15);
	const ridge = view.skyline.map(
		([bearing, altitude], i) =>
			`${i === 0 ? 0 : i === view.skyline.length - 1 ? frame.width : x(bearing).toFixed(1)} ${y(altitude).toFixed(1)}`,
	);
	// What the script needs to move the sky: with it the site can be found to some thousandths of a degree.
	const data = still
		? undefined
		: JSON.stringify({
				frame,
				milkyWay: view.milkyWay,
				figures: view.figures,
				sun: view.sun,
				bodies: view.bodies,
				stars: view.stars.map(({ places }) => places),
				from: view.from,
				until: view.until,
				offset: view.offset,
			});
	const behind = (
		<>
			<Glow view={view} />
			{view.milkyWay.map((area, i) => (
				<path
					key={`${i} ${area.links.length}`}
					class="milky-way"
					d={areaAt(frame, area, at)}
					fill="var(--band)"
					fill-opacity={MILKY_WAY_OPACITY[i]}
				/>
			))}
			{(!still || figures) && (
				<path
					class="figures"
					d={still || figures ? linesAt(frame, view.figures, at) : ""}
					fill="none"
					stroke="var(--soft)"
					stroke-width={0.9}
				/>
			)}
			<Stars view={view} />
			{view.bodies.map((body) => (
				<Body key={body.name} body={body} view={view} />
			))}
		</>
	);
	const back = (
		<>
			<clipPath id="strip">
				<rect width={frame.width} height={height} visibility="visible" />
			</clipPath>
			<rect width={frame.width} height={height} fill="var(--sky)" />
		</>
	);
	const ground = (
		<>
			{[15, 30, 45, 60, 75].map((altitude) => (
				<g key={altitude}>
					<line x1={0} x2={frame.width} y1={y(altitude)} y2={y(altitude)} stroke="var(--line)" stroke-width={0.7} />
					<text x={4} y={y(altitude) - 3}>
						{altitude}°
					</text>
				</g>
			))}
			<StillSky view={view} />
			<Tracks view={view} />
			{view.obstructions.map(({ name, corners, window }) => (
				<g key={name}>
					<path
						clip-path="url(#strip)"
						d={areasOf(frame, window ? [corners, window] : [corners])}
						fill="var(--ground)"
						fill-rule="evenodd"
					/>
					<text {...labelAt(corners, -5)}>{name}</text>
				</g>
			))}
			{view.openings.length > 0 && (
				<g>
					{/* Outside of every opening nothing is seen. */}
					<mask id="walls" maskUnits="userSpaceOnUse" x={0} y={0} width={frame.width} height={height}>
						<rect width={frame.width} height={height} fill="#fff" />
						{view.openings.map(({ name, corners }) => (
							<path key={name} d={areasOf(frame, [corners])} fill="#000" />
						))}
					</mask>
					<rect width={frame.width} height={height} fill="var(--ground)" mask="url(#walls)" />
				</g>
			)}
			{view.openings.map(({ name, corners }) => (
				<text key={name} {...labelAt(corners, 16)}>
					{name}
				</text>
			))}
			<path d={`M${ridge.join("L")}L${frame.width} ${height}L0 ${height}Z`} fill="var(--ground)" />
			<line x1={0} x2={frame.width} y1={y(0)} y2={y(0)} stroke="var(--ink)" stroke-width={0.8} />
		</>
	);
	const before = (
		<>
			{view.frames.map(({ name, sky, ground: fixed, line }) => (
				<path
					key={name}
					class="frame"
					clip-path="url(#strip)"
					data-places={sky && !still ? JSON.stringify(sky) : undefined}
					data-go={line}
					d={sky ? outlineAt(frame, sky, at) : outlineOf(frame, fixed ?? [])}
					fill="none"
					stroke="var(--blue)"
					stroke-width={1.4}
					stroke-dasharray={sky ? undefined : "5 4"}
				/>
			))}
			{view.places.map(({ name, kind, place, line }) => (
				<g
					key={`${kind} ${name}`}
					class="place"
					data-place={still ? undefined : JSON.stringify(place)}
					data-go={line}
					transform={`translate(${markAt(frame, place, at)})`}
				>
					{kind === "guide" ? (
						<path d="M0-7V7M-7 0H7M-4-4 4 4M-4 4 4-4" stroke="var(--ochre)" stroke-width={1.5} />
					) : kind === "core" ? (
						<circle r={5} fill="none" stroke="var(--ink)" stroke-width={1.4} />
					) : (
						<path d="M0-6 6 0 0 6-6 0Z" fill="var(--blue)" />
					)}
					<text
						x={kind === "guide" ? -12 : 10}
						y={kind === "core" ? 16 : kind === "target" ? -8 : 4}
						text-anchor={kind === "guide" ? "end" : "start"}
					>
						{name}
					</text>
				</g>
			))}
		</>
	);
	const front = (
		<>
			{view.landmarks.map(({ name, azimuth, altitude }) => (
				<g key={name} transform={`translate(${x(azimuth)},${y(altitude)})`}>
					<path d="M0 0V-12M-4 0H4" stroke="var(--ink)" stroke-width={1.6} />
					<text x={6} y={-6}>
						{name}
					</text>
				</g>
			))}
			<Pole view={view} />
			{view.aim && (
				<g transform={`translate(${x(view.aim.azimuth)},${y(view.aim.altitude)})`}>
					<circle r={Math.max(3, view.aim.reach * frame.scale)} fill="none" stroke="var(--ochre)" stroke-width={1.4} />
					<path d="M-14 0H-5M5 0H14M0-14V-5M0 5V14" stroke="var(--ochre)" stroke-width={1.4} />
					<text x={12} y={20}>
						{told(words.aim({ altitude: degrees(view.aim.altitude) }))}
					</text>
				</g>
			)}
			<g>
				{bearings.map((bearing) => (
					<g key={bearing} transform={`translate(${x(bearing)},${height})`}>
						<line y2={bearing % 45 === 0 ? 8 : 4} stroke="var(--ink)" />
						{bearing % 45 === 0 && (
							<text y={20} text-anchor={x(bearing) < 20 ? "start" : "middle"}>
								{compassPoint(bearing)} {threeFigures(bearing)}
							</text>
						)}
						{bearing % 45 === 0 && view.declination !== undefined && (
							<text y={36} text-anchor={x(bearing) < 20 ? "start" : "middle"} class="quiet">
								{told(words.magnetic({ bearing: threeFigures(Math.round(turn(bearing - view.declination)) % 360) }))}
							</text>
						)}
					</g>
				))}
			</g>
		</>
	);
	const layers = { back, behind, ground, front, before };
	const drawing = LAYERS.map((layer) => (
		<g key={layer} id={`sky-${layer}`} clip-path={layer === "behind" ? "url(#strip)" : undefined}>
			{layers[layer]}
		</g>
	));
	const all = height + RULER;
	if (still)
		return (
			<Picture
				id="panorama"
				viewBox={`0 0 ${frame.width} ${all}`}
				title={told(words.panorama())}
				says={view.alternative}
			>
				{drawing}
			</Picture>
		);
	return (
		<figure id="panorama" class="sky" aria-label={view.alternative} data-sky={data}>
			<Picture
				class="whole"
				role="group"
				viewBox={`0 0 ${frame.width} ${all}`}
				title={told(words.panorama())}
				says={view.alternative}
			>
				{drawing}
			</Picture>
			<Strips parts={2} frame={frame} height={all} />
			<Strips parts={4} frame={frame} height={all} />
			<figcaption>{told(words.panoramaCaption())}</figcaption>
		</figure>
	);
}

/** What a strip has on either side of the next ones, so that no bearing is cut in two. */
const STRIP_MARGIN = 30;

/** The same in parts one below the other, for less room: the first has what the picture has in its middle. */
function Strips({
	parts,
	frame,
	height,
}: {
	readonly parts: number;
	readonly frame: PanoramaFrame;
	readonly height: number;
}) {
	const width = frame.width / parts;
	const lefts = Array.from({ length: parts }, (_, i) => (frame.width - width) / 2 + i * width);
	return (
		<div class={`strips-${parts}`} aria-hidden="true">
			{lefts.map((left) => (
				<svg key={left} viewBox={`${left - STRIP_MARGIN} 0 ${width + 2 * STRIP_MARGIN} ${height}`} aria-hidden="true">
					{LAYERS.map((layer) => (
						<g key={layer}>
							<use href={`#sky-${layer}`} />
							{left + width + STRIP_MARGIN > frame.width && <use href={`#sky-${layer}`} x={frame.width} />}
						</g>
					))}
				</svg>
			))}
		</div>
	);
}

const threeFigures = (bearing: number): string => String(bearing).padStart(3, "0");

/** Stars as dots, behind all that hides them. */
const Stars = ({ view: { frame, stars, at } }: { readonly view: PanoramaView }) => (
	<>
		{stars.map(({ radius, places }) => (
			<path
				key={radius}
				class={radius < FAINT ? "stars faint" : "stars"}
				d={starsAt(frame, places, at)}
				fill="none"
				stroke="var(--ink)"
				stroke-width={radius * 2}
				stroke-linecap="round"
			/>
		))}
	</>
);

/** A dot smaller than this is for a picture that is wide enough. */
const FAINT = 0.8;

/** Of the twilight about the Sun: degrees wide and high, and how much of it there is at most. */
const GLOW = { wide: 75, high: 45, most: 0.55 };

/** The tint of twilight over where the Sun is, stronger the nearer it is to the horizon. */
function Glow({ view: { frame, sun, at } }: { readonly view: PanoramaView }) {
	const direction = between(sun, at);
	return (
		<>
			<radialGradient id="glow-fill">
				<stop offset="0" stop-color="var(--ochre)" stop-opacity={GLOW.most} />
				<stop offset="1" stop-color="var(--ochre)" stop-opacity={0} />
			</radialGradient>
			<g
				id="glow"
				opacity={direction ? glowAt(direction.altitude) : 0}
				transform={`translate(${direction ? Math.round(xOf(frame, direction.azimuth)) : 0},0)`}
			>
				{[-frame.width, 0, frame.width].map((by) => (
					<ellipse
						key={by}
						cx={by}
						cy={frame.horizon}
						rx={GLOW.wide * frame.scale}
						ry={GLOW.high * frame.scale}
						fill="url(#glow-fill)"
					/>
				))}
			</g>
		</>
	);
}

/** The lines of the sky that stand still. */
function StillSky({ view: { frame, height, equator } }: { readonly view: PanoramaView }) {
	const east = equator.reduce((low, one) => (Math.abs(one.altitude - 20) < Math.abs(low.altitude - 20) ? one : low));
	const meridians = [frame.width / 2, 0];
	return (
		<g clip-path="url(#strip)">
			{meridians.map((x) => (
				<line key={x} x1={x} x2={x} y2={height} stroke="var(--soft)" stroke-width={0.8} stroke-dasharray="1 4" />
			))}
			<path d={openPath(frame, equator)} fill="none" stroke="var(--soft)" stroke-width={0.8} stroke-dasharray="1 4" />
			<text x={frame.width / 2 + 4} y={14} class="quiet">
				{told(words.meridian())}
			</text>
			<text x={xOf(frame, east.azimuth) + 8} y={yOf(frame, east.altitude) + 12} class="quiet">
				{told(words.equator())}
			</text>
		</g>
	);
}

/** A short text about a place: at the picture's ends it stays inside. */
const anchorAt = (x: number, { width }: PanoramaFrame): "start" | "middle" | "end" =>
	x < 12 ? "start" : x > width - 12 ? "end" : "middle";

/** The ways of the targets, with the hours of the clock. */
const Tracks = ({ view: { frame, tracks } }: { readonly view: PanoramaView }) => (
	<g clip-path="url(#strip)">
		{tracks.map(({ name, points, hours }) => (
			<g key={`${name} ${points[0]?.azimuth}`}>
				<path d={openPath(frame, points)} fill="none" stroke="var(--blue)" stroke-width={1} stroke-dasharray="6 3" />
				{hours.map(({ azimuth, altitude, clock }) => (
					<g key={clock} transform={`translate(${xOf(frame, azimuth).toFixed(1)},${yOf(frame, altitude).toFixed(1)})`}>
						<circle r={2.2} fill="var(--blue)" />
						<text y={15} text-anchor={anchorAt(xOf(frame, azimuth), frame)} class="quiet">
							{clock}
						</text>
					</g>
				))}
			</g>
		))}
	</g>
);

/** Sun, Moon or a planet where it is, and the way that Sun and Moon go. */
function Body({ body, view }: { readonly body: PanoramaView["bodies"][number]; readonly view: PanoramaView }) {
	const { name, kind, points, tilts } = body;
	return (
		<g>
			{kind !== "planet" && (
				<path
					d={outlinePath(view, points)}
					fill="none"
					stroke="var(--ochre)"
					stroke-width={1.2}
					stroke-dasharray={kind === "sun" ? "2 5" : "7 4"}
				/>
			)}
			<g class="body" data-name={name} transform={placeOfBody(view, points)}>
				{kind === "moon" ? (
					<>
						<circle r={7} fill="var(--ground)" stroke="var(--ochre)" stroke-width={0.8} />
						<path
							class="lit"
							d={moonShape(7, view.moonLit)}
							fill="var(--ochre)"
							transform={`rotate(${tiltAt(points, tilts ?? [], view.at)})`}
						/>
					</>
				) : (
					<circle r={kind === "sun" ? 7 : 3.4} fill="var(--ochre)" />
				)}
				<text x={10} y={4}>
					{name}
				</text>
			</g>
		</g>
	);
}

/** The pole, in the middle of the picture or at both of its ends. */
function Pole({ view: { frame, pole } }: { readonly view: PanoramaView }) {
	const x = xOf(frame, pole.azimuth);
	const isAtEnds = x < 1 || x > frame.width - 1;
	return (
		<>
			{(isAtEnds ? [0, frame.width] : [x]).map((place) => (
				<g key={place} transform={`translate(${place},${yOf(frame, pole.altitude)})`}>
					<circle
						r={8}
						fill="none"
						stroke="var(--ink)"
						stroke-width={1.4}
						stroke-dasharray={pole.hidden ? "3 3" : undefined}
					/>
					<circle r={1.8} fill="var(--ink)" />
				</g>
			))}
			<text x={(isAtEnds ? 0 : x) + 13} y={yOf(frame, pole.altitude) + 4}>
				{told(words[pole.hidden ? "poleHidden" : "pole"]({ altitude: degrees(pole.altitude) }))}
			</text>
		</>
	);
}

function placeOfBody(view: PanoramaView, points: PanoramaView["bodies"][number]["points"]): string {
	const seen = between(points, view.at);
	return seen && seen.altitude > -3
		? `translate(${Math.round(xOf(view.frame, seen.azimuth))},${Math.round(yOf(view.frame, seen.altitude))})`
		: "translate(-999,-999)";
}

/** A path through known places, cut at the picture's seam and below the horizon. */
function outlinePath({ frame }: PanoramaView, points: PanoramaView["bodies"][number]["points"]): string {
	let path = "";
	let before: number | undefined;
	for (const [, azimuth, altitude] of points) {
		const x = xOf(frame, azimuth);
		if (altitude < -4) before = undefined;
		else {
			path += `${before === undefined || Math.abs(x - before) > frame.width / 3 ? "M" : "L"}${Math.round(x)} ${Math.round(yOf(frame, altitude))}`;
			before = x;
		}
	}
	return path;
}
