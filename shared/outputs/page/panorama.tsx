/** The panorama strip: bearing across, altitude up, as one stands there. */

import { compassPoint } from "../../notation/bearing.ts";
import { turn } from "../../sky/vector.ts";
import { told } from "../../text/sentence.ts";
import { siteClockText } from "../site-clock.ts";
import { type Box, cutsOf, wholeOf, windowsOf } from "./names.ts";
import { type MovingName, movingNames, poleAt, RULED, type StillName, stillNames } from "./panorama-names.ts";
import { Picture } from "./picture.tsx";
import { PoleMark } from "./pole-mark.tsx";
import { saidAt } from "./said.ts";
import {
	areaAt,
	areasOf,
	between,
	glowAt,
	linesAt,
	markAt,
	moonShape,
	oneDigit,
	openPath,
	outlineAt,
	outlineOf,
	starsAt,
	tiltAt,
	xOf,
	yOf,
} from "./sky-paths.ts";
import type { PanoramaView } from "./view.ts";
import { words } from "./words.ts";

/** Lines that go out from a radiant. */
export const RADIANT = "M0-8V-3M0 3V8M-8 0H-3M3 0H8M-5.5-5.5-2.5-2.5M2.5 2.5 5.5 5.5M-5.5 5.5-2.5 2.5M2.5-2.5 5.5-5.5";
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
	const whole = wholeOf(view);
	const moving = movingNames(view, still ? [[whole]] : cutsOf(view));
	const bearings = Array.from({ length: 24 }, (_, i) => i * 15);
	const ridge = view.skyline.map(
		([bearing, altitude], i) =>
			`${i === 0 ? 0 : i === view.skyline.length - 1 ? frame.width : oneDigit(x(bearing))} ${oneDigit(y(altitude))}`,
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
				places: view.places.map(({ name, place }) => ({ name, place })),
				pole: view.pole,
				skyline: view.skyline,
				stars: view.stars.map(({ places }) => places),
				edges: view.frames.flatMap(({ sky }) => (sky ? [sky] : [])),
				from: view.from,
				until: view.until,
				clock: view.clock,
				says: view.says,
			});
	const says = saidAt(view.says, frame, siteClockText(view.clock, at), at).view;
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
			{view.bodies.map((body, i) => (
				<Body key={body.name} body={body} view={view} name={moving.bodies[i]} />
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
			{RULED.map((altitude) => (
				<line
					key={altitude}
					x1={0}
					x2={frame.width}
					y1={y(altitude)}
					y2={y(altitude)}
					stroke="var(--line)"
					stroke-width={0.7}
				/>
			))}
			<StillSky view={view} />
			<Tracks view={view} />
			{view.obstructions.map(({ name, corners, window }) => (
				<path
					key={name}
					clip-path="url(#strip)"
					d={areasOf(frame, window ? [corners, window] : [corners])}
					fill="var(--ground)"
					fill-rule="evenodd"
				/>
			))}
			{view.openings.length > 0 && (
				<g>
					{/* Outside of every opening nothing is seen. */}
					<mask id="walls" maskUnits="userSpaceOnUse" x={0} y={0} width={frame.width} height={height}>
						{/* Seen in the parts too, whose original is out of sight. */}
						<rect width={frame.width} height={height} fill="#fff" visibility="visible" />
						{view.openings.map(({ name, corners }) => (
							<path key={name} d={areasOf(frame, [corners])} fill="#000" visibility="visible" />
						))}
					</mask>
					<rect width={frame.width} height={height} fill="var(--ground)" mask="url(#walls)" />
				</g>
			)}
			<path d={`M${ridge.join("L")}L${frame.width} ${height}L0 ${height}Z`} fill="var(--ground)" />
			<line x1={0} x2={frame.width} y1={y(0)} y2={y(0)} stroke="var(--ink)" stroke-width={0.8} />
		</>
	);
	const before = (
		<>
			{view.frames.map(({ name, sky, ground: fixed, line }) => (
				<path
					key={name}
					class={sky ? "frame" : undefined}
					clip-path="url(#strip)"
					data-go={line}
					d={sky ? outlineAt(frame, sky, at) : outlineOf(frame, fixed ?? [])}
					fill="none"
					stroke="var(--blue)"
					stroke-width={1.4}
					stroke-dasharray={sky ? undefined : "5 4"}
				/>
			))}
			{view.places.map(({ name, kind, place, line }, i) => (
				<g key={`${kind} ${name}`} class="place" data-go={line} transform={`translate(${markAt(frame, place, at)})`}>
					{kind === "guide" ? (
						<path d="M0-7V7M-7 0H7M-4-4 4 4M-4 4 4-4" stroke="var(--ochre)" stroke-width={1.5} />
					) : kind === "radiant" ? (
						<path d={RADIANT} stroke="var(--ink)" stroke-width={1.4} />
					) : kind === "core" ? (
						<circle r={5} fill="none" stroke="var(--ink)" stroke-width={1.4} />
					) : (
						<path d="M0-6 6 0 0 6-6 0Z" fill="var(--blue)" />
					)}
					<NameBeside place={moving.places[i]}>{name}</NameBeside>
				</g>
			))}
		</>
	);
	const front = (
		<>
			{view.ends.map(({ text, edge }) => (
				<path
					key={text}
					clip-path="url(#strip)"
					d={outlineOf(frame, edge)}
					fill="none"
					stroke="var(--blue)"
					stroke-width={0.7}
				/>
			))}
			{view.landmarks.map(({ name, azimuth, altitude }) => (
				<path
					key={name}
					transform={`translate(${x(azimuth)},${y(altitude)})`}
					d="M0 0V-12M-4 0H4"
					stroke="var(--ink)"
					stroke-width={1.6}
				/>
			))}
			<Pole view={view} />
			{view.aim && (
				<g transform={`translate(${x(view.aim.azimuth)},${y(view.aim.altitude)})`}>
					<circle r={Math.max(3, view.aim.reach * frame.scale)} fill="none" stroke="var(--ochre)" stroke-width={1.4} />
					<path d="M-14 0H-5M5 0H14M0-14V-5M0 5V14" stroke="var(--ochre)" stroke-width={1.4} />
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
			<Picture id="panorama" viewBox={`0 0 ${frame.width} ${all}`} title={told(words.panorama())} says={says}>
				{drawing}
				<Names names={stillNames(view, moving.taken, whole)} />
			</Picture>
		);
	return (
		<figure id="panorama" class="sky" aria-label={says} data-sky={data}>
			<Picture
				class="whole"
				role="group"
				viewBox={`0 0 ${frame.width} ${all}`}
				title={told(words.panorama())}
				says={says}
			>
				{drawing}
				<Names names={stillNames(view, moving.taken, whole)} />
			</Picture>
			<Strips parts={2} view={view} taken={moving.taken} />
			<Strips parts={4} view={view} taken={moving.taken} />
			<figcaption>{told(words.panoramaCaption())}</figcaption>
		</figure>
	);
}

/** The same in parts one below the other, for less room: the first has what the picture has in its middle. */
function Strips({
	parts,
	view,
	taken,
}: {
	readonly parts: number;
	readonly view: PanoramaView;
	readonly taken: readonly Box[];
}) {
	const { width } = view.frame;
	return (
		<div class={`strips-${parts}`} aria-hidden="true">
			{windowsOf(view, parts).map((window) => (
				<svg
					key={window.left}
					viewBox={`${window.left} 0 ${window.right - window.left} ${view.height + RULER}`}
					aria-hidden="true"
				>
					{LAYERS.map((layer) => (
						<g key={layer}>
							<use href={`#sky-${layer}`} />
							{window.right > width && <use href={`#sky-${layer}`} x={width} />}
						</g>
					))}
					<Names names={stillNames(view, taken, window)} />
				</svg>
			))}
		</div>
	);
}

/** What is written of what stands still. */
const Names = ({ names }: { readonly names: readonly StillName[] }) => (
	<g class="names">
		{names.map(({ text, isQuiet, x, y, anchor }) => (
			<text key={`${text} ${x} ${y}`} x={x} y={y} text-anchor={anchor} class={isQuiet ? "quiet" : undefined}>
				{text}
			</text>
		))}
	</g>
);

/** The name of a mark that goes with it. */
const NameBeside = ({ place, children }: { readonly place: MovingName | undefined; readonly children: string }) => (
	<text x={place?.x} y={place?.y} text-anchor={place?.anchor}>
		{children}
	</text>
);

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
	const meridians = [frame.width / 2, 0];
	return (
		<g clip-path="url(#strip)">
			{meridians.map((x) => (
				<line key={x} x1={x} x2={x} y2={height} stroke="var(--soft)" stroke-width={0.8} stroke-dasharray="1 4" />
			))}
			<path d={openPath(frame, equator)} fill="none" stroke="var(--soft)" stroke-width={0.8} stroke-dasharray="1 4" />
		</g>
	);
}

/** The ways of the targets, with the hours of the clock. */
const Tracks = ({ view: { frame, tracks } }: { readonly view: PanoramaView }) => (
	<g clip-path="url(#strip)">
		{tracks.map(({ name, points, hours }) => (
			<g key={`${name} ${points[0]?.azimuth}`}>
				<path d={openPath(frame, points)} fill="none" stroke="var(--blue)" stroke-width={1} stroke-dasharray="6 3" />
				{hours.map(({ clock, azimuth, altitude }) => (
					<circle
						key={clock}
						cx={oneDigit(xOf(frame, azimuth))}
						cy={oneDigit(yOf(frame, altitude))}
						r={2.2}
						fill="var(--blue)"
					/>
				))}
			</g>
		))}
	</g>
);

/** Sun, Moon or a planet where it is, and the way that Sun and Moon go. */
function Body({
	body: { name, kind, points, tilts },
	view,
	name: place,
}: {
	readonly body: PanoramaView["bodies"][number];
	readonly view: PanoramaView;
	readonly name: MovingName | undefined;
}) {
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
				<NameBeside place={place}>{name}</NameBeside>
			</g>
		</g>
	);
}

/** The pole, in the middle of the picture or at both of its ends. */
const Pole = ({ view }: { readonly view: PanoramaView }) => (
	<>
		{poleAt(view).map((at) => (
			<PoleMark key={at[0]} at={at} radius={8} isHidden={view.pole.hidden} />
		))}
	</>
);

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
