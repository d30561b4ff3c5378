/** A target's frame as the lens sees it when the series begins. */
import { told } from "../../text/sentence.ts";
import type { FrameView } from "./frame-view.ts";
import { Picture } from "./picture.tsx";
import { words } from "./words.ts";

/** Of the longer side, pixels. */
const LONG = 300;

export function FramePicture({ view }: { readonly view: FrameView }) {
	const width = view.shape > 1 ? LONG / view.shape : LONG;
	const height = width * view.shape;
	const px = (value: number): number => Math.round(value * 10) / 10;
	const ground = view.hidden
		.map((corners) => `M${corners.map(([x, y]) => `${px(x * width)} ${px(y * height)}`).join("L")}Z`)
		.join("");
	return (
		<figure>
			<Picture
				viewBox={`0 0 300 ${px(height)}`}
				title={told(words.frameTitle({ name: view.name }))}
				says={view.alternative}
			>
				<g transform={`translate(${px((LONG - width) / 2)},0)`}>
					<rect width={px(width)} height={px(height)} fill="var(--sky)" stroke="var(--line)" />
					{view.stars.map(({ at: [x, y], magnitude }) => (
						<circle
							key={`${x} ${y}`}
							cx={px(x * width)}
							cy={px(y * height)}
							r={px(Math.max(0.6, 3.4 - 0.6 * magnitude))}
							fill="var(--ink)"
						/>
					))}
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
					<path
						d={`M${px(width / 2 - 6)} ${px(height / 2)}h12M${px(width / 2)} ${px(height / 2 - 6)}v12`}
						stroke="var(--blue)"
						stroke-width={1.4}
					/>
					{view.worst && (
						<g transform={`translate(${px(view.worst[0] * width)},${px(view.worst[1] * height)})`}>
							<circle r={7} fill="none" stroke="var(--ochre)" stroke-width={2} />
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
