/** Colours of each ground. */
const LIGHT = `  --paper: #fbfaf6; --ink: #1c2329; --soft: #5a646d; --line: #d5d2c8; --panel: #f2f0e9;
  --ground: #6b6557; --sky: #e8eef3; --band: #c9d4de; --blue: #1f5f8b; --ochre: #9a5b00; --grey: #4a4f55;
  --error: #8e1b4b; --warning: #8a5200; --info: #1f5f8b; --focus: #1f5f8b;`;
const DARK = `  --paper: #14191e; --ink: #e6e3da; --soft: #a3abb2; --line: #343c44; --panel: #1c232a;
  --ground: #3c3931; --sky: #1b2530; --band: #2c3b4a; --blue: #82b8de; --ochre: #e0a548; --grey: #b6bcc2;
  --error: #f08cb0; --warning: #e8b059; --info: #82b8de; --focus: #82b8de;`;
const CONTRAST = `  --paper: #000000; --ink: #ffffff; --soft: #ffffff; --line: #ffffff; --panel: #000000;
  --ground: #555555; --sky: #000000; --band: #333333; --blue: #9fd4ff; --ochre: #ffc766; --grey: #ffffff;
  --error: #ffb3d1; --warning: #ffd089; --info: #9fd4ff; --focus: #ffffff;`;
/** High contrast on white. */
const CONTRAST_LIGHT = `  --paper: #ffffff; --ink: #000000; --soft: #000000; --line: #000000; --panel: #ffffff;
  --ground: #bbbbbb; --sky: #ffffff; --band: #dddddd; --blue: #003a6b; --ochre: #6b3a00; --grey: #000000;
  --error: #7a0038; --warning: #5c3400; --info: #003a6b; --focus: #000000;`;
/** Red alone: every pixel's green and blue stay at zero. Text on black needs nearly all of it for a contrast of 4.5 to 1. */
const DIM = `  --paper: #000000; --ink: #f40000; --soft: #ee0000; --line: #4d0000; --panel: #080000;
  --ground: #330000; --sky: #080000; --band: #1f0000; --blue: #f40000; --ochre: #b00000; --grey: #a00000;
  --error: #ff0000; --warning: #f40000; --info: #f40000; --focus: #ff0000;`;

/** Text in a picture. */
const TEXT_HEIGHT = "13.5px";
const PICTURE_TEXT = `text { fill: var(--ink); font: ${TEXT_HEIGHT} system-ui, "Segoe UI", Arial, sans-serif; paint-order: stroke; stroke: var(--paper); stroke-width: 3px; stroke-linejoin: round; }
.quiet { fill: var(--soft); } .strong { font-weight: 650; }`;

/** Grounds on which a picture of its own can be drawn. */
export const GROUNDS = { light: LIGHT, dark: DARK } as const;
export type Ground = keyof typeof GROUNDS;

