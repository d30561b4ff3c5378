/** The page: the evaluation for people, on a screen, on paper, in the dark. Text of the plan is escaped by the renderer. */
import { renderToString } from "preact-render-to-string";
import { told } from "../../text/sentence.ts";
import { shown } from "../../text/shown.ts";
import { type EveningRow, eveningTitle, timesOf } from "../evening.ts";
import { type LostView, NUMBERS } from "../lost.ts";
import { methodHeading, methodStateText } from "../method-state.ts";
import type { MinutesView } from "../minutes.ts";
import { everyCountText, severityWord } from "../severity.ts";
import { ErrorEllipse, SideView, TurnView } from "./alignment-pictures.tsx";
import { Panorama } from "./panorama.tsx";
import { Moments, Timeline } from "./timeline.tsx";
import { Trail } from "./trail.tsx";
import type { FindingView, MethodView, PageView, TableView } from "./view.ts";
import { words } from "./words.ts";

/** The body of the page, for the editor's webview: patched as the plan changes. */
export const pageBody = (view: PageView): string => shown(renderToString(<Page view={view} />));

/** A line of a note: where it is indented by tabs, by blanks. */
const untabbed = (line: string): string => line.replace(/\t/g, "    ");

function Page({ view }: { readonly view: PageView }) {
	return (
		<>
			<header>
				<div>
					<h1>{view.title}</h1>
					<p class="soft">{view.where}</p>
					{view.summary !== "" && <p>{view.summary}</p>}
				</div>
				<div>
					<p class={`verdict ${view.verdict.worst ?? ""}`}>{view.verdict.text}</p>
					<p class="screen">
						<button type="button" id="dim" aria-pressed="false">
							{told(words.dim())}
						</button>
					</p>
				</div>
			</header>
			{view.cautions.length > 0 && (
				<section aria-labelledby="care-heading">
					<h2 id="care-heading">{told(words.cautions())}</h2>
					<ul class="plain care">
						{view.cautions.map((caution) => (
							<li key={caution}>{caution}</li>
						))}
					</ul>
				</section>
			)}
			{view.evening.length > 0 && <EveningPart rows={view.evening} />}
			{view.methods[0] && <MethodPart method={view.methods[0]} place={0} />}
			{view.timeline && (
				<section aria-labelledby="night-heading">
					<h2 id="night-heading">{told(words.night())}</h2>
					<Timeline view={view.timeline} />
					<Moments view={view.timeline} />
				</section>
			)}
			{view.panorama && (
				<section aria-labelledby="view-heading" class="screen">
					<h2 id="view-heading">{told(words.panorama())}</h2>
					<Panorama view={view.panorama} />
					<div class="slider">
						<label for="time">{told(words.clock())}</label>
						<input
							id="time"
							type="range"
							min={view.panorama.from}
							max={view.panorama.until}
							step={60_000}
							value={view.panorama.at}
						/>
						<output id="clock" for="time">
							{new Date(Math.round((view.panorama.at + view.panorama.offset) / 60_000) * 60_000)
								.toISOString()
								.slice(11, 16)}
						</output>
					</div>
				</section>
			)}
			{view.alignment && (
				<section aria-labelledby="axis-heading" class="screen">
					<h2 id="axis-heading">{told(words.axis())}</h2>
					<div class="two">
						<SideView view={view.alignment} />
						{view.alignment.turn && <TurnView turn={view.alignment.turn} />}
						{view.alignment.ellipse && <ErrorEllipse view={view.alignment.ellipse} />}
						{view.trail && <Trail view={view.trail} />}
					</div>
				</section>
			)}
			{view.methods.slice(1).map((method, i) => (
				<MethodPart key={method.line} method={method} place={i + 1} />
			))}
			{view.lost && <LostPart view={view.lost} />}
			{view.methods.length > 1 && <Compared methods={view.methods} />}
			<Findings findings={view.findings} />
			{view.notes.map((note) => (
				<section key={note}>
					<h2>{told(words.notes())}</h2>
					<p class="note">
						{note
							.trimEnd()
							.split(/\r\n|[\n\r]/)
							.flatMap((line, i) => (i === 0 ? [untabbed(line)] : [<br key={i} />, untabbed(line)]))}
					</p>
				</section>
			))}
			<section aria-labelledby="figures-heading" class="screen">
				<h2 id="figures-heading">{told(words.values())}</h2>
				{view.tables.map((table) => (
					<details key={table.line} data-line={table.line}>
						<summary>{table.name === table.kind ? table.kind : told(words.table(table))}</summary>
						<Values groups={table.groups} />
						{table.kind !== "method" && <Minutes tables={table.minutes} />}
					</details>
				))}
			</section>
		</>
	);
}

