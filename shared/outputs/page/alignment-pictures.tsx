/** The axis seen from the side, the turn of the pan seen from above, and the error ellipse at the pole. */
import { degrees, errorDegrees, turnText } from "../../notation/angle.ts";
import { bearingText, compassPoint } from "../../notation/bearing.ts";
import { told } from "../../text/sentence.ts";
import { Picture } from "./picture.tsx";
import { PoleMark } from "./pole-mark.tsx";
import { shortened } from "./shortened.ts";
import { type AlignmentView, type EllipseView, pointerWord } from "./view.ts";
import { words } from "./words.ts";

const RAD = Math.PI / 180;

/** A point at an angle above the right-hand horizon, from a centre. */
const at = (cx: number, cy: number, angle: number, length: number): readonly [number, number] => [
	cx + Math.cos(angle * RAD) * length,
	cy - Math.sin(angle * RAD) * length,
];

function Arc({ cx, cy, from, to, r }: { cx: number; cy: number; from: number; to: number; r: number }) {
	const [x1, y1] = at(cx, cy, from, r);
	const [x2, y2] = at(cx, cy, to, r);
	return <path d={`M${x1} ${y1}A${r} ${r} 0 0 0 ${x2} ${y2}`} fill="none" stroke="var(--soft)" stroke-width={1.2} />;
}

/** Of axis and beam, in a picture 300 wide. */
const LENGTH = 130;
/** An angle with less room than this between its lines, degrees, is written on the other side of the ground. */
const NARROW = 22;

export function SideView({ view }: { readonly view: AlignmentView }) {
	const [cx, cy] = [150, 170];
	const axis = at(cx, cy, view.tilt, LENGTH);
	const isLow = view.tilt < NARROW;
	const tiltLabel = isLow ? ([cx + 6, cy + 18] as const) : at(cx, cy, view.tilt / 2, 74);
	// The pointer, seen from the side, is `offset` further round from the axis.
	const angle = view.pointer ? view.tilt + view.pointer.offset : 0;
	const beam = at(cx, cy, angle, LENGTH);
	const offsetLabel = at(cx, cy, view.tilt + (view.pointer?.offset ?? 0) / 2, 54);
	const isBeamLow = 180 - angle < NARROW;
	const aimLabel = isBeamLow ? ([cx - 6, cy + 18] as const) : at(cx, cy, 180 - (180 - angle) / 2, 84);
	return (
		<figure>
			<Picture viewBox="0 0 300 200" title={told(words.sideTitle())} says={view.alternative}>
				<line x1={4} x2={296} y1={cy} y2={cy} stroke="var(--ink)" />
				<text x={296} y={cy + 18} text-anchor="end">
					{told(words[view.poleSide]())}
				</text>
				<text x={4} y={cy + 18}>
					{told(words[view.poleSide === "north" ? "south" : "north"]())}
				</text>
				<line x1={cx} y1={cy} x2={axis[0]} y2={axis[1]} stroke="var(--ink)" stroke-width={3} />
				<PoleMark at={axis} radius={7} isHidden={view.poleHidden} />
				<text x={296} y={axis[1] - 14} text-anchor="end">
					{told(words[view.poleHidden ? "axisToHiddenPole" : "axisToPole"]())}
				</text>
				<Arc cx={cx} cy={cy} from={0} to={view.tilt} r={66} />
				<text x={tiltLabel[0]} y={tiltLabel[1] + (isLow ? 0 : 4)}>
					{told(words.tilt({ angle: degrees(view.tilt) }))}
				</text>
				{view.pointer && (
					<g>
						<line
							x1={cx}
							y1={cy}
							x2={beam[0]}
							y2={beam[1]}
							stroke="var(--ochre)"
							stroke-width={2}
							stroke-dasharray="9 4"
						/>
						<path
							d={`M${beam[0]} ${beam[1] - 7}v14M${beam[0] - 7} ${beam[1]}h14`}
							stroke="var(--ochre)"
							stroke-width={1.6}
						/>
						<text x={4} y={beam[1] - 14}>
							{view.pointer.star ?? told(words.guideStar())}
						</text>
						<Arc cx={cx} cy={cy} from={view.tilt} to={angle} r={46} />
						<text x={offsetLabel[0] - 14} y={offsetLabel[1]}>
							{degrees(view.pointer.offset, 0)}
						</text>
						<Arc cx={cx} cy={cy} from={angle} to={180} r={78} />
						<text x={aimLabel[0] - 4} y={aimLabel[1] + (isBeamLow ? 0 : 4)} text-anchor="end">
							{degrees(view.pointer.altitude)}
						</text>
					</g>
				)}
				<circle cx={cx} cy={cy} r={4} fill="var(--ink)" />
			</Picture>
			<figcaption>
				{told(
					view.pointer
						? words.fromSideWithPointer({
								pointer: pointerWord(view.pointer),
								offset: degrees(view.pointer.offset, 0),
							})
						: words.fromSide(),
				)}
			</figcaption>
		</figure>
	);
}

