/** The page: the evaluation for people, on a screen, on paper, in the dark. Text of the plan is escaped by the renderer. */
import type { JSX } from "preact";
import { renderToString } from "preact-render-to-string";
import { told } from "../../text/sentence.ts";
import { shown } from "../../text/shown.ts";
import { type EveningRow, eveningTitle } from "../evening.ts";
import { type LostView, NUMBERS } from "../lost.ts";
import { methodHeading, methodStateText } from "../method-state.ts";
import type { MinutesView } from "../minutes.ts";
import type { PanelsView } from "../panels.ts";
import { severityWord } from "../severity.ts";
import { type Shot, shotParts, shotsTitle } from "../shot-list.ts";
import { ErrorEllipse, SideView, TurnView } from "./alignment-pictures.tsx";
import { AllSky } from "./all-sky.tsx";
import { ClockSlider } from "./clock-slider.tsx";
import { FinderChart } from "./finder-chart.tsx";
import { FramePicture } from "./frame-picture.tsx";
import { Note } from "./note.tsx";
import { Panorama } from "./panorama.tsx";
import { PoleDial } from "./pole-dial.tsx";
import { Moments, Timeline } from "./timeline.tsx";
import { Trail } from "./trail.tsx";
import type { FindingView, MethodView, PageView, TableView } from "./view.ts";
import { words } from "./words.ts";

/** The body of the page, for the editor's webview: patched as the plan changes. */
export const pageBody = (view: PageView): string => shown(renderToString(<Page view={view} />));

/** What is shown of a plan that cannot be drawn: what was found in it, and what it lacks. */
export const insteadOfPage = (view: PageView): string =>
	shown(
		renderToString(
			<>
				<header>
					<div>
						<h1>{view.title}</h1>
					</div>
				</header>
				<First view={view} />
			</>,
		),
	);

/** A word that goes to a line of the plan, where the page is shown beside it. */
const Go = ({ line, children }: { readonly line: number; readonly children: string }) => (
	<span data-go={line} title={told(words.goTo({ line }))}>
		{children}
	</span>
);

/** What it is about, which stands before its colon, is seen at once. */
function Caution({ text }: { readonly text: string }) {
	const colon = text.indexOf(":") + 1;
	return (
		<li>
			<strong>{text.slice(0, colon)}</strong>
			{text.slice(colon)}
		</li>
	);
}

/** A heading; in the editor it goes to what it is of. */
const Heading = ({
	id,
	line,
	text,
}: {
	readonly id?: string;
	readonly line?: number | undefined;
	readonly text: string;
}) => <h2 id={id}>{line === undefined ? text : <Go line={line}>{text}</Go>}</h2>;

