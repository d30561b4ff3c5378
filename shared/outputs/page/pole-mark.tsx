/** The pole's mark, the same in every picture that has it: a ring about a dot; its ring is dashed where the pole is hidden. */

/** The dot against the ring. */
const DOT = 0.22;

/** `radius`: of the ring, as the picture's other marks are large. */
export const PoleMark = ({
	at: [x, y],
	radius,
	isHidden,
}: {
	readonly at: readonly [x: number, y: number];
	readonly radius: number;
	readonly isHidden: boolean;
}) => (
	<g class="pole" transform={`translate(${x},${y})`}>
		<circle
			r={radius}
			fill="none"
			stroke="var(--ink)"
			stroke-width={1.4}
			stroke-dasharray={isHidden ? "3 3" : undefined}
		/>
		<circle r={Math.round(radius * DOT * 10) / 10} fill="var(--ink)" />
	</g>
);
