/** The axis seen from the side, the turn of the pan seen from above, and the error ellipse at the pole. */
import { degrees, errorDegrees, turnText } from "../../notation/angle.ts";
import { bearingText, compassPoint } from "../../notation/bearing.ts";
import { told } from "../../text/sentence.ts";
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

export function SideView({ view }: { readonly view: AlignmentView }) {
	const [cx, cy] = [150, 170];
	const axis = at(cx, cy, view.tilt, LENGTH);
	const tiltLabel = at(cx, cy, view.tilt / 2, 74);
	// The pointer, seen from the side, is `offset` further round from the axis.
	const angle = view.pointer ? view.tilt + view.pointer.offset : 0;
	const beam = at(cx, cy, angle, LENGTH);
	const offsetLabel = at(cx, cy, view.tilt + (view.pointer?.offset ?? 0) / 2, 54);
	const aimLabel = at(cx, cy, 180 - (180 - angle) / 2, 84);
	return (
		<figure>
			<svg viewBox="0 0 300 200" role="img" aria-label={view.alternative}>
				<line x1={4} x2={296} y1={cy} y2={cy} stroke="var(--ink)" />
				<text x={296} y={cy + 18} text-anchor="end">
					{told(words[view.poleSide]())}
				</text>
				<text x={4} y={cy + 18}>
					{told(words[view.poleSide === "north" ? "south" : "north"]())}
				</text>
				<line x1={cx} y1={cy} x2={axis[0]} y2={axis[1]} stroke="var(--ink)" stroke-width={3} />
				<circle
					cx={axis[0]}
					cy={axis[1]}
					r={7}
					fill="none"
					stroke="var(--ink)"
					stroke-dasharray={view.poleHidden ? "3 3" : undefined}
				/>
				<text x={296} y={axis[1] - 14} text-anchor="end">
					{told(words[view.poleHidden ? "axisToHiddenPole" : "axisToPole"]())}
				</text>
				<Arc cx={cx} cy={cy} from={0} to={view.tilt} r={66} />
				<text x={tiltLabel[0]} y={tiltLabel[1] + 4}>
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
						<text x={aimLabel[0] - 4} y={aimLabel[1] + 4} text-anchor="end">
							{degrees(view.pointer.altitude)}
						</text>
					</g>
				)}
				<circle cx={cx} cy={cy} r={4} fill="var(--ink)" />
			</svg>
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

/** The turn of the pan from the mark to the pole, from above. */
export function TurnView({ turn }: { readonly turn: NonNullable<AlignmentView["turn"]> }) {
	const [cx, cy, r] = [150, 118, 90];
	const point = (bearing: number, length: number): readonly [number, number] => [
		cx + Math.sin(bearing * RAD) * length,
		cy - Math.cos(bearing * RAD) * length,
	];
	const [px, py] = point(turn.pole, r);
	const [mx, my] = point(turn.mark, r);
	const [ax, ay] = point(turn.mark, 52);
	const [bx, by] = point(turn.pole, 52);
	return (
		<figure>
			<svg
				viewBox="0 0 300 310"
				role="img"
				aria-label={told(
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
				<line x1={cx} y1={cy} x2={mx} y2={my} stroke="var(--ochre)" stroke-width={2} stroke-dasharray="9 4" />
				<line x1={cx} y1={cy} x2={px} y2={py} stroke="var(--ink)" stroke-width={3} />
				<path
					d={`M${ax} ${ay}A52 52 0 0 ${turn.offset >= 0 ? 1 : 0} ${bx} ${by}`}
					fill="none"
					stroke="var(--blue)"
					stroke-width={2}
				/>
				<text x={4} y={256}>
					{told(words.markAt({ mark: shortened(turn.markName, 24), bearing: bearingText(turn.mark) }))}
				</text>
				<text x={4} y={278}>
					{told(words.poleAt({ bearing: bearingText(turn.pole) }))}
				</text>
				<text x={4} y={300} class="strong">
					{turnText(turn.offset)}
				</text>
			</svg>
			<figcaption>{told(words.turn())}</figcaption>
		</figure>
	);
}

/** Where the list of shares begins, below the ellipse. */
const SHARES_AT = 308;

/** The 1-sigma ellipse about the expected axis and the 95 % circle at the pole, with each source's part. */
export function ErrorEllipse({ view }: { readonly view: EllipseView }) {
	const size = Math.max(view.radius95, 0.05);
	const k = 92 / size;
	const shares = view.shares.slice(0, 6);
	return (
		<figure>
			<svg
				viewBox={`0 0 300 ${SHARES_AT + 4 + shares.length * 30}`}
				role="img"
				aria-label={told(
					words.errorEllipse({
						radius: errorDegrees(view.radius95),
						major: errorDegrees(view.major),
						minor: errorDegrees(view.minor),
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
				{shares.map(({ name, total, part }, i) => (
					<g key={name} transform={`translate(4,${SHARES_AT + 10 + i * 30})`}>
						<text>{told(words.share({ source: name, angle: errorDegrees(total, 2) }))}</text>
						<rect y={5} width={Math.max(1, part * 292)} height={6} fill="var(--blue)" />
					</g>
				))}
			</svg>
			<figcaption>{told(words.errorCaption())}</figcaption>
		</figure>
	);
}