function Page({ view }: { readonly view: PageView }) {
	const { first, corrections, fallbacks } = methodsInParts(view);
	return (
		<>
			<header data-line={view.lines.plan}>
				<div>
					<h1>{view.title}</h1>
					<p class="soft">{view.where}</p>
					{view.summary !== "" && <p>{view.summary}</p>}
				</div>
				<DimButton />
			</header>
			<First view={view} />
			<Care cautions={view.cautions} />
			{view.evening.length > 0 && <EveningPart rows={view.evening} />}
			{first && <MethodPart method={first} place={0} />}
			{corrections.map((method) => (
				<MethodPart key={method.line} method={method} place={1} />
			))}
			{view.shots.length > 0 && <Shots shots={view.shots} line={view.lines.targets} />}
			{fallbacks.length > 0 && <Fallbacks methods={fallbacks} />}
			{view.lost && <LostPart view={view.lost} />}
			{first?.alignment && (
				<section aria-labelledby="axis-heading" class="method-picture">
					<Heading id="axis-heading" line={first.line} text={told(words.axis())} />
					<div class="two">
						<SideView view={first.alignment} />
						{first.alignment.dial && <PoleDial view={first.alignment.dial} />}
						{first.finder && <FinderChart view={first.finder} />}
						{first.alignment.turn && <TurnView turn={first.alignment.turn} />}
						{first.alignment.ellipse && (
							<div class="screen">
								<ErrorEllipse view={first.alignment.ellipse} />
							</div>
						)}
						{view.trail && (
							<div class="screen">
								<Trail view={view.trail} />
							</div>
						)}
					</div>
				</section>
			)}
			{view.panorama && (
				<section aria-labelledby="view-heading" class="screen" data-line={view.lines.site}>
					<Heading id="view-heading" line={view.lines.site} text={told(words.panorama())} />
					<Panorama view={view.panorama} />
					<ClockSlider view={view.panorama} />
					<AllSky view={view.panorama} />
				</section>
			)}
			{view.frames.length > 0 && (
				<section aria-labelledby="frames-heading" class="screen" data-line={view.lines.targets}>
					<Heading id="frames-heading" line={view.lines.targets} text={told(words.framesHeading())} />
					<div class="two">
						{view.frames.map((frame) => (
							<div key={frame.line} class={frame.panels.length > 0 ? "wide" : undefined} data-line={frame.line}>
								<FramePicture view={frame} />
							</div>
						))}
					</div>
				</section>
			)}
			{view.timeline && (
				<section aria-labelledby="night-heading" class="screen" data-line={view.lines.night}>
					<Heading id="night-heading" line={view.lines.night} text={told(words.nightHeading())} />
					<Timeline view={view.timeline} />
					<Moments view={view.timeline} />
				</section>
			)}
			{view.notes.map((note, i) => (
				<section key={`${i} ${note}`} data-line={view.lines.notes[i]}>
					<Heading line={view.lines.notes[i]} text={told(words.notes())} />
					<Note note={note} />
				</section>
			))}
			<section aria-labelledby="values-heading" class="screen">
				<h2 id="values-heading">{told(words.values())}</h2>
				{view.tables.map((table) => (
					<details key={table.line} data-line={table.line}>
						<summary>{table.name === table.kind ? table.kind : told(words.table(table))}</summary>
						<p>
							<Go line={table.line}>{told(words.line({ line: table.line }))}</Go>
						</p>
						<Values groups={table.groups} />
						{table.kind !== "method" && <Minutes tables={table.minutes} />}
					</details>
				))}
			</section>
		</>
	);
}

/** What one has to know first: whether it works, what is next, how the axis is set, what was found. */
function First({ view }: { readonly view: PageView }) {
	const [method] = view.methods;
	return (
		<div class="first">
			<p class={`verdict ${view.verdict.worst ?? ""}`}>{view.verdict.sentence}</p>
			{view.missing !== "" && <p>{view.missing}</p>}
			{view.next[0] && (
				<p class="next" id="next" data-steps={JSON.stringify(view.next)}>
					{view.next[0].text}
				</p>
			)}
			{method && <p>{method.works ? view.methodLine : coded(methodStateText(method))}</p>}
			{method?.works && method.notCleared !== "" && <p class="not-cleared">{method.notCleared}</p>}
			{view.findings.length > 0 && <Findings findings={view.findings} />}
		</div>
	);
}

/** A name as no column can hold it: in such a table words are broken anywhere, in others nowhere. */
const LONG_WORD = /\S{25}/;
const named = (table: string, texts: readonly string[]): string =>
	texts.some((text) => LONG_WORD.test(text)) ? `${table} long` : table;

/** The evening, step by step: when, how long, what, and its numbers. */
export const EveningPart = ({ rows }: { readonly rows: readonly EveningRow[] }) => (
	<section aria-labelledby="evening-heading">
		<h2 id="evening-heading">{eveningTitle()}</h2>
		<table
			class={named(
				"evening",
				rows.map(({ say }) => say),
			)}
		>
			<tbody>
				{rows.map((row, i) => (
					<tr key={`${row.from} ${i}`} class={row.kind} data-line={row.line}>
						<td class="value">{row.times}</td>
						<td class="how">{row.duration}</td>
						<td>{row.line === undefined ? row.say : <Go line={row.line}>{row.say}</Go>}</td>
						<td class="how">{row.about}</td>
					</tr>
				))}
			</tbody>
		</table>
	</section>
);

