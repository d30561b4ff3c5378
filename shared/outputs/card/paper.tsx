/** The card on paper: one side of A5 with tilt, compass, clock, shots and a good test frame, in black ink alone. */
import { renderToString } from "preact-render-to-string";
import type { EvaluatedNight } from "../../cells/night/night.ts";
import { told } from "../../text/sentence.ts";
import { nightClock } from "../clock.ts";
import { eveningTitle } from "../evening.ts";
import { methodHeading, withinText } from "../method-state.ts";
import type { MinutesView } from "../minutes.ts";
import { coded, methodsInParts } from "../page/page.tsx";
import type { MethodView, PageView } from "../page/view.ts";
import { type Shot, shotsTitle } from "../shot-list.ts";
import { beforeFrames, TestFrame } from "./before-frames.tsx";
import { endOf, HandNumbers, seriousOf } from "./first.tsx";
import type { HandView } from "./hand.ts";
import { SIZES } from "./style.ts";
import { words } from "./words.ts";

interface PaperParts {
	readonly view: PageView;
	readonly hand: HandView | undefined;
	readonly night: EvaluatedNight | undefined;
}

/** As large as one side holds it: without a script, a size that is known when the file is made. */
export function Paper(parts: PaperParts) {
	const text = <PaperText {...parts} />;
	return (
		<div class="paper">
			<div class={`size-${sizeFor(renderToString(text))}`}>{text}</div>
		</div>
	);
}

/** What a side of A5 takes at the least size, as measured in a browser: characters if they ran on, and blocks of one line. */
const SIDE_CHARACTERS = 6900;
const SIDE_BLOCKS = 130;
/** Part of the side that is filled at most by that estimate. */
const FILLED = 0.9;

/** How large the text may be, percent of the least: what it takes grows by the square. */
function sizeFor(html: string): number {
	const characters = html.replace(/<[^>]*>/g, "").length;
	const blocks = html.match(/<(?:h2|p|li|dt|dd|tr|figcaption)\b/g)?.length ?? 0;
	const taken = characters / SIDE_CHARACTERS + blocks / SIDE_BLOCKS;
	return SIZES.findLast((size) => taken * (size / 100) ** 2 <= FILLED) ?? SIZES[0];
}

function PaperText({ view, hand, night }: PaperParts) {
	const { first, corrections, fallbacks } = methodsInParts(view);
	// A group's sheet has nothing but its evening.
	const isSheet = view.methods.length === 0 && view.shots.length === 0;
	const rows = view.evening.filter(({ kind }) => isSheet || kind !== "wait");
	const serious = seriousOf(view);
	return (
		<>
			<h1>{view.title}</h1>
			<p>
				{view.where}
				{night && rows.length > 0 ? `. ${told(words.back({ time: nightClock(night, endOf(rows)) }))}` : ""}
			</p>
			<p>
				<strong>{view.verdict.sentence}</strong> {view.methodLine}
			</p>
			{serious.slice(0, MOST_FINDINGS).map(({ message, line, code }) => (
				<p key={`${line} ${code} ${message}`}>{coded(message)}</p>
			))}
			{first?.works && <NotCleared method={first} />}
			{hand && <HandNumbers hand={hand} />}
			{hand && (hand.latest !== "" || hand.fallbacks.length > 0) && (
				<p>
					<strong>{[hand.latest, ...hand.fallbacks].filter((text) => text !== "").join(" ")}</strong>
				</p>
			)}
			{view.cautions.length > 0 && (
				<p class="care">
					{view.cautions.map((text) => (
						<CautionText key={text} text={text} />
					))}
				</p>
			)}
			{rows.length > 0 && (
				<>
					<h2>{eveningTitle()}</h2>
					<div class="rows">
						{rows.map(({ times, say, about, others = "", from, kind }, i) => (
							<p key={`${from} ${i}`}>
								{times} <strong>{say}</strong> {isSheet || !TOLD_ELSEWHERE.has(kind) ? about : others}
							</p>
						))}
					</div>
				</>
			)}
			{view.shots.length > 0 && (
				<>
					<h2>{shotsTitle()}</h2>
					{view.shots.map((shot) => (
						<PaperShot key={shot.index} shot={shot} />
					))}
				</>
			)}
			{first?.works && <PaperMethod method={first} />}
			{corrections.map((method) => (
				<PaperMethod key={method.line} method={method} />
			))}
			{fallbacks
				.filter(({ works }) => works)
				.map((method, i) => (
					<p key={method.line}>
						<strong>{methodHeading(i + 1, method.name, method.corrects)}.</strong> {method.notCleared} {method.numbers}.{" "}
						{withinText(method.radius95)}.
					</p>
				))}
			{view.shots.length > 0 && (
				<>
					<h2>{told(words.camera())}</h2>
					<p>{beforeFrames([]).join(" ")}</p>
					<TestFrame />
				</>
			)}
		</>
	);
}

