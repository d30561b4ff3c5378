/**
 * The time on site as a timeline: Sun and Moon above, the dark shaded, what can be done when, and over these the evening's
 * steps in their order. Places along it are parts of its width, so that it is as wide as there is room and its text keeps
 * its size.
 */
import { told } from "../../text/sentence.ts";
import { Picture } from "./picture.tsx";
import { shortened } from "./shortened.ts";
import type { TimelineView } from "./view.ts";
import { words } from "./words.ts";

/** Pixels. */
const SUN = 70;
const ROW = 36;
const HOURS = 24;
/** What a step's row is high: its name is beside its bar. */
const STEP_ROW = 21;
const LONGEST_STEP = 24;
const LONGEST_IN_A_NARROW_PANE = 13;
const LONGEST_ROW = 28;
/** Where the picture is as wide as a page. */
const LONGEST_ON_A_PAGE = 46;

const isStep = ({ kind }: TimelineView["rows"][number]): boolean =>
	kind === "step" || kind === "align" || kind === "frames";

const FILL: Readonly<Record<string, string>> = {
	dark: "var(--grey)",
	moon: "var(--ochre)",
	method: "var(--blue)",
	target: "var(--band)",
	align: "var(--blue)",
	frames: "var(--blue)",
	step: "var(--soft)",
};

/** Which end of a label is at a place, percent of the width: at the edges the one that keeps it inside. */
const anchorAt = (share: number): "start" | "middle" | "end" => (share < 4 ? "start" : share > 96 ? "end" : "middle");
/** The same in a narrow pane, where half an hour's text is up to an eighth of the width. */
const narrowAnchorAt = (share: number): "near-start" | "near-end" | undefined =>
	share < 13 ? "near-start" : share > 87 ? "near-end" : undefined;

/** The most hours that have a number each; of more every second or third has one. */
const MOST_HOURS = 6;
/** Of the width of the narrowest pane, percent: a letter. */
const NARROW_LETTER = 3.2;

/** Whether the hours' numbers would touch each other in the narrowest pane: then every second of them is left out. */
function isCrowded(hours: readonly { readonly text: string; readonly share: number }[]): boolean {
	const ends = hours.map(({ text, share }) => {
		const wide = text.length * NARROW_LETTER;
		const anchor = narrowAnchorAt(share);
		const left = anchor === "near-start" ? share : anchor === "near-end" ? share - wide : share - wide / 2;
		return [left, left + wide + NARROW_LETTER] as const;
	});
	return ends.some(([left], i) => left < (ends[i - 1]?.[1] ?? left));
}

/** Pixels of a letter, at most as wide as they are in bold. */
const LETTER = 7.6;
/** Pixels between a bar and its name, and between the name and its times. */
const BESIDE = 8;

/**
 * The part of the width that a step's name needs, percent, in the narrowest pane of each way in which it is shown: cut
 * short, whole, with its times, and as long as on a page. Where neither side of its bar has it, it is written on the bar.
 */
function shareOfName(label: string, text: string): number {
	const named = (most: number): number => Math.min(label.length, most) * LETTER + BESIDE;
	const times = text.length * LETTER + BESIDE;
	return (
		100 *
		Math.max(
			named(LONGEST_IN_A_NARROW_PANE) / 240,
			named(LONGEST_STEP) / 401,
			(named(LONGEST_STEP) + times) / 720,
			(named(LONGEST_ON_A_PAGE) + times) / 980,
		)
	);
}

/** Where a step's name begins or ends. */
function besideBar(from: number, until: number, needs: number): { at: number; dx: number; anchor: "start" | "end" } {
	if (Math.max(from, 100 - until) < needs) return { at: from, dx: 6, anchor: "start" };
	return 100 - until >= from ? { at: until, dx: BESIDE, anchor: "start" } : { at: from, dx: -6, anchor: "end" };
}