/** What may be wider than the page: it is scrolled by itself, by keyboard too. */
const Wide = ({ children }: { readonly children: JSX.Element }) => (
	// biome-ignore lint/a11y/noNoninteractiveTabindex: without it a keyboard cannot scroll it
	<div class="scroll" tabIndex={0}>
		{children}
	</div>
);

/** Turns the dim red light on and off, where there is a script. */
export const DimButton = () => (
	<p class="screen">
		<button type="button" id="dim" aria-pressed="false">
			{told(words.dim())}
		</button>
	</p>
);

/** The cautions, before what they are for. */
export const Care = ({ cautions }: Pick<PageView, "cautions">) =>
	cautions.length === 0 ? null : (
		<section aria-labelledby="care-heading">
			<h2 id="care-heading">{told(words.cautions())}</h2>
			<ul class="plain care">
				{cautions.map((caution) => (
					<Caution key={caution} text={caution} />
				))}
			</ul>
		</section>
	);

/** The head of a table. */
const TableHead = ({ labels }: { readonly labels: readonly string[] }) => (
	<thead>
		<tr>
			{labels.map((label) => (
				<th key={label}>{label}</th>
			))}
		</tr>
	</thead>
);

/** How an alignment that is lost is done again. */
export const LostPart = ({ view: { title, head, rows } }: { readonly view: LostView }) => (
	<section aria-labelledby="lost-heading" class="if-lost">
		<h2 id="lost-heading">{title}</h2>
		<Wide>
			<table class="lost">
				<TableHead labels={head} />
				<tbody>
					{rows.map((row) => (
						<tr key={row.join()}>
							{row.map((text, i) => (
								<td key={head[i]} class={i === NUMBERS ? "value" : undefined} data-label={head[i]}>
									{text}
								</td>
							))}
						</tr>
					))}
				</tbody>
			</table>
		</Wide>
	</section>
);

/** The shot list: a block a target, its numbers by name. */
export const Shots = ({ shots, line }: { readonly shots: readonly Shot[]; readonly line: number | undefined }) => (
	<section aria-labelledby="shots-heading" data-line={line}>
		<Heading id="shots-heading" line={line} text={shotsTitle()} />
		<div class="shots">
			{shots.map((shot) => (
				<div key={shot.index} class={shot.panels.length > 0 ? "shot wide" : "shot"} data-line={shot.line}>
					<h3>
						<Go line={shot.line}>{shot.target}</Go>
					</h3>
					<dl>
						{shotParts(shot).map(({ label, text }) => (
							<div key={label}>
								<dt>{label}</dt>
								<dd>{text}</dd>
							</div>
						))}
					</dl>
					{shot.panels.map((panels) => (
						<Panels key={panels.title} panels={panels} />
					))}
				</div>
			))}
		</div>
	</section>
);

/** The panels of a panorama, one a line, as they are taken. */
const Panels = ({ panels: { title, head, rows, due } }: { readonly panels: PanelsView }) => (
	<Wide>
		<table class="panels">
			<caption>{title}</caption>
			<TableHead labels={head} />
			<tbody>
				{rows.map((row, place) => (
					<tr key={row.join()} data-due={due[place]?.at} data-until={due[place]?.until}>
						{row.map((text, i) => (
							<td key={head[i]} data-label={head[i]}>
								{text}
							</td>
						))}
					</tr>
				))}
			</tbody>
		</table>
	</Wide>
);

/** Values in tables, one for each thing they belong to. */
export const Values = ({ groups }: Pick<TableView, "groups">) => (
	<>
		{groups.map(({ of, rows }) => (
			<div key={of}>
				{of !== "" && <h3>{of}</h3>}
				<table
					class={named(
						"values",
						rows.flatMap(({ label, text }) => [label, text]),
					)}
				>
					<tbody>
						{rows.map(({ label, text, how, id }, i) => (
							<tr key={`${id} ${i}`}>
								<td>{label}</td>
								<td class="value">{text}</td>
								<td class="how">{coded(how)}</td>
							</tr>
						))}
					</tbody>
				</table>
			</div>
		))}
	</>
);

