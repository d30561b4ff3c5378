/** A target's frame as the lens sees it when the series begins. */
import { told } from "../../text/sentence.ts";
import type { FrameView } from "./frame-view.ts";
import { Picture } from "./picture.tsx";
import { oneDigit } from "./sky-paths.ts";
import { words } from "./words.ts";

/** Of the longer side, pixels. */
const LONG = 300;
/** Panels of which each has its number; of more the first and the last. */
const MOST_NUMBERS = 30;

const px = (value: number): number => Math.round(value * 10) / 10;

export function FramePicture({ view }: { readonly view: FrameView }) {
	const width = view.shape > 1 ? LONG / view.shape : LONG;
	const height = width * view.shape;
	const path = (places: readonly (readonly [x: number, y: number])[]): string =>
		`M${places.map(([x, y]) => `${px(x * width)} ${px(y * height)}`).join("L")}`;
	// Much more of the sky in the same room.
	const dots = view.panels.length > 0 ? 0.5 : 1;
	const numbered = view.panels.filter(({ label }) => label !== "");
	const ground = view.hidden
		.map((corners) => `M${corners.map(([x, y]) => `${px(x * width)} ${px(y * height)}`).join("L")}Z`)
		.join("");
	return (
		<figure class={view.panels.length > 0 ? "wide" : undefined}>
			<Picture
				viewBox={`0 0 ${LONG} ${px(height)}`}
				title={told(words.frameTitle({ name: view.name }))}
				says={view.alternative}
			>
				<g transform={`translate(${px((LONG - width) / 2)},0)`}>
					<rect width={px(width)} height={px(height)} fill="var(--sky)" stroke="var(--line)" />
					<g fill="none" stroke="var(--ink)" stroke-linecap="round">
						{dotsOf(view, width, height, dots).map(([wide, path]) => (
							<path key={wide} class="stars" d={path} stroke-width={wide} />
						))}
					</g>
					{view.tail && <path d={tailPath(view.tail, width, height)} fill="var(--ochre)" fill-opacity={0.55} />}
					<path d={ground} fill="var(--ground)" />
					{view.extent !== undefined && view.extent > 0 && (
						<circle
							cx={px(width / 2)}
							cy={px(height / 2)}
							r={px(view.extent * width)}
							fill="none"
							stroke="var(--blue)"
							stroke-dasharray="5 4"
						/>
					)}
					{view.arch.length > 0 && (
						<path d={view.arch.map(path).join("")} fill="none" stroke="var(--ochre)" stroke-width={2} />
					)}
					{view.panels.map(({ outline, label, isGround }, i) => (
						<path
							key={`${i}`}
							d={`${path(outline)}Z`}
							fill="none"
							stroke={isGround ? "var(--paper)" : "var(--blue)"}
							stroke-dasharray={isGround ? "5 4" : undefined}
							stroke-width={label === "1" ? 2 : 1}
						/>
					))}
					{numbered.map(({ outline, label }, i) => {
						if (numbered.length > MOST_NUMBERS && i > 0 && i < numbered.length - 1) return null;
						const middle = (k: 0 | 1): number => outline.reduce((sum, one) => sum + one[k], 0) / outline.length;
						return (
							<text key={label} x={px(middle(0) * width)} y={px(middle(1) * height + 4)} text-anchor="middle">
								{label}
							</text>
						);
					})}
					{view.panels.length === 0 && (
						<path
							d={`M${px(width / 2 - 6)} ${px(height / 2)}h12M${px(width / 2)} ${px(height / 2 - 6)}v12`}
							stroke="var(--blue)"
							stroke-width={1.4}
						/>
					)}
					{view.worst && (
						<g
							transform={`translate(${px(inside(view.worst[0] * width, width))},${px(inside(view.worst[1] * height, height))})`}
						>
							<circle r={RING} fill="none" stroke="var(--ochre)" stroke-width={2} />
							<text
								x={view.worst[0] > 0.5 ? -11 : 11}
								y={view.worst[1] < 0.1 ? 14 : view.worst[1] > 0.9 ? -6 : 4}
								text-anchor={view.worst[0] > 0.5 ? "end" : "start"}
							>
								{told(words.worst())}
							</text>
						</g>
					)}
				</g>
			</Picture>
			<figcaption>{view.alternative}</figcaption>
		</figure>
	);
}

/** The stars of each size as one path: lines of no length with round ends. */
function dotsOf(
	{ stars }: FrameView,
	width: number,
	height: number,
	dots: number,
): readonly (readonly [number, string])[] {
	const paths = new Map<number, string>();
	for (const { at, magnitude } of stars) {
		const wide = 2 * px(Math.max(0.6, 3.4 - 0.6 * magnitude) * dots);
		paths.set(wide, `${paths.get(wide) ?? ""}M${oneDigit(at[0] * width)} ${oneDigit(at[1] * height)}h0`);
	}
	return [...paths];
}

/** Radius of the ring about the worst star, with its line's half: in a corner it is moved inside, not cut. */
const RING = 7;
const inside = (place: number, size: number): number => Math.min(Math.max(place, RING + 1), size - RING - 1);

/** Half the width of a tail at its end, part of its length. */
const TAIL_WIDTH = 0.12;

/** A wedge that opens from the head. */
function tailPath([head, end]: NonNullable<FrameView["tail"]>, width: number, height: number): string {
	const [x, y] = [head[0] * width, head[1] * height];
	const [dx, dy] = [end[0] * width - x, end[1] * height - y];
	const corner = (side: 1 | -1): string =>
		`${oneDigit(x + dx - side * TAIL_WIDTH * dy)} ${oneDigit(y + dy + side * TAIL_WIDTH * dx)}`;
	return `M${oneDigit(x)} ${oneDigit(y)}L${corner(1)}L${corner(-1)}Z`;
}