/** The way that a head of an arrow points to, degrees clockwise from the right. */
const Head = ({ x, y, angle, fill }: { x: number; y: number; angle: number; fill: string }) => (
	<path d="M6 0L-7-5.5V5.5Z" fill={fill} transform={`translate(${x},${y}) rotate(${angle})`} />
);

/** Of the turn's arc, pixels. */
const TURN_RADIUS = 52;
/** By how much the arc's arrow stays before the axis, degrees. */
const ARROW = 7;

/** The turn of the pan from the mark to the pole, from above: the whole axis before and after, its upper end an arrow. */
export function TurnView({ turn }: { readonly turn: NonNullable<AlignmentView["turn"]> }) {
	const [cx, cy, r] = [150, 118, 90];
	const px = (value: number): number => Math.round(value * 10) / 10;
	const point = (bearing: number, length: number): readonly [number, number] => [
		px(cx + Math.sin(bearing * RAD) * length),
		px(cy - Math.cos(bearing * RAD) * length),
	];
	const isClockwise = turn.offset >= 0;
	const [ax, ay] = point(turn.mark, TURN_RADIUS);
	const [bx, by] = point(turn.pole + (isClockwise ? -ARROW : ARROW), TURN_RADIUS);
	const axis = (bearing: number, colour: string, width: number, dash?: string) => {
		const [ux, uy] = point(bearing, r - 5);
		const [lx, ly] = point(bearing + 180, r * 0.45);
		return (
			<g>
				<line x1={lx} y1={ly} x2={ux} y2={uy} stroke={colour} stroke-width={width} stroke-dasharray={dash} />
				<Head x={ux} y={uy} angle={px(bearing - 90)} fill={colour} />
			</g>
		);
	};
	return (
		<figure>
			<Picture
				viewBox="0 0 300 310"
				title={told(words.turnTitle())}
				says={told(
					words.fromAbove({
						mark: turn.markName,
						bearing: bearingText(turn.mark),
						pole: bearingText(turn.pole),
						turn: turnText(turn.offset),
					}),
				)}
			>
				<circle cx={cx} cy={cy} r={r} fill="none" stroke="var(--line)" />
				{[0, 90, 180, 270].map((bearing) => {
					const [x, y] = point(bearing, r + 14);
					return (
						<text key={bearing} x={x} y={y + 4} text-anchor="middle" class="quiet">
							{compassPoint(bearing)}
						</text>
					);
				})}
				{axis(turn.mark, "var(--ochre)", 2, "9 4")}
				{axis(turn.pole, "var(--ink)", 3)}
				<path
					d={`M${ax} ${ay}A${TURN_RADIUS} ${TURN_RADIUS} 0 ${Math.abs(turn.offset) > 180 ? 1 : 0} ${isClockwise ? 1 : 0} ${bx} ${by}`}
					fill="none"
					stroke="var(--blue)"
					stroke-width={2}
				/>
				<Head x={bx} y={by} angle={px(turn.pole + (isClockwise ? 0 : 180))} fill="var(--blue)" />
				<circle cx={cx} cy={cy} r={4} fill="var(--ink)" />
				<text x={4} y={256}>
					{told(words.markAt({ mark: shortened(turn.markName, 20), bearing: bearingText(turn.mark) }))}
				</text>
				<text x={4} y={278}>
					{told(words.poleAt({ bearing: bearingText(turn.pole) }))}
				</text>
				<text x={4} y={300} class="strong">
					{turnText(turn.offset)}
				</text>
			</Picture>
			<figcaption>{told(words.turn({ mark: turn.markName }))}</figcaption>
		</figure>
	);
}