/** Their numbers are beside their method and their shot; a look at the camera in the dark is on a star. */
const TOLD_ELSEWHERE: ReadonlySet<string> = new Set(["align", "sky", "check", "test-frame"]);

/** Findings that are printed at most: the worst come first. */
const MOST_FINDINGS = 6;

/** Before the numbers, and again before the steps: paper has no place to look back to. */
const NotCleared = ({ method: { notCleared } }: { readonly method: MethodView }) =>
	notCleared === "" ? null : (
		<p>
			<strong>{notCleared}</strong>
		</p>
	);

const PaperMethod = ({ method }: { readonly method: MethodView }) => (
	<>
		<h2>{methodHeading(method.corrects ? 1 : 0, method.name, method.corrects)}</h2>
		<NotCleared method={method} />
		<ol>
			{method.steps.map(({ say, number }) => (
				<li key={say}>
					{say} {number !== "" && <span class="number">{number}</span>}
				</li>
			))}
		</ol>
		{method.minutes.map((table) => (
			<PaperMinutes key={table.title} table={table} />
		))}
	</>
);

/** Rows by the minute on either side of the planned one; fewer where their texts are long. */
const AROUND = 2;
const LONG = 24;

/** Minutes side by side: fewer lines. */
function PaperMinutes({ table: { head, rows } }: { readonly table: MinutesView }) {
	const planned = rows.findIndex((row) => row.planned);
	const around = rows.some(({ columns }) => columns.some((text) => text.length > LONG)) ? AROUND - 1 : AROUND;
	const from = Math.max(0, Math.min(planned - around, rows.length - 2 * around - 1));
	const shown = rows.slice(from, from + 2 * around + 1);
	// What is the same at any minute is in the steps.
	const varies = head.map((_, i) => shown.some(({ columns }) => columns[i] !== shown[0]?.columns[i]));
	if (varies.filter((one) => one).length < 2) return null;
	return (
		<table class="across">
			<tbody>
				{head.map((label, i) =>
					varies[i] ? (
						<tr key={label}>
							<th>{label}</th>
							{shown.map((row) => (
								<td key={row.at} class={row.planned ? "value" : undefined}>
									{row.columns[i]}
								</td>
							))}
						</tr>
					) : undefined,
				)}
			</tbody>
		</table>
	);
}

/** What it is about, which stands before its colon, is seen at once. */
function CautionText({ text }: { readonly text: string }) {
	const colon = text.indexOf(":") + 1;
	return (
		<>
			<strong>{text.slice(0, colon)}</strong>
			{text.slice(colon)}{" "}
		</>
	);
}

/** What a hand sets for a panel: its place, clock, bearings, altitude and turn. */
const PAPER_COLUMNS = 6;

const PaperShot = ({ shot }: { readonly shot: Shot }) => (
	<div>
		<p>
			<strong>{told(shot.begins === shot.ends ? words.shotAt({ ...shot }) : words.shotFrom({ ...shot }))}</strong>{" "}
			{[shot.pointing, shot.camera, shot.frames, shot.panorama, intervalText(shot)]
				.filter((text) => text !== "")
				.join("; ")}
			.
		</p>
		{shot.panels.map(({ title, head, rows }) => (
			<table key={title} class="panels">
				<tbody>
					<tr>
						{head.slice(0, PAPER_COLUMNS).map((label) => (
							<th key={label}>{label}</th>
						))}
					</tr>
					{rows.map((row) => (
						<tr key={row.join()}>
							{row.slice(0, PAPER_COLUMNS).map((text, i) => (
								<td key={head[i]}>{text}</td>
							))}
						</tr>
					))}
				</tbody>
			</table>
		))}
	</div>
);

/** A single frame has none. */
const intervalText = ({ at, until, interval }: Shot): string =>
	until - at <= interval * 1000 ? "" : told(words.every({ interval: Number(interval.toFixed(1)) }));
