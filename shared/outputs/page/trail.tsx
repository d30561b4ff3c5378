/** The trail picture: the worst star of the frame as it falls on pixels, beside what the plan allows. */
import { chanceText } from "../../notation/chance.ts";
import { told } from "../../text/sentence.ts";
import { Picture } from "./picture.tsx";
import type { TrailView } from "./view.ts";
import { words } from "./words.ts";

export function Trail({ view }: { readonly view: TrailView }) {
	const length = (star: readonly [number, number]): number => Math.hypot(star[0], star[1]);
	const worst = view.stars.reduce<readonly [number, number]>((a, b) => (length(a) >= length(b) ? a : b), [0, 0]);
	const size = Math.max(3, Math.ceil(Math.max(length(worst), view.limit) + 1));
	const cell = 180 / (2 * size + 1);
	const middle = (size + 0.5) * cell;
	// Lines between pixels only while there is room between them.
	const cells = 2 * size + 1 <= 41 ? Array.from({ length: 2 * size + 2 }, (_, i) => i * cell) : [];
	const chance = chanceText(view.chance);
	const said = words.trail({
		exposure: view.exposure,
		median: view.median.toFixed(1),
		most: view.most.toFixed(1),
		limit: view.limit,
		chance,
	});
	return (
		<figure>
			<Picture viewBox="0 0 300 332" title={told(words.trailTitle())} says={told(said)}>
				<g transform="translate(60,8)">
					{cells.map((c) => (
						<g key={c}>
							<line x1={c} x2={c} y2={180} stroke="var(--line)" stroke-width={0.6} />
							<line y1={c} y2={c} x2={180} stroke="var(--line)" stroke-width={0.6} />
						</g>
					))}
					<circle
						cx={middle}
						cy={middle}
						r={view.limit * cell}
						fill="none"
						stroke="var(--soft)"
						stroke-dasharray="4 3"
					/>
					<line
						x1={middle}
						y1={middle}
						x2={middle + worst[0] * cell}
						y2={middle - worst[1] * cell}
						stroke="var(--blue)"
						stroke-width={Math.max(3, cell * 0.8)}
						stroke-linecap="round"
					/>
				</g>
				<text x={4} y={214}>
					{told(words.trailOf(view))}
				</text>
				<text x={4} y={238}>
					{told(words.median({ trail: view.median.toFixed(1) }))}
				</text>
				<text x={4} y={260}>
					{told(words.most({ trail: view.most.toFixed(1) }))}
				</text>
				<text x={4} y={282}>
					{told(words.perfect({ trail: view.perfect.toFixed(1) }))}
				</text>
				<text x={4} y={304}>
					{told(words.allowed({ trail: view.limit }))}
				</text>
				<text x={4} y={326} class="strong">
					{told(words.sharp({ chance }))}
				</text>
			</Picture>
			<figcaption>{told(words.trailCaption())}</figcaption>
		</figure>
	);
}
