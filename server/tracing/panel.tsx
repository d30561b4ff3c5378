/** The panel in which one traces on a photo: its page, empty; the script fills in what it is told. */
import { renderToString } from "preact-render-to-string";
import type { Evaluation } from "../../shared/evaluate/evaluate.ts";
import { PHOTO_PROJECTIONS } from "../../shared/photo/attitude.ts";
import { TRACED_PARTS } from "../../shared/protocol/tracing.ts";
import { type Phrase, told } from "../../shared/text/sentence.ts";
import { labels } from "./words.ts";

const TOOLS = ["move", "mark", ...TRACED_PARTS] as const;

const ACTIONS = ["undo", "redo", "endLine", "zoomOut", "zoomIn", "fit"] as const;

/** The page's body, and the style that it has beside that of other pages. */
export function tracePanel({ site }: Evaluation): { readonly html: string; readonly style: string } {
	return {
		html: renderToString(
			<Panel about={site ? labels.forSite({ name: site.content.name ?? "" }) : labels.forNoSite()} />,
		),
		style: STYLE,
	};
}

function Panel({ about }: { readonly about: Phrase }) {
	return (
		<main class="trace">
			<header>
				<h1>{told(labels.title())}</h1>
				<p class="soft">{told(about)}</p>
			</header>
			<div class="bar">
				<button type="button" id="choose">
					{told(labels.choose())}
				</button>
				<fieldset id="tools">
					<legend>{told(labels.tools())}</legend>
					{TOOLS.map((tool, i) => (
						<label key={tool}>
							<input type="radio" name="tool" value={tool} checked={i === 1} />
							<span>
								{told(labels[tool]())} <kbd>{i + 1}</kbd>
							</span>
						</label>
					))}
				</fieldset>
				<span class="actions">
					{ACTIONS.map((action) => (
						<button type="button" key={action} id={action}>
							{told(labels[action]())}
						</button>
					))}
				</span>
			</div>
			<p id="said" class="banner" role="status" hidden />
			<div class="work">
				<div class="view">
					<p id="first">{told(labels.first())}</p>
					<div
						id="stage"
						tabindex={0}
						role="application"
						aria-label={told(labels.canvas())}
						aria-describedby="keys"
						hidden
					>
						<canvas id="photo" />
					</div>
					<p class="readout">
						<output id="at" />
						<label class="tonight">
							<input type="checkbox" id="sky" checked /> {told(labels.sky())}
						</label>
					</p>
					<p id="keys" class="soft">
						{told(labels.keys())}
					</p>
				</div>
				<div class="side">
					<p id="camera" aria-live="polite" />
					<ul id="notes" class="plain" aria-live="polite" />
					<section>
						<h2>{told(labels.marks())}</h2>
						<p class="soft">{told(labels.markHelp())}</p>
						<ol
							id="marks"
							data-what={labels.what({ number: "{number}" }).template}
							data-remove={told(labels.remove())}
						/>
						<datalist id="offers" />
					</section>
					<section>
						<h2>{told(labels.lines())}</h2>
						<p class="soft">{told(labels.lineHelp())}</p>
						<ol
							id="lines"
							data-name={labels.name({ number: "{number}" }).template}
							data-remove={told(labels.remove())}
							data-skyline={told(labels.skyline())}
							data-window={labels.windowOf({ name: "{name}" }).template}
							data-opening={told(labels.newOpening())}
							data-obstruction={told(labels.newObstruction())}
						/>
						<button type="button" id="write" disabled>
							{told(labels.write())}
						</button>
					</section>
					<section>
						<h2>{told(labels.photo())}</h2>
						<p id="name" class="soft" />
						<label>
							{told(labels.time())}
							<input id="time" autocomplete="off" spellcheck={false} />
						</label>
						<label>
							{told(labels.focalLength())}
							<input id="focalLength" autocomplete="off" spellcheck={false} />
						</label>
						<label>
							{told(labels.sensor())}
							<input id="sensor" autocomplete="off" spellcheck={false} />
						</label>
						<label>
							{told(labels.projection())}
							<select id="projection">
								{PHOTO_PROJECTIONS.map((one) => (
									<option key={one} value={one}>
										{told(labels[one]())}
									</option>
								))}
							</select>
						</label>
					</section>
				</div>
			</div>
		</main>
	);
}

const STYLE = `
main.trace { max-width: none; padding: 8px 12px; }
.trace header { display: block; } .trace h1 { font-size: 1.2rem; } .trace h2 { margin: 14px 0 4px; font-size: 1rem; } .trace header p { margin: 0 0 6px; }
.trace .bar { display: flex; flex-wrap: wrap; gap: 6px 12px; align-items: center; margin-bottom: 8px; }
.trace .bar button, .trace .side button { padding: 4px 10px; min-height: 36px; }
.trace fieldset { border: 0; margin: 0; padding: 0; display: flex; flex-wrap: wrap; gap: 4px; } .trace legend { float: left; padding: 0 6px 0 0; line-height: 36px; color: var(--soft); }
.trace fieldset input { position: absolute; opacity: 0; width: 1px; height: 1px; }
.trace fieldset span { display: inline-block; padding: 0 10px; line-height: 34px; border: 1px solid var(--line); border-radius: 6px; background: var(--panel); cursor: pointer; }
.trace fieldset input:checked + span { background: var(--ink); color: var(--paper); border-color: var(--ink); }
.trace fieldset input:focus-visible + span { outline: 3px solid var(--focus); outline-offset: 2px; }
.trace kbd { font: inherit; font-size: .8em; color: inherit; background: none; border: 0; box-shadow: none; padding: 0; opacity: .75; }
.trace .actions { display: flex; flex-wrap: wrap; gap: 4px; }
.trace .work { display: grid; grid-template-columns: minmax(0, 1fr) minmax(260px, 340px); gap: 14px; } @media (max-width: 700px) { .trace .work { grid-template-columns: minmax(0, 1fr); } }
.trace canvas { display: block; width: 100%; height: min(72vh, 900px); touch-action: none; background: var(--panel); cursor: crosshair; } .trace #stage[data-tool="move"] canvas { cursor: grab; }
.trace .readout { display: flex; justify-content: space-between; flex-wrap: wrap; gap: 4px 16px; font-variant-numeric: tabular-nums; min-height: 1.5em; }
.trace .side label { display: block; margin: 6px 0; color: var(--soft); font-size: .9rem; } .trace .side input, .trace .side select { display: block; width: 100%; font: inherit; color: var(--ink); background: var(--panel); border: 1px solid var(--line); border-radius: 4px; padding: 6px 8px; min-height: 34px; }
.trace ol { padding-left: 1.6em; margin: 4px 0; } .trace ol li { padding: 4px 0; border-bottom: 1px solid var(--line); } .trace li .row { display: flex; gap: 6px; } .trace li .row input, .trace li .row span { flex: 1; min-width: 0; align-self: center; } .trace li .result { display: block; font-size: .9rem; font-variant-numeric: tabular-nums; } .trace .wrong { color: var(--error); font-weight: 650; }
.trace #camera { font-weight: 650; margin: 0; } .trace #write { margin-top: 8px; }
.trace button:disabled { opacity: .5; cursor: default; }
`;