/** Colours put in for their names: viewers of pictures know no CSS variables. */
export function literal(markup: string, ground: Ground): string {
	const colours = new Map([...GROUNDS[ground].matchAll(/(--\w+): (#\w+);/g)].map(([, name, colour]) => [name, colour]));
	return markup.replace(/var\((--\w+)\)/g, (whole, name: string) => colours.get(name) ?? whole);
}
/** The style of a picture of its own. `text`: what its text is high, where that is not as on the page. */
export const pictureStyle = (ground: Ground, text?: string): string =>
	literal(text === undefined ? PICTURE_TEXT : PICTURE_TEXT.replace(TEXT_HEIGHT, text), ground);

/** The table of a lost alignment where it is too narrow for its columns: a row each, the column's name before it. */
export const LOST_IN_ROWS = `.lost, .lost tbody { display: block; } .lost thead { position: absolute; clip-path: inset(50%); max-width: 1px; overflow: hidden; } .lost tr { display: block; border-bottom: 2px solid var(--line); padding: 6px 0; } .lost td { display: grid; grid-template-columns: 9rem minmax(0, 1fr); gap: 0 10px; border: 0; padding: 1px 0; } .lost td::before { content: attr(data-label); color: var(--soft); font-size: .88rem; font-weight: 400; } .lost td:empty { display: none; } .lost td:first-child { font-weight: 650; font-size: 1.15rem; } .lost td { overflow-wrap: break-word; } @media (max-width: 340px) { .lost td, .lost td::before { display: block; } }`;

const CONTENT = `h1 { font-size: 1.7rem; line-height: 1.2; margin: 0 0 4px; font-weight: 650; }
h2 { font-size: 1.1rem; margin: 34px 0 8px; font-weight: 650; border-bottom: 1px solid var(--line); padding-bottom: 4px; }
h3 { font-size: 1rem; margin: 18px 0 6px; font-weight: 650; }
p { margin: 6px 0; }
.soft { color: var(--soft); }
header { display: flex; flex-wrap: wrap; gap: 10px 24px; align-items: flex-start; justify-content: space-between; }
.verdict { font-weight: 650; padding: 2px 0; border-bottom: 3px solid var(--blue); }
.verdict.error { border-color: var(--error); } .verdict.warning { border-color: var(--warning); }
button { font: inherit; color: var(--ink); background: var(--panel); border: 1px solid var(--line); border-radius: 6px; padding: 8px 14px; min-height: 44px; cursor: pointer; }
button:focus-visible, input:focus-visible, summary:focus-visible, [tabindex]:focus-visible { outline: 3px solid var(--focus); outline-offset: 2px; }
.go { cursor: pointer; text-decoration: underline; text-decoration-color: var(--line); text-underline-offset: 3px; } span.go:hover { text-decoration-color: currentColor; } .findings .go { color: var(--blue); text-decoration-color: currentColor; }
.banner { position: sticky; top: 0; z-index: 1; background: var(--panel); color: var(--ink); border: 1px solid var(--line); border-left: 4px solid var(--warning); padding: 8px 12px; margin: 0 0 14px; }
.stale #page { filter: grayscale(1); } .stale #page svg { opacity: .5; } #instead:not(:empty) { border-bottom: 3px solid var(--line); margin-bottom: 24px; padding-bottom: 16px; }
.first { margin-top: 14px; } .first .verdict { font-size: 1.25rem; display: inline-block; } .first .next { font-size: 1.15rem; font-weight: 650; }
.minutes, table:not(.long) :is(th, td:first-child, .value), .number { overflow-wrap: break-word; } .minutes tr > :first-child { overflow-wrap: normal; }
.shots { display: grid; grid-template-columns: repeat(auto-fit, minmax(min(100%, 420px), 1fr)); gap: 4px 28px; } .shot dl { columns: 420px; column-gap: 28px; } .shot dl > div { break-inside: avoid; } .shot.wide { grid-column: 1 / -1; } .panels td { white-space: nowrap; } .shot h3 { margin: 8px 0 2px; } dl { margin: 0; } dl > div { display: flex; flex-wrap: wrap; align-items: baseline; gap: 0 10px; padding: 3px 0; border-bottom: 1px solid var(--line); } dt { flex: 0 1 10.8em; color: var(--soft); font-size: .88rem; } dd { flex: 1 1 9.5em; min-width: 0; margin: 0; font-weight: 650; font-variant-numeric: tabular-nums; }
figure { margin: 0; } figcaption { color: var(--soft); font-size: .9rem; margin-top: 4px; }
svg { display: block; width: 100%; } svg[viewBox] { height: auto; } svg svg { display: inline; height: revert-layer; }
.sky, .chart { container-type: inline-size; } @container (max-width: 719px) { .chart .step-times { display: none; } } @container (max-width: 479px) { .chart .times { display: none; } .chart .near-start { text-anchor: start; } .chart .near-end { text-anchor: end; } } @container (max-width: 420px) { .chart .between text { display: none; } } @container (max-width: 400px) { .chart .name:has(~ .short) { display: none; } .chart .short { display: inline; } } @container (min-width: 980px) { .chart .cut { display: none; } .chart .long { display: inline; } } figure.all-sky { max-width: 600px; margin-top: 12px; } @container (min-width: 440px) { .all-sky svg { --label: 9px; } } .strips-2, .strips-4 { display: none; fill: var(--ink); font: 15px system-ui, "Segoe UI", Arial, sans-serif; } .strips-2 { --label: 15.3px; } .strips-4 { font-size: 16.2px; --label: 16.2px; }
@container (max-width: 979px) { .faint { display: none; } .sky > .whole { position: absolute; visibility: hidden; width: 0; height: 0; } .sky > .strips-2 { display: block; } }
@container (max-width: 489px) { .sky > .strips-2 { display: none; } .sky > .strips-4 { display: block; } }
${PICTURE_TEXT}
text { font-size: var(--label, 13.5px); }
.scroll { overflow-x: auto; } .year svg { min-width: 560px; max-width: 1000px; } .year [role=button] { cursor: pointer; } .year [role=button]:focus-visible { outline: 3px solid var(--focus); } .old .year { opacity: .5; } #night-says { min-height: 1.5em; }
.slider label { flex: none; } .slider .switch { display: flex; align-items: center; gap: 8px; min-height: 44px; } label input[type="checkbox"] { appearance: none; flex: none; min-width: 0; width: 22px; height: 22px; margin: 0; border: 2px solid var(--ink); border-radius: 4px; background: var(--paper); } label input[type="checkbox"]:checked { background: var(--ink); box-shadow: inset 0 0 0 3px var(--paper); } .slider { display: flex; flex-wrap: wrap; gap: 4px 14px; align-items: center; margin: 8px 0; } .slider input { flex: 1; min-width: 120px; height: 36px; } .slider output { font-variant-numeric: tabular-nums; font-size: 1.3rem; font-weight: 650; min-width: 4.2em; }
ol.steps { list-style: none; counter-reset: step; padding: 0; margin: 8px 0; }
ol.steps li { counter-increment: step; display: grid; grid-template-columns: 2.2em minmax(0, 1fr) auto; gap: 4px 12px; padding: 9px 0; border-bottom: 1px solid var(--line); align-items: baseline; }
ol.steps li::before { content: counter(step); font-size: 1.3rem; font-weight: 650; color: var(--soft); font-variant-numeric: tabular-nums; }
ol.steps .number { font-size: 1.6rem; line-height: 1.15; font-weight: 650; font-variant-numeric: tabular-nums; text-align: right; }
ol.steps .seen { text-align: right; font-variant-numeric: tabular-nums; }
.two { columns: 290px; column-gap: 24px; } .two figure { max-width: 430px; break-inside: avoid; padding-bottom: 20px; } .two .wide { column-span: all; } .two figure.wide { max-width: 520px; }
ul.plain { list-style: none; padding: 0; margin: 0; } ul.plain li { padding: 6px 0; border-bottom: 1px solid var(--line); }
.error-word { color: var(--error); font-weight: 650; } .warning-word { color: var(--warning); font-weight: 650; } .info-word { color: var(--info); font-weight: 650; }
table { border-collapse: collapse; width: 100%; font-variant-numeric: tabular-nums; } th, td { text-align: left; vertical-align: top; padding: 4px 10px 4px 0; border-bottom: 1px solid var(--line); font-weight: 400; } td.value { font-weight: 650; white-space: normal; } td.how { color: var(--soft); font-size: .88rem; } .evening td.value { white-space: nowrap; width: 8.5em; } .evening td:nth-child(2) { white-space: nowrap; } .evening:not(.long) { overflow-wrap: break-word; } @media (min-width: 641px) { .evening td:nth-child(3) { width: 30%; } } @media (min-width: 640px) { th, table.lost { overflow-wrap: normal; } .lost td:is(:first-child, :nth-child(3), :nth-child(5)) { white-space: nowrap; } } .evening .wait td { color: var(--soft); font-weight: 400; } .evening .align td, .evening .sky td { font-weight: 650; }
details { margin: 8px 0; } summary { cursor: pointer; min-height: 32px; padding: 4px 0; font-weight: 650; }
.note { background: var(--panel); padding: 10px 14px; border-radius: 6px; }
.care li { padding: 8px 0; }
.not-cleared { border: 2px solid var(--error); border-radius: 6px; padding: 8px 12px; font-weight: 650; }
`;

/**
 * The look of the page: every colour and size in one place. Quiet and typographic; hues from blue to ochre, which
 * colour-blind eyes tell apart, and never hue alone: lines differ in dash and weight, states in words.
 * The dim mode uses red alone, so that every pixel's green and blue stay at zero.
 */
export const STYLE = `
:root {
${LIGHT}
}
@media (prefers-color-scheme: dark) { :root:not([data-theme]) {
${DARK}
} }
:root[data-theme="dark"] {
${DARK}
}
:root[data-theme="contrast"] {
${CONTRAST}
}
:root[data-theme="contrast-light"] {
${CONTRAST_LIGHT}
}
:root[data-mode="dim"] {
${DIM}
}
:root[data-mode="dim"] * { accent-color: #990000; }
:root[data-mode="dim"] input[type="range"] { appearance: none; background: #330000; height: 10px; border-radius: 5px; }
:root[data-mode="dim"] input[type="range"]::-webkit-slider-thumb { appearance: none; width: 28px; height: 28px; border-radius: 14px; background: #990000; }
:root[data-mode="dim"] { scrollbar-color: #4d0000 #000000; }
* { box-sizing: border-box; }
html { background: var(--paper); }
body { margin: 0 auto; max-width: 1240px; padding: 20px; background: var(--paper); color: var(--ink); font: 16px/1.5 system-ui, "Segoe UI", "Helvetica Neue", Arial, sans-serif; overflow-wrap: anywhere; }
${CONTENT}@media (max-width: 640px) {
  .evening tr { display: grid; grid-template-columns: minmax(0, 1fr) auto; gap: 0 10px; padding: 5px 0; border-bottom: 1px solid var(--line); } .evening td { display: block; border: 0; padding: 0; width: auto; } .evening td.value { grid-column: 1; width: auto; white-space: nowrap; } .evening td:nth-child(2) { grid-column: 2; grid-row: 1; } .evening td:nth-child(3), .evening td:nth-child(4) { grid-column: 1 / -1; }
  @media (max-width: 340px) { .evening td.value { white-space: normal; } }
  body { padding: 12px; font-size: 17px; } ${LOST_IN_ROWS}
  .values tr { display: flex; flex-wrap: wrap; gap: 0 10px; padding: 4px 0; border-bottom: 1px solid var(--line); } .values td { border: 0; padding: 0; max-width: 100%; flex: 1 1 9em; } .values td.value { flex-basis: 10em; }
  ol.steps li { grid-template-columns: 1.8em minmax(0, 1fr); } ol.steps .number, ol.steps .seen { grid-column: 2; text-align: left; } ol.steps .number { font-size: clamp(1.3rem, 8.5vw, 1.9rem); }
  td.how, th.how { display: none; } .evening td.how { display: table-cell; }
}
@media print {
  :root:root:root { --paper: #fff; --ink: #000; --soft: #333; --line: #bbb; --panel: #fff; --sky: #fff; --band: #e4e4e4; --ground: #999; --blue: #000; --ochre: #000; --grey: #000; --error: #000; --warning: #000; --info: #000; --focus: #000; }
  @page { margin: 7mm; }
  html, body { background: #fff; } body { padding: 0; max-width: none; font-size: 9.3pt; line-height: 1.25; }
  .screen, .slider, button, details:not([open]) { display: none !important; }
  p { margin: 2pt 0; }
  h1 { font-size: 15pt; } h2 { margin: 6pt 0 2pt; font-size: 10.5pt; break-after: avoid; }
  ol.steps { margin: 2pt 0; } ol.steps li { break-inside: avoid; padding: 2pt 0; } ol.steps li::before { font-size: 11pt; } ol.steps .number { font-size: 13pt; }
  .first { margin: 2pt 0; } .first .verdict { font-size: 11pt; border-width: 1.5pt; } .first .next { font-size: 10.5pt; } h3, .shot h3 { margin: 3pt 0 0; font-size: 9.5pt; }
  header { gap: 0; } .shots { grid-template-columns: repeat(auto-fit, minmax(220pt, 1fr)); gap: 0 14pt; } .shot dl { columns: 220pt; column-gap: 14pt; } .shot { break-inside: avoid; } dl > div { padding: 0; } dt { font-size: 8pt; } dd { font-size: 8.5pt; }
  figcaption { font-size: 8pt; } .method-picture .two figure { max-width: 165pt; } .two { columns: 165pt 3; column-gap: 14pt; } .two figure { padding-bottom: 4pt; } .method-picture .finder svg { max-width: 120pt; } .findings li.info { display: none; } .note { padding: 0; }
  th, td { padding: 1pt 8pt 1pt 0; } .lost th, .lost td, .panels th, .panels td { padding: 0 5pt 0 0; font-size: 7.5pt; line-height: 1.15; } .care li { padding: 1pt 0; font-size: 8pt; } .evening td { padding: 0 6pt 0 0; font-size: 8.5pt; border: 0; } .evening .wait { display: none; }
  .scroll { overflow: visible; } figure, table, tr, .care li, .if-lost { break-inside: avoid; } .method-picture { break-before: avoid; } ul.plain.findings li { padding: 2pt 0; } .minutes { break-inside: avoid; } table.lost { break-inside: auto; }
}
@media print and (max-width: 155mm) { .if-lost { display: none; } }
`;

/** What the page in an editor has over that: the editor's theme chooses the ground, and gives its background and font. */
export const EDITOR_STYLE = `
html, body { background: var(--vscode-editor-background); }
body { font-family: var(--vscode-font-family); }
body.vscode-light { --paper: var(--vscode-editor-background); }
body.vscode-dark { ${DARK} --paper: var(--vscode-editor-background); color: var(--ink); }
body.vscode-high-contrast { ${CONTRAST} color: var(--ink); }
body.vscode-high-contrast-light { ${CONTRAST_LIGHT} }
:root[data-mode="dim"] body { background: #000000; ${DIM} color: var(--ink); }
:root[data-mode="dim"] { background: #000000; }
`;

/** The same look for a part of the page that stands on its own among others, in a notebook's output: nothing outside of it is touched. */
export const CELL_STYLE = `
.lodebook-cell { ${LIGHT} color: var(--ink); font: 14px/1.45 var(--vscode-font-family, system-ui, sans-serif); overflow-wrap: anywhere; max-width: 1240px; padding: 2px 0 6px; }
.vscode-dark .lodebook-cell { ${DARK} }
.vscode-high-contrast .lodebook-cell { ${CONTRAST} }
.vscode-high-contrast-light .lodebook-cell { ${CONTRAST_LIGHT} }
@scope (.lodebook-cell) {
* { box-sizing: border-box; }
${CONTENT}
h3 { margin: 8px 0 4px; } p, ul.plain, table { margin: 4px 0; } ol.steps li { padding: 5px 0; } ol.steps .number, ol.steps li::before { font-size: 1.15rem; } .note { background: none; padding: 0; }
:scope:not(.live) .slider { display: none; }
}
`;
