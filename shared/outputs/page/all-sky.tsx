/**
 * The all-sky chart: the whole sky as a circle, the zenith in its middle, held overhead with the side one faces at the
 * bottom; so east is on the left of who faces south, and on the right of who faces north. Degrees from the zenith are
 * all of one length (equidistant).
 */
import { compassPoint } from "../../notation/bearing.ts";
import type { Direction } from "../../sky/horizontal.ts";
import type { SkyPoint } from "../../sky/outline.ts";
import { told } from "../../text/sentence.ts";
import { siteClockText } from "../site-clock.ts";
import {
	type ChartLabel,
	chartAreaAt,
	chartLine,
	chartLinesAt,
	chartMarksAt,
	chartOutlineAt,
	chartStarsAt,
	MIDDLE,
	onChart,
	RADIUS,
	turnOnChart,
} from "./chart-paths.ts";
import { MILKY_WAY_OPACITY, RADIANT } from "./panorama.tsx";
import { Picture } from "./picture.tsx";
import { PoleMark } from "./pole-mark.tsx";
import { saidAt } from "./said.ts";
import { moonShape, tiltAt } from "./sky-paths.ts";
import type { PanoramaView } from "./view.ts";
import { words } from "./words.ts";

/** Degrees of bearing between points of a line that is straight on the strip. */
const STEP = 5;
/** The chart's dots against those of the strip, which is four times as wide. */
const DOT = 0.5;

const px = (value: number): number => Math.round(value * 10) / 10;

/** What is not up is drawn, for the clock to bring it, and out of sight. */
const AWAY = "-999,-999";

/** The chart at the minute of the view from the spot; its caption says how it is held. */
export function AllSky({
	view,
	still = false,
	figures = false,
}: {
	readonly view: PanoramaView;
	/** For a picture on its own: without what only a script would bring up. */
	readonly still?: boolean;
	/** Whether a picture on its own has the constellations' figures. */
	readonly figures?: boolean;
}) {
	const { frame, at } = view;
	const facing = frame.centre;
	const line = (directions: readonly Direction[]): string => chartLine(facing, directions);
	const area = (corners: readonly SkyPoint[]): string => `${line(sides(corners))}Z`;
	const shift = (direction: Direction | undefined): string =>
		`translate(${direction ? onChart(facing, direction).join(",") : AWAY})`;
	const rim = `M${MIDDLE - RADIUS} ${MIDDLE}a${RADIUS} ${RADIUS} 0 1 0 ${2 * RADIUS} 0a${RADIUS} ${RADIUS} 0 1 0 ${-2 * RADIUS} 0Z`;
	const ground = line(view.skyline.map(([azimuth, altitude]) => ({ azimuth, altitude: Math.max(0, altitude) })));
	const pole = told(words.poleName());
	const { places, bodies, labels } = chartMarksAt(view, pole, at);
	const isDrawn = (mark: Direction | undefined): boolean => !still || mark !== undefined;
	const labelOfBody = (i: number): ChartLabel | undefined => labels[view.places.length + i];
	return (
		<figure class="chart all-sky" data-pole={pole}>
			<Picture
				viewBox="0 0 300 300"
				title={told(words.allSky())}
				says={saidAt(view.says, frame, siteClockText(view.clock, at), at).chart}
			>
				<clipPath id="all-sky-edge">
					<circle cx={MIDDLE} cy={MIDDLE} r={RADIUS} />
				</clipPath>
				<circle cx={MIDDLE} cy={MIDDLE} r={RADIUS} fill="var(--sky)" />
				<g clip-path="url(#all-sky-edge)">
					{view.milkyWay.map((area, i) => (
						<path
							key={`${i} ${area.links.length}`}
							class="milky-way"
							d={chartAreaAt(frame, area, at)}
							fill="var(--band)"
							fill-opacity={MILKY_WAY_OPACITY[i]}
						/>
					))}
					{(!still || figures) && (
						<path
							class="figures"
							d={figures ? chartLinesAt(frame, view.figures, at) : ""}
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
					{view.stars.map(({ radius, places: ofClass }) => (
						<path
							key={radius}
							class="stars"
							d={chartStarsAt(frame, ofClass, at)}
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
					{view.bodies.map(
						(body, i) =>
							isDrawn(bodies[i]) && (
								<Body key={body.name} body={body} view={view} seen={bodies[i]} label={labelOfBody(i)} />
							),
					)}
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
							class={sky ? "frame" : undefined}
							d={sky ? chartOutlineAt(frame, sky, at) : `${line(fixed ?? [])}Z`}
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
				<PoleMark at={onChart(facing, view.pole)} radius={5} isHidden={view.pole.hidden} />
				{view.aim && (
					<g transform={shift(view.aim)} stroke="var(--ochre)" fill="none">
						<circle r={5} />
						<path d="M-9 0H-4M4 0H9M0-9V-4M0 4V9" />
					</g>
				)}
				<Label label={labels.at(-1)} />
				{view.places.map(
					({ name, kind }, i) =>
						isDrawn(places[i]) && (
							<g key={`${kind} ${name}`}>
								<g class="place" transform={shift(places[i])}>
									{kind === "guide" ? (
										<path d="M0-5V5M-5 0H5M-3-3 3 3M-3 3 3-3" stroke="var(--ochre)" stroke-width={1.2} />
									) : kind === "radiant" ? (
										<path d={RADIANT} stroke="var(--ink)" stroke-width={1.2} transform="scale(0.75)" />
									) : kind === "core" ? (
										<circle r={4} fill="none" stroke="var(--ink)" stroke-width={1.2} />
									) : (
										<path d="M0-5 5 0 0 5-5 0Z" fill="var(--blue)" />
									)}
								</g>
								<Label label={labels[i]} />
							</g>
						),
				)}
			</Picture>
			<figcaption>{view.wholeSkyCaption}</figcaption>
		</figure>
	);
}

/** Behind its mark, where the script finds it. */
const Label = ({ label }: { readonly label: ChartLabel | undefined }) => (
	<text class="label" x={label?.x ?? -999} y={label?.y ?? -999} text-anchor={label?.isRight ? "end" : "start"}>
		{label?.name ?? ""}
	</text>
);

function Body({
	body: { kind, points, tilts },
	view: { frame, at, moonLit },
	seen,
	label,
}: {
	readonly body: PanoramaView["bodies"][number];
	readonly view: PanoramaView;
	readonly seen: Direction | undefined;
	readonly label: ChartLabel | undefined;
}) {
	const turned = seen ? tiltAt(points, tilts ?? [], at) + turnOnChart(frame.centre, seen) : 0;
	return (
		<g>
			<g class="body" transform={`translate(${seen ? onChart(frame.centre, seen).join(",") : AWAY})`}>
				{kind === "moon" ? (
					<>
						<circle r={6} fill="var(--ground)" stroke="var(--ochre)" stroke-width={0.8} />
						<path class="lit" d={moonShape(6, moonLit)} fill="var(--ochre)" transform={`rotate(${px(turned)})`} />
					</>
				) : (
					<circle r={kind === "sun" ? 6 : 2.6} fill="var(--ochre)" />
				)}
			</g>
			<Label label={label} />
		</g>
	);
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