/** The method that aligns, what then corrects the axis in the evening, and what is done instead. */
export function methodsInParts({ methods: [first, ...others] }: Pick<PageView, "methods">) {
	const corrects = ({ works, corrects }: MethodView): boolean => works && corrects;
	return {
		first,
		corrections: others.filter(corrects),
		fallbacks: others.filter((one) => !corrects(one)),
	};
}

/** A method with its state and its steps. */
export function MethodPart({ method, place }: { readonly method: MethodView; readonly place: number }) {
	const heading = methodHeading(place, method.name, method.corrects);
	return (
		<section data-line={method.line}>
			<Heading line={method.line} text={heading} />
			<p class={method.works ? "soft" : "error-word"}>{coded(methodStateText(method))}</p>
			{method.works && <MethodBody method={method} />}
		</section>
	);
}

/** What is done, and its numbers by the minute. */
const MethodBody = ({ method }: { readonly method: MethodView }) => (
	<>
		{method.notCleared !== "" && <p class="not-cleared">{method.notCleared}</p>}
		<Steps method={method} />
		<Minutes tables={method.minutes} />
	</>
);

/** The other methods in short: how well and when; what is done is folded up. */
export const Fallbacks = ({ methods }: { readonly methods: readonly MethodView[] }) => (
	<section aria-labelledby="fallbacks-heading">
		<h2 id="fallbacks-heading">{told(words.fallbacks())}</h2>
		{methods.map((method, i) => (
			<div key={method.line} data-line={method.line}>
				<p>
					<strong>
						<Go line={method.line}>{methodHeading(i + 1, method.name, method.corrects)}</Go>
					</strong>{" "}
					{coded(methodStateText(method))}
				</p>
				{method.works && (
					<details class="screen">
						<summary>{told(words.stepsOf({ method: method.name }))}</summary>
						<MethodBody method={method} />
					</details>
				)}
			</div>
		))}
	</section>
);

/** The steps of a method, numbered, each with its number to set. */
export const Steps = ({ method }: { readonly method: MethodView }) => (
	<ol class="steps">
		{method.steps.map(({ say, number, seen }) => (
			<li key={say}>
				<span>{say}</span>
				{number !== "" && <span class={seen ? "seen" : "number"}>{number}</span>}
			</li>
		))}
	</ol>
);

/** A table of at most so many rows is open, and printed. */
const SHORT = 12;

/** Numbers by the minute: looked into by whoever is late. A long table is folded up. */
export const Minutes = ({ tables }: { readonly tables: readonly MinutesView[] }) => (
	<>
		{tables.map(({ title, head, rows }) => (
			<details key={title} class="minutes" open={rows.length <= SHORT}>
				<summary>{title}</summary>
				<Wide>
					<table>
						<TableHead labels={head} />
						<tbody>
							{rows.map(({ at, planned, columns }) => (
								<tr key={columns[0]} data-at={at}>
									{columns.map((text, i) => (
										<td key={head[i]} class={planned ? "value" : undefined}>
											{text}
										</td>
									))}
								</tr>
							))}
						</tbody>
					</table>
				</Wide>
			</details>
		))}
	</>
);

/** A sentence of ours, in which what the plan has between backticks is code. */
export const coded = (sentence: string): readonly (string | JSX.Element)[] =>
	sentence.split(/`([^`]+)`/).map((part, i) => (i % 2 === 0 ? part : <code key={`${i}`}>{part}</code>));

/** A finding after what it means. */
export const FindingText = ({ severity, message }: Pick<FindingView, "severity" | "message">) => (
	<>
		<span class={`${severity}-word`}>{told(words.finding({ word: severityWord(severity) }))}</span> {coded(message)}
	</>
);

const Findings = ({ findings }: { readonly findings: readonly FindingView[] }) => (
	<ul class="plain findings" aria-label={told(words.findings())}>
		{findings.map(({ severity, message, code, line }) => (
			<li key={`${line} ${code} ${message}`} class={severity}>
				<FindingText severity={severity} message={message} /> <Go line={line}>{told(words.line({ line }))}</Go>{" "}
				<span class="soft">{code}</span>
			</li>
		))}
	</ul>
);
