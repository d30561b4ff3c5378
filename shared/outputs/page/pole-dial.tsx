/** The dial of a pole scope: one ring of twelve hours around the pole, with the pole star's place on it. */
import { told } from "../../text/sentence.ts";
import { Picture } from "./picture.tsx";
import type { DialView } from "./view.ts";
import { words } from "./words.ts";

const CX = 150;
const CY = 128;
/** The ring that the star is put on; its numbers stand outside of it. */
const RING = 88;
const HOURS = 12;

/** A place on the ring's dial: hours clockwise from the top. */
export const onRing = (hours: number, radius: number): readonly [x: number, y: number] => {
	const angle = (hours / HOURS) * 2 * Math.PI;
	return [Math.round((CX + Math.sin(angle) * radius) * 10) / 10, Math.round((CY - Math.cos(angle) * radius) * 10) / 10];
};

/** The dial with its star: filled as seen upright, hollow as through an inverting scope. */
export function PoleDial({ view }: { readonly view: DialView }) {
	const { hours } = view;
	const star = onRing(hours, RING);
	const opposite = onRing(hours + HOURS / 2, RING);
	const hand = onRing(hours, RING - 9);
	return (
		<figure>
			<Picture
				viewBox="0 0 300 292"
				title={told(words.dialTitle())}
				says={told(
					words.dial({ ...view, upright: words.dialPlace(view.upright), inverted: words.dialPlace(view.inverted) }),
				)}
			>
				<circle cx={CX} cy={CY} r={RING} fill="none" stroke="var(--soft)" stroke-width={1.4} />
				{Array.from({ length: HOURS * 2 }, (_, i) => {
					const isWhole = i % 2 === 0;
					const [x1, y1] = onRing(i / 2, RING);
					const [x2, y2] = onRing(i / 2, RING + (isWhole ? 7 : 4));
					return <line key={i} x1={x1} y1={y1} x2={x2} y2={y2} stroke="var(--soft)" />;
				})}
				{Array.from({ length: HOURS }, (_, i) => {
					const [x, y] = onRing(i + 1, RING + 20);
					return (
						<text key={i} x={x} y={y + 5} text-anchor="middle">
							{i + 1}
						</text>
					);
				})}
				<line
					x1={CX}
					y1={CY}
					x2={hand[0]}
					y2={hand[1]}
					stroke="var(--ochre)"
					stroke-width={1.4}
					stroke-dasharray="6 4"
				/>
				<path d={`M${CX - 7} ${CY}h14M${CX} ${CY - 7}v14`} stroke="var(--ink)" stroke-width={1.6} />
				<text x={CX} y={hours > 3 && hours < 9 ? CY - 14 : CY + 26} text-anchor="middle" class="quiet">
					{told(words.dialCount())}
				</text>
				<circle cx={opposite[0]} cy={opposite[1]} r={7} fill="var(--paper)" stroke="var(--ochre)" stroke-width={2} />
				<circle cx={star[0]} cy={star[1]} r={7.5} fill="var(--ochre)" stroke="var(--paper)" />
				<text x={4} y={266} class="strong">
					{told(words.dialUpright(view.upright))}
				</text>
				<text x={4} y={286}>
					{told(words.dialInverted(view.inverted))}
				</text>
			</Picture>
			<figcaption>{told(words.dialCaption(view))}</figcaption>
		</figure>
	);
}
