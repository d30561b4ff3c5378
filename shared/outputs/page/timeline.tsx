/** The night as a timeline: the Sun's height with the three twilights, the Moon, methods, targets and frames. */
import { told } from "../../text/sentence.ts";
import { shortened } from "./shortened.ts";
import type { TimelineView } from "./view.ts";
import { words } from "./words.ts";

const WIDTH = 1200;
const LEFT = 190;
const SUN = 70;
const ROW = 24;

const FILL: Readonly<Record<string, string>> = {
	dark: "var(--grey)",
	moon: "var(--ochre)",
	method: "var(--blue)",
	target: "var(--band)",
	frames: "var(--blue)",
};

/** Whole hours of the site's clock between two instants. */
function hours({ from, until, offset }: TimelineView): readonly (readonly [number, string])[] {
	const found: (readonly [number, string])[] = [];
	for (let at = Math.ceil((from + offset) / 3_600_000) * 3_600_000 - offset; at <= until; at += 3_600_000) {
		found.push([at, String(new Date(at + offset).getUTCHours()).padStart(2, "0")]);
	}
	return found;
}

export function Timeline({ view }: { readonly view: TimelineView }) {
	const x = (time: number): number => LEFT + ((WIDTH - 10 - LEFT) * (time - view.from)) / (view.until - view.from);
	/** The Sun from 20° above to 30° below the horizon. */
	const y = (altitude: number): number => Math.min(SUN, Math.max(0, ((20 - altitude) / 50) * SUN));
	const height = SUN + 30 + view.rows.length * ROW + 30;
	const floor = y(-30);
	const shape = `M${x(view.from)} ${floor}${view.sun.map(([at, altitude]) => `L${x(at).toFixed(1)} ${y(altitude).toFixed(1)}`).join("")}L${x(view.until)} ${floor}Z`;
	const said = [
		...view.rows.map(({ label, text }) => told(words.row({ label, text }))),
		...view.moments.map(({ label, clock }) => told(words.moment({ label, clock }))),
	].join("; ");
	return (
		<div class="scroll">
			<svg
				id="timeline"
				viewBox={`0 0 ${WIDTH} ${height}`}
				role="img"
				aria-label={told(words.timeline({ words: said }))}
				data-from={view.from}
				data-until={view.until}
				data-left={LEFT}
				data-right={WIDTH - 10}
			>
				<text x={4} y={16}>
					{told(words.sun())}
				</text>
				{[0, -6, -12, -18].map((altitude) => (
					<g key={altitude}>
						<line x1={LEFT} x2={WIDTH - 10} y1={y(altitude)} y2={y(altitude)} stroke="var(--line)" />
						{(altitude === 0 || altitude === -18) && (
							<text x={LEFT - 6} y={y(altitude) + 4} text-anchor="end" class="quiet">
								{String(altitude).replace("-", "−")}°
							</text>
						)}
					</g>
				))}
				<path d={shape} fill="var(--band)" stroke="var(--ochre)" stroke-width={1.4} />
				{hours(view).map(([at, label]) => (
					<g key={at}>
						<line x1={x(at)} x2={x(at)} y1={SUN} y2={height - 26} stroke="var(--line)" stroke-width={0.7} />
						<text x={x(at)} y={height - 10} text-anchor="middle">
							{label}
						</text>
					</g>
				))}
				{view.rows.map(({ label, kind, intervals, text }, i) => {
					const top = SUN + 16 + i * ROW;
					return (
						<g key={label}>
							<text x={4} y={top + 13}>
								{shortened(label, 27)}
							</text>
							{intervals.length === 0 && (
								<text x={LEFT + 4} y={top + 13} class="quiet">
									{text}
								</text>
							)}
							{intervals.map(({ from, until }) => (
								<rect
									key={from}
									x={x(from)}
									y={kind === "frames" ? top + 5 : top + 2}
									width={Math.max(2, x(until) - x(from))}
									height={kind === "frames" ? 8 : 14}
									fill={FILL[kind]}
									stroke={kind === "target" ? "var(--soft)" : undefined}
									rx={2}
								/>
							))}
						</g>
					);
				})}
				<line id="now" x1={-10} x2={-10} y1={0} y2={height - 26} stroke="var(--ochre)" stroke-width={2} />
			</svg>
		</div>
	);
}

/** The evening's moments as a table. */
export const Moments = ({ view }: { readonly view: TimelineView }) => (
	<table>
		<caption class="soft">{told(words.evening())}</caption>
		<tbody>
			{view.moments.map(({ at, label, clock }) => (
				<tr key={`${at} ${label}`}>
					<td class="value">{clock}</td>
					<td>{label}</td>
				</tr>
			))}
		</tbody>
	</table>
);
