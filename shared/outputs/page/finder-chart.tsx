/** The finder chart drawn: stars, the way from a bright one, the beam's place, and things of known size beside it. */
import { told } from "../../text/sentence.ts";
import { FINDER_RADIUS, type FinderView } from "./finder.ts";
import { Picture } from "./picture.tsx";
import { words } from "./words.ts";

const MIDDLE = 150;
/** Pixels a degree. */
const SCALE = 14;
/** Degrees: the Moon's width, and a fist at arm's length (common practice, no source). */
const MOON = 0.52;
const FIST = 10;
/** Half of a long name, pixels. */
const NAME_HALF = 62;

export function FinderChart({ view }: { readonly view: FinderView }) {
	const x = (right: number): number => Math.round((MIDDLE + right * SCALE) * 10) / 10;
	const y = (up: number): number => Math.round((MIDDLE - up * SCALE) * 10) / 10;
	const edge = FINDER_RADIUS * SCALE;
	const beamIsAbove = (view.beam?.[1] ?? 0) > 0;
	const side = sideOf([view.from?.at, view.beam].filter((one) => one !== undefined));
	return (
		<figure class="finder">
			<Picture viewBox="0 0 300 346" title={told(words.finderChart({ name: view.name }))} says={view.alternative}>
				<clipPath id="finder-edge">
					<circle cx={MIDDLE} cy={MIDDLE} r={edge} />
				</clipPath>
				<circle cx={MIDDLE} cy={MIDDLE} r={edge} fill="var(--sky)" stroke="var(--line)" />
				<g clip-path="url(#finder-edge)">
					{view.stars.map(({ at: [right, up], magnitude }) => (
						<circle
							key={`${right} ${up}`}
							cx={x(right)}
							cy={y(up)}
							r={Math.round(Math.max(0.8, 4.4 - 0.7 * magnitude) * 10) / 10}
							fill="var(--ink)"
						/>
					))}
					{view.from && <Way from={view.from.at} x={x} y={y} />}
				</g>
				{view.names.map(({ at: [right, up], name }) => (
					<text
						key={name}
						x={Math.min(Math.max(x(right), NAME_HALF), 2 * MIDDLE - NAME_HALF)}
						y={y(up) + 17}
						text-anchor="middle"
						class="quiet"
					>
						{name}
					</text>
				))}
				<circle cx={MIDDLE} cy={MIDDLE} r={7} fill="none" stroke="var(--ochre)" stroke-width={1.6} />
				<text x={MIDDLE + side.right} y={MIDDLE + side.down} text-anchor={side.anchor} class="strong">
					{view.name}
				</text>
				{view.beam && (
					<g transform={`translate(${x(view.beam[0])},${y(view.beam[1])})`}>
						<path d="M-7 0H7M0-7V7" stroke="var(--ochre)" stroke-width={1.8} />
						<text y={beamIsAbove ? -11 : 21} text-anchor="middle">
							{told(view.sight ? words.sight() : words.laser())}
						</text>
					</g>
				)}
				<g transform="translate(6,316)">
					<path d={`M0 0h${FIST * SCALE}m0-4v8M0-4v8`} stroke="var(--ink)" fill="none" />
					<text y={22}>{told(words.fist())}</text>
					<circle cx={226} cy={-2} r={(MOON * SCALE) / 2} fill="var(--ochre)" />
					<text x={226} y={22} text-anchor="middle">
						{told(words.moonWide())}
					</text>
				</g>
			</Picture>
			<figcaption>{view.alternative}</figcaption>
		</figure>
	);
}

/** Where the mark's name may be: beside the ring, pixels to the right and down; and how it lies there. */
const SIDES = [
	{ toward: [0, 1], right: 0, down: -13, anchor: "middle" },
	{ toward: [0, -1], right: 0, down: 22, anchor: "middle" },
	{ toward: [1, 0], right: 13, down: 4, anchor: "start" },
	{ toward: [-1, 0], right: -13, down: 4, anchor: "end" },
] as const;

/** The side that is furthest from the way to the mark and from its beam. */
const sideOf = (taken: readonly (readonly [right: number, up: number])[]): (typeof SIDES)[number] => {
	const nearest = ({ toward: [x, y] }: (typeof SIDES)[number]): number =>
		Math.max(-1, ...taken.map(([right, up]) => (right * x + up * y) / Math.hypot(right, up)));
	return SIDES.reduce((best, one) => (nearest(one) < nearest(best) - 1e-9 ? one : best));
};

/** From the bright star, or the edge where it lies outside, to the ring about the mark. */
function Way({
	from: [right, up],
	x,
	y,
}: {
	readonly from: readonly [number, number];
	readonly x: (right: number) => number;
	readonly y: (up: number) => number;
}) {
	const far = Math.hypot(right, up);
	const start = Math.min(1, FINDER_RADIUS / far);
	const end = 0.8 / far;
	const angle = Math.round((Math.atan2(up, -right) * 180) / Math.PI);
	return (
		<>
			<line
				x1={x(right * start)}
				y1={y(up * start)}
				x2={x(right * end)}
				y2={y(up * end)}
				stroke="var(--blue)"
				stroke-width={1.6}
				stroke-dasharray="6 4"
			/>
			<path
				d="M0 0L-9-4.5V4.5Z"
				fill="var(--blue)"
				transform={`translate(${x(right * end)},${y(up * end)}) rotate(${angle})`}
			/>
		</>
	);
}