/** Where the list of shares begins, below the ellipse. */
const SHARES_AT = 308;

/** Degrees: less is told as 0.00°. */
const LEAST_SHARE = 0.005;

/** Degrees: an axis expected this far from the pole is told, as one could see it at the scale. */
const LEAST_BIAS = 0.05;

/** Where the axis is expected, in words. */
const expected = ({ along, across }: EllipseView) => ({
	along: words[along >= 0 ? "tooHighBy" : "tooLowBy"]({ angle: errorDegrees(Math.abs(along), 2) }),
	across: words[across >= 0 ? "rightBy" : "leftBy"]({ angle: errorDegrees(Math.abs(across), 2) }),
});

/** The 1-sigma ellipse about the expected axis and the 95 % circle at the pole, with each source's part. */
export function ErrorEllipse({ view }: { readonly view: EllipseView }) {
	const size = Math.max(view.radius95, 0.05);
	const k = 92 / size;
	// What would be told as nothing has no bar.
	const shares = view.shares.filter(({ total }) => total >= LEAST_SHARE).slice(0, 6);
	const isOff = Math.hypot(view.along, view.across) >= LEAST_BIAS;
	return (
		<figure>
			<Picture
				viewBox={`0 0 300 ${SHARES_AT + 20 + shares.length * 30}`}
				title={told(words.ellipseTitle())}
				says={told(
					words.errorEllipse({
						radius: errorDegrees(view.radius95),
						major: errorDegrees(view.major),
						minor: errorDegrees(view.minor),
						expected: isOff ? words.expected(expected(view)) : "",
					}),
				)}
			>
				<g transform="translate(150,124)">
					<line x1={-104} x2={104} stroke="var(--line)" />
					<line y1={-104} y2={104} stroke="var(--line)" />
					<circle r={view.radius95 * k} fill="none" stroke="var(--soft)" stroke-dasharray="4 4" />
					{/* Along the meridian is up; the ellipse is turned from it toward the right. */}
					<ellipse
						rx={Math.max(1, view.minor * k)}
						ry={Math.max(1, view.major * k)}
						transform={`translate(${view.across * k} ${-view.along * k}) rotate(${view.tilt})`}
						fill="var(--band)"
						stroke="var(--blue)"
						stroke-width={1.6}
					/>
					<circle r={2.4} fill="var(--ink)" />
					<text x={4} y={-106}>
						{told(words.tooHigh())}
					</text>
					<text x={108} y={116} text-anchor="end">
						{told(words.clockwise())}
					</text>
				</g>
				<text x={4} y={SHARES_AT - 36}>
					{told(words.within({ radius: errorDegrees(view.radius95) }))}
				</text>
				{view.field !== undefined && (
					<text x={4} y={SHARES_AT - 16} class="quiet">
						{told(words.field({ angle: degrees(view.field, 0) }))}
					</text>
				)}
				{isOff && (
					<text x={4} y={SHARES_AT + 4}>
						{told(words.expectedShort(expected(view)))}
					</text>
				)}
				{shares.map(({ name, total, part }, i) => (
					<g key={name} transform={`translate(4,${SHARES_AT + 26 + i * 30})`}>
						<text>{told(words.share({ source: name, angle: errorDegrees(total, 2) }))}</text>
						<rect y={5} width={Math.max(1, part * 292)} height={6} fill="var(--blue)" />
					</g>
				))}
			</Picture>
			<figcaption>{told(words.errorCaption())}</figcaption>
		</figure>
	);
}