export function Timeline({ view, still = false }: { readonly view: TimelineView; readonly still?: boolean }) {
	const share = (time: number): number => (100 * (time - view.from)) / (view.until - view.from);
	const x = (time: number): string => `${Math.round(share(time) * 100) / 100}%`;
	/** The Sun from 20° above to 30° below the horizon. */
	const y = (altitude: number): number => Math.min(SUN, Math.max(0, ((20 - altitude) / 50) * SUN));
	const steps = view.rows.filter(isStep);
	const others = view.rows.filter((row) => !isStep(row));
	const stepsTop = SUN + others.length * ROW + (steps.length > 0 ? 8 : 0);
	const height = stepsTop + steps.length * STEP_ROW + HOURS;
	const floor = y(-30);
	const curveOf = (heights: TimelineView["sun"]): string =>
		heights.map(([at, altitude]) => `L${share(at).toFixed(2)} ${y(altitude).toFixed(1)}`).join("");
	const said = [
		...view.rows.map(({ label, text }) => told(words.row({ label, text }))),
		...view.moments.map(({ label, clock }) => told(words.moment({ label, clock }))),
	].join("; ");
	// A picture on its own has no clock to go by.
	const nowAt = still || view.at === undefined ? "-10" : x(view.at);
	const every = Math.ceil(view.hours.length / MOST_HOURS);
	const numbered = view.hours.filter((_, i) => i % every === 0);
	const crowded = isCrowded(numbered.map(({ at, text }) => ({ text, share: share(at) })));
	return (
		<figure class="chart">
			<Picture
				id="timeline"
				width="100%"
				height={height}
				data-from={view.from}
				data-until={view.until}
				title={told(words.timelineTitle())}
				says={told(words.timeline({ words: said }))}
			>
				{view.dark.map(({ from, until }) => (
					<rect
						key={from}
						x={x(from)}
						width={`${Math.round((share(until) - share(from)) * 100) / 100}%`}
						height={height - HOURS}
						fill="var(--panel)"
					/>
				))}
				<svg aria-hidden="true" width="100%" height={SUN} viewBox={`0 0 100 ${SUN}`} preserveAspectRatio="none">
					<path
						d={`M0 ${floor}${curveOf(view.sun)}L100 ${floor}Z`}
						fill="var(--band)"
						stroke="var(--ochre)"
						stroke-width={1.4}
						vector-effect="non-scaling-stroke"
					/>
					{view.moon.some(([, altitude]) => altitude > -0.5) && (
						<path
							d={curveOf(view.moon).replace("L", "M")}
							fill="none"
							stroke="var(--ochre)"
							stroke-width={1.2}
							stroke-dasharray="7 4"
							vector-effect="non-scaling-stroke"
						/>
					)}
				</svg>
				{[0, -6, -12, -18].map((altitude) => (
					<g key={altitude}>
						<line x1="0" x2="100%" y1={y(altitude)} y2={y(altitude)} stroke="var(--line)" />
						{(altitude === 0 || altitude === -18) && (
							<text x={4} y={y(altitude) - 3}>
								{told(words.sunAt({ altitude: String(altitude).replace("-", "−") }))}
							</text>
						)}
					</g>
				))}
				{view.hours.map(({ at, text }, i) => (
					<g key={at} class={crowded && (i / every) % 2 === 1 ? "between" : undefined}>
						<line x1={x(at)} x2={x(at)} y1={SUN} y2={height - HOURS} stroke="var(--line)" stroke-width={0.7} />
						{i % every === 0 && (
							<text x={x(at)} y={height - 6} text-anchor={anchorAt(share(at))} class={narrowAnchorAt(share(at))}>
								{text}
							</text>
						)}
					</g>
				))}
				{others.map(({ label, kind, intervals, text }, i) => {
					const top = SUN + i * ROW;
					return (
						<g key={label}>
							{intervals.map(({ from, until }) => (
								<rect
									key={from}
									x={x(from)}
									y={top + 20}
									width={`${Math.max(0.3, Math.round((share(until) - share(from)) * 100) / 100)}%`}
									height={12}
									fill={FILL[kind]}
									stroke={kind === "target" ? "var(--soft)" : undefined}
									rx={2}
								/>
							))}
							<text x={4} y={top + 15}>
								<Name label={label} most={LONGEST_ROW} />
								<tspan class="times quiet" dx={8}>
									{text}
								</tspan>
							</text>
						</g>
					);
				})}
				{steps.map(({ label, kind, intervals: [bar], text }, i) => {
					if (!bar) return null;
					const top = stepsTop + i * STEP_ROW;
					const name = besideBar(share(bar.from), share(bar.until), shareOfName(label, text));
					return (
						<g key={`${label} ${bar.from}`}>
							<rect
								x={x(bar.from)}
								y={top + 4}
								width={`${Math.max(0.5, Math.round((share(bar.until) - share(bar.from)) * 100) / 100)}%`}
								height={13}
								fill={FILL[kind]}
								rx={2}
							/>
							<text
								x={`${Math.round(name.at * 100) / 100}%`}
								dx={name.dx}
								y={top + 15}
								text-anchor={name.anchor}
								class={kind === "step" ? undefined : "strong"}
							>
								<Name label={label} most={LONGEST_STEP} />
								<tspan class="short" display="none">
									{shortened(label, LONGEST_IN_A_NARROW_PANE)}
								</tspan>
								<tspan class="step-times quiet" dx={8}>
									{text}
								</tspan>
							</text>
						</g>
					);
				})}
				<line id="now" x1={nowAt} x2={nowAt} y1={0} y2={height - HOURS} stroke="var(--ochre)" stroke-width={2} />
			</Picture>
			<figcaption>{told(words.timelineCaption())}</figcaption>
		</figure>
	);
}

/** A name as it has room, and as it has room on a page. */
const Name = ({ label, most }: { readonly label: string; readonly most: number }) =>
	label.length <= most ? (
		<tspan class="name">{label}</tspan>
	) : (
		<>
			<tspan class="name cut">{shortened(label, most)}</tspan>
			<tspan class="long" display="none">
				{shortened(label, LONGEST_ON_A_PAGE)}
			</tspan>
		</>
	);

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
