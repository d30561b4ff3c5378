/** The page: the reckoning for people, on a screen, on paper, in the dark. Text of the plan is escaped by the renderer. */
import type { JSX } from "preact";
import { renderToString } from "preact-render-to-string";
import { ErrorEllipse, SideView, TurnView } from "./alignment-pictures.tsx";
import { Panorama } from "./panorama.tsx";
import { STYLE } from "./style.ts";
import { Moments, Timeline } from "./timeline.tsx";
import { Trail } from "./trail.tsx";
import type { FindingView, MethodView, PageView, TableView } from "./view.ts";

/** The body of the page, for the editor's webview: patched as the plan changes. */
export const pageBody = (view: PageView): string => renderToString(<Page view={view} />);

export interface DocumentParts {
	readonly script: string;
	/** Source of the policy that lets the script and the style run: a hash each. */
	readonly scriptHash: string;
	readonly styleHash: string;
}

/** One self-contained file: opens from disk, asks for nothing. */
export function pageDocument(view: PageView, { script, scriptHash, styleHash }: DocumentParts): string {
	const policy = `default-src 'none'; style-src '${styleHash}'; script-src '${scriptHash}'; img-src data:; base-uri 'none'; form-action 'none'`;
	const title = view.title.replace(/&/g, "&amp;").replace(/</g, "&lt;");
	return `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="referrer" content="no-referrer">
<title>${title}</title>
<style>${STYLE}</style>
</head>
<body>
<main id="page">${pageBody(view)}</main>
<script>${script}</script>
</body>
</html>
`;
}

export { STYLE };

/** Pictures by name, each as one file. */
export const PICTURES = {
	panorama: ({ panorama }) => panorama && <Panorama view={panorama} />,
	timeline: ({ timeline }) => timeline && <Timeline view={timeline} />,
	"side-view": ({ alignment }) => alignment && <SideView view={alignment} />,
	"turn-view": ({ alignment }) => alignment?.turn && <TurnView turn={alignment.turn} />,
	"error-ellipse": ({ alignment }) => alignment && <ErrorEllipse view={alignment.ellipse} />,
	trail: ({ trail }) => trail && <Trail view={trail} />,
} as const satisfies Readonly<Record<string, (view: PageView) => JSX.Element | false | undefined>>;

export type PictureName = keyof typeof PICTURES;

/** A picture of the page as an SVG file; undefined when the plan does not hold enough for it. */
export function pictureDocument(name: PictureName, view: PageView): string | undefined {
	const drawn = PICTURES[name](view);
	const svg = drawn && /<svg[\s\S]*<\/svg>/.exec(renderToString(drawn))?.[0];
	if (!svg) return undefined;
	const [width = "0", height = "0"] = (/viewBox="[-\d.]+ [-\d.]+ ([\d.]+) ([\d.]+)"/.exec(svg) ?? []).slice(1);
	return `<?xml version="1.0" encoding="UTF-8"?>\n${svg.replace("<svg", `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}"`).replace(/>/, `><style>${STYLE}</style>`)}\n`;
}

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
							Dim red
						</button>
					</p>
				</div>
			</header>
			{view.methods[0] && <MethodPart method={view.methods[0]} first />}
			{view.timeline && (
				<section aria-labelledby="night-heading">
					<h2 id="night-heading">The night</h2>
					<Timeline view={view.timeline} />
					<Moments view={view.timeline} />
				</section>
			)}
			{view.cautions.length > 0 && (
				<section aria-labelledby="care-heading">
					<h2 id="care-heading">Take care</h2>
					<ul class="plain care">
						{view.cautions.map((caution) => (
							<li key={caution}>{caution}</li>
						))}
					</ul>
				</section>
			)}
			{view.panorama && (
				<section aria-labelledby="view-heading" class="screen">
					<h2 id="view-heading">As one stands there</h2>
					<Panorama view={view.panorama} />
					<div class="slider">
						<label for="time">Clock</label>
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
					<h2 id="axis-heading">The axis</h2>
					<div class="two">
						<SideView view={view.alignment} />
						{view.alignment.turn && <TurnView turn={view.alignment.turn} />}
						<ErrorEllipse view={view.alignment.ellipse} />
						{view.trail && <Trail view={view.trail} />}
					</div>
				</section>
			)}
			{view.methods.slice(1).map((method) => (
				<MethodPart key={method.line} method={method} first={false} />
			))}
			{view.methods.length > 1 && <Compared methods={view.methods} />}
			<Findings findings={view.findings} />
			{view.notes.map((note) => (
				<section key={note}>
					<h2>Notes</h2>
					<p class="note">{note}</p>
				</section>
			))}
			<section aria-labelledby="figures-heading" class="screen">
				<h2 id="figures-heading">All figures</h2>
				{view.tables.map((table) => (
					<details key={table.line} data-line={table.line}>
						<summary>{table.name === table.kind ? table.kind : `${table.kind}: ${table.name}`}</summary>
						<Values groups={table.groups} />
					</details>
				))}
			</section>
		</>
	);
}

/** Figures in tables, one for each thing they belong to. */
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

function MethodPart({ method, first }: { readonly method: MethodView; readonly first: boolean }) {
	return (
		<section data-line={method.line}>
			<h2>
				{first ? "Align: " : "Else: "}
				{method.kind}
			</h2>
			<p class="soft">
				Works {method.windows}. Leaves {method.error} of axis error (95 %). Needs {method.needs}.
			</p>
			{!method.works && method.why !== "" && (
				<p>
					<span class="error-word">Does not work tonight:</span> {method.why}
				</p>
			)}
			<Steps method={method} />
		</section>
	);
}

/** The steps of a way to align, numbered, each with its number to set. */
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

function Compared({ methods }: { readonly methods: readonly MethodView[] }) {
	return (
		<section class="screen">
			<h2>Ways compared</h2>
			<table>
				<thead>
					<tr>
						<th>way</th>
						<th>axis error, 95 %</th>
						<th>works</th>
						<th class="how">needs</th>
					</tr>
				</thead>
				<tbody>
					{methods.map(({ kind, error, windows, needs, works, why, line }) => (
						<tr key={line}>
							<td>{kind}</td>
							<td class="value">{error}</td>
							<td>{works ? windows : why || "not as planned"}</td>
							<td class="how">{needs}</td>
						</tr>
					))}
				</tbody>
			</table>
		</section>
	);
}

/** What a severity means to who reads it. */
export const WORD = { error: "cannot work", warning: "will disappoint", info: "good to know" } as const;

function Findings({ findings }: { readonly findings: readonly FindingView[] }) {
	return (
		<section aria-labelledby="findings-heading">
			<h2 id="findings-heading">Findings</h2>
			{findings.length === 0 && <p>Nothing to mend.</p>}
			<ul class="plain">
				{findings.map(({ severity, message, code, line }) => (
					<li key={`${line} ${code} ${message}`}>
						<span class={`${severity}-word`}>{WORD[severity]}:</span> {message}{" "}
						<button type="button" class="go" data-line={line} aria-label={`Go to line ${line}`}>
							line {line}
						</button>{" "}
						<span class="soft">{code}</span>
					</li>
				))}
			</ul>
		</section>
	);
}