/** The evening, step by step. */
export const EveningPart = ({ rows }: { readonly rows: readonly EveningRow[] }) => (
	<section aria-labelledby="evening-heading">
		<h2 id="evening-heading">{eveningTitle()}</h2>
		<table class="evening">
			<tbody>
				{rows.map((row, i) => (
					<tr key={`${row.from} ${i}`} class={row.kind} {...(row.line !== undefined && { "data-line": row.line })}>
						<td class="value">{timesOf(row)}</td>
						<td>{row.say}</td>
						<td class="how">{row.about}</td>
					</tr>
				))}
			</tbody>
		</table>
	</section>
);

/** How an alignment that is lost is done again. */
const LostPart = ({ view: { title, head, rows } }: { readonly view: LostView }) => (
	<section aria-labelledby="lost-heading" class="if-lost">
		<h2 id="lost-heading">{title}</h2>
		<table class="lost">
			<thead>
				<tr>
					{head.map((label) => (
						<th key={label}>{label}</th>
					))}
				</tr>
			</thead>
			<tbody>
				{rows.map((row) => (
					<tr key={row.join()}>
						{row.map((text, i) => (
							<td key={head[i]} class={i === NUMBERS ? "value" : undefined}>
								{text}
							</td>
						))}
					</tr>
				))}
			</tbody>
		</table>
	</section>
);

/** Values in tables, one for each thing they belong to. */
export const Values = ({ groups }: Pick<TableView, "groups">) => (
	<>
		{groups.map(({ of, rows }) => (
			<div key={of}>
				{of !== "" && <h3>{of}</h3>}
				<table>
					<tbody>
						{rows.map(({ label, text, how, id }, i) => (
							<tr key={`${id} ${i}`}>
								<td>{label}</td>
								<td class="value">{text}</td>
								<td class="how">{how}</td>
							</tr>
						))}
					</tbody>
				</table>
			</div>
		))}
	</>
);

function MethodPart({ method, place }: { readonly method: MethodView; readonly place: number }) {
	if (!method.works)
		return (
			<section data-line={method.line}>
				<p class="error-word">{methodStateText(method)}</p>
			</section>
		);
	return (
		<section data-line={method.line}>
			<h2>{methodHeading(place, method.kind)}</h2>
			<p class="soft">{methodStateText(method)}</p>
			{method.notCleared !== "" && <p class="not-cleared">{method.notCleared}</p>}
			<Steps method={method} />
			<Minutes tables={method.minutes} />
		</section>
	);
}

/** The steps of a method, numbered, each with its number to set. */
export const Steps = ({ method }: { readonly method: MethodView }) => (
	<ol class="steps">
		{method.steps.map(({ say, number }) => (
			<li key={say}>
				<span>{say}</span>
				{number !== "" && <span class="number">{number}</span>}
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
				<table>
					<thead>
						<tr>
							{head.map((label) => (
								<th key={label}>{label}</th>
							))}
						</tr>
					</thead>
					<tbody>
						{rows.map(({ planned, columns }) => (
							<tr key={columns[0]}>
								{columns.map((text, i) => (
									<td key={head[i]} class={planned ? "value" : undefined}>
										{text}
									</td>
								))}
							</tr>
						))}
					</tbody>
				</table>
			</details>
		))}
	</>
);

function Compared({ methods }: { readonly methods: readonly MethodView[] }) {
	return (
		<section class="screen">
			<h2>{told(words.methods())}</h2>
			<table>
				<thead>
					<tr>
						<th>{told(words.method())}</th>
						<th>{told(words.error())}</th>
						<th>{told(words.works())}</th>
						<th class="how">{told(words.needs())}</th>
					</tr>
				</thead>
				<tbody>
					{methods.map(({ kind, error, windows, needs, works, why, line }) => (
						<tr key={line}>
							<td>{kind}</td>
							<td class="value">{error}</td>
							<td>{works ? windows : why || told(words.fails())}</td>
							<td class="how">{needs}</td>
						</tr>
					))}
				</tbody>
			</table>
		</section>
	);
}

/** A finding after what it means. */
export const FindingText = ({ severity, message }: Pick<FindingView, "severity" | "message">) => (
	<>
		<span class={`${severity}-word`}>{told(words.finding({ word: severityWord(severity) }))}</span> {message}
	</>
);

function Findings({ findings }: { readonly findings: readonly FindingView[] }) {
	return (
		<section aria-labelledby="findings-heading">
			<h2 id="findings-heading">{told(words.findings())}</h2>
			{findings.length === 0 && <p>{everyCountText({ error: 0, warning: 0, info: 0 })}</p>}
			<ul class="plain">
				{findings.map(({ severity, message, code, line }) => (
					<li key={`${line} ${code} ${message}`}>
						<FindingText severity={severity} message={message} />{" "}
						<button type="button" class="go" data-line={line} aria-label={told(words.goTo({ line }))}>
							{told(words.line({ line }))}
						</button>{" "}
						<span class="soft">{code}</span>
					</li>
				))}
			</ul>
		</section>
	);
}
