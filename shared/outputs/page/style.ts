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
/** High contrast on white: what differs from the light ground. */
const CONTRAST_LIGHT = "--paper: #fff; --ink: #000; --soft: #000; --line: #000; --panel: #fff; --focus: #000;";
/** Red alone: every pixel's green and blue stay at zero. */
const DIM = `  --paper: #000000; --ink: #c40000; --soft: #990000; --line: #4d0000; --panel: #0d0000;
  --ground: #330000; --sky: #080000; --band: #1f0000; --blue: #d40000; --ochre: #b00000; --grey: #a00000;
  --error: #ff0000; --warning: #e00000; --info: #b00000; --focus: #ff0000;`;

/** Text in a picture. */
const PICTURE_TEXT = `svg text { fill: var(--ink); font: 12px system-ui, "Segoe UI", Arial, sans-serif; }
svg text.quiet { fill: var(--soft); } svg text.strong { font-weight: 650; }`;

/** Grounds on which a picture of its own can be drawn. */
export const GROUNDS = { light: LIGHT, dark: DARK } as const;
export type Ground = keyof typeof GROUNDS;

/** Colours put in for their names: viewers of pictures know no CSS variables. */
export function literal(markup: string, ground: Ground): string {
	const colours = new Map([...GROUNDS[ground].matchAll(/(--\w+): (#\w+);/g)].map(([, name, colour]) => [name, colour]));
	return markup.replace(/var\((--\w+)\)/g, (whole, name: string) => colours.get(name) ?? whole);
}
/** The style of a picture of its own. */
export const pictureStyle = (ground: Ground): string => literal(PICTURE_TEXT, ground);

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
.go { background: none; border: 0; border-radius: 0; padding: 0 2px; min-height: 24px; min-width: 24px; text-decoration: underline; text-underline-offset: 3px; color: var(--blue); }
.banner { background: var(--panel); border-left: 4px solid var(--warning); padding: 8px 12px; margin: 0 0 14px; }
figure { margin: 0; } figcaption { color: var(--soft); font-size: .9rem; margin-top: 4px; }
svg { display: block; width: 100%; height: auto; }
${PICTURE_TEXT}
.scroll { overflow-x: auto; } .scroll > svg { min-width: 760px; }
.slider { display: flex; gap: 14px; align-items: center; margin: 8px 0; } .slider input { flex: 1; min-width: 120px; height: 36px; } .slider output { font-variant-numeric: tabular-nums; font-size: 1.3rem; font-weight: 650; min-width: 4.2em; }
ol.steps { list-style: none; counter-reset: step; padding: 0; margin: 8px 0; }
ol.steps li { counter-increment: step; display: grid; grid-template-columns: 2.2em minmax(0, 1fr) auto; gap: 4px 12px; padding: 9px 0; border-bottom: 1px solid var(--line); align-items: baseline; }
ol.steps li::before { content: counter(step); font-size: 1.3rem; font-weight: 650; color: var(--soft); font-variant-numeric: tabular-nums; }
ol.steps .number { font-size: 1.6rem; line-height: 1.15; font-weight: 650; font-variant-numeric: tabular-nums; text-align: right; }
.two { display: grid; grid-template-columns: repeat(auto-fit, minmax(300px, 1fr)); gap: 20px; }
ul.plain { list-style: none; padding: 0; margin: 0; } ul.plain li { padding: 6px 0; border-bottom: 1px solid var(--line); }
.error-word { color: var(--error); font-weight: 650; } .warning-word { color: var(--warning); font-weight: 650; } .info-word { color: var(--info); font-weight: 650; }
table { border-collapse: collapse; width: 100%; font-variant-numeric: tabular-nums; } th, td { text-align: left; vertical-align: top; padding: 4px 10px 4px 0; border-bottom: 1px solid var(--line); font-weight: 400; } td.value { font-weight: 650; white-space: normal; } td.how { color: var(--soft); font-size: .88rem; } .evening td.value { white-space: nowrap; width: 8.5em; } .evening .wait td { color: var(--soft); font-weight: 400; } .evening .align td, .evening .sky td { font-weight: 650; }
details { margin: 8px 0; } summary { cursor: pointer; min-height: 32px; padding: 4px 0; font-weight: 650; }
.note { white-space: pre-wrap; background: var(--panel); padding: 10px 14px; border-radius: 6px; }
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
  body { padding: 12px; font-size: 17px; }
  ol.steps li { grid-template-columns: 1.8em minmax(0, 1fr); } ol.steps .number { grid-column: 2; text-align: left; font-size: 1.9rem; }
  td.how, th.how { display: none; } .evening td.how { display: table-cell; }
}
@media print {
  :root { --paper: #fff; --ink: #000; --soft: #333; --line: #bbb; --panel: #fff; --sky: #fff; --band: #e4e4e4; --ground: #999; --blue: #000; --ochre: #000; --grey: #000; }
  @page { margin: 8mm; }
  html, body { background: #fff; } body { padding: 0; max-width: none; font-size: 9.5pt; line-height: 1.3; }
  .screen, .slider, button { display: none !important; }
  p { margin: 2pt 0; }
  h1 { font-size: 15pt; } h2 { margin: 8pt 0 2pt; font-size: 10.5pt; break-after: avoid; }
  ol.steps { margin: 2pt 0; } ol.steps li { break-inside: avoid; padding: 2pt 0; } ol.steps li::before { font-size: 11pt; } ol.steps .number { font-size: 13pt; }
  th, td { padding: 1pt 8pt 1pt 0; } .lost th, .lost td { padding: 0 5pt 0 0; font-size: 7.5pt; line-height: 1.15; } .care li { padding: 1pt 0; font-size: 8pt; } .evening td { padding: 0 6pt 0 0; font-size: 8.5pt; border: 0; } .evening .wait { display: none; }
  .scroll { overflow: visible; } .scroll > svg { min-width: 0; } figure, table, .care li { break-inside: avoid; } table.lost { break-inside: auto; }
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
}
`;
