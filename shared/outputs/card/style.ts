import { LOST_IN_ROWS } from "../page/style.ts";

/** Percents of the least size that paper's text may have. */
export const SIZES = [100, 105, 110, 115, 120, 125, 130, 135, 140] as const;
/** The least, points. */
const LEAST = 7.1;

/** What the card's look has over the page's: one column, tall rows, and one side of paper in black ink alone. */
export const CARD_STYLE = `
body { max-width: 34rem; padding: 12px; font-size: 17px; line-height: 1.4; }
h1 { font-size: 1.25rem; } header { flex-wrap: nowrap; gap: 12px; } header > div { flex: 1; } header p { margin: 0; font-size: .9rem; } header .screen { flex: none; }
.first { margin-top: 8px; } .first p { margin: 3px 0; } .first .verdict { font-size: 1.05rem; } .first .next { font-size: 1.15rem; } .first a { color: var(--ink); display: inline-block; padding: 10px 0; min-height: 44px; }
[id^="live-"]:empty, #late:empty { display: none; } #live-wait { font-size: 1.35rem; font-weight: 650; }
.hand { border: 2px solid var(--line); border-radius: 6px; padding: 4px 10px; margin: 8px 0; } .hand tr { display: grid; grid-template-columns: 1fr 1fr; gap: 0 10px; border-bottom: 1px solid var(--line); padding: 2px 0; } .hand th, .hand td { border: 0; padding: 0; } .hand tbody th { grid-column: 1 / -1; font-size: .82rem; color: var(--soft); } .hand thead th { grid-column: 1 / -1; font-size: .88rem; } .hand td:empty { display: none; }
dl.set { display: grid; grid-template-columns: repeat(2, minmax(0, 1fr)); gap: 0 12px; } dl.set > div { display: block; padding: 2px 0; } dl.set dt { font-size: .82rem; } dl.set dd { font-size: 1.5rem; line-height: 1.15; }
.evening tr { display: grid; grid-template-columns: minmax(0, 1fr) auto; gap: 0 10px; min-height: 44px; padding: 6px 0; border-bottom: 1px solid var(--line); } .evening td { display: block; border: 0; padding: 0; } .evening td.value { width: auto; } .evening td:nth-child(2) { grid-column: 2; grid-row: 1; } .evening td:nth-child(3), .evening td:nth-child(4) { grid-column: 1 / -1; width: auto; }
summary { min-height: 44px; padding: 10px 0; } label:has(input[type="checkbox"]) { display: flex; gap: 10px; align-items: center; min-height: 44px; } .slider input { height: 44px; flex-basis: 100%; }
#practising:not([hidden]) { position: sticky; top: 0; z-index: 1; display: flex; justify-content: space-between; align-items: center; gap: 10px; background: var(--panel); border: 3px double var(--ink); padding: 6px 10px; }
[aria-current] { outline: 3px solid var(--focus); outline-offset: 2px; }
ol.steps li { grid-template-columns: 1.8em minmax(0, 1fr); min-height: 44px; } ol.steps .number, ol.steps .seen { grid-column: 2; text-align: left; } ol.steps .number { font-size: 1.9rem; }
.looks { display: grid; grid-template-columns: repeat(4, minmax(0, 1fr)); gap: 8px; } .looks figcaption { font-size: .8rem; line-height: 1.2; }
${LOST_IN_ROWS}
.hand td:nth-child(2):has(+ td:empty) { grid-column: 1 / -1; }
.paper { display: none; }
@page { margin: 6mm; }
@media print {
  :root:root:root { --paper: #fff; --ink: #000; --soft: #000; --line: #888; --panel: #fff; --blue: #000; --ochre: #000; --grey: #000; --error: #000; --warning: #000; --info: #000; --focus: #000; }
  body { max-width: none; padding: 0; font-size: 9pt; } [aria-current] { outline: none; } #card > :not(.paper, .rest) { display: none; } #card:not(:has(#print-rest:checked)) > .rest { display: none; }
  #card .evening tr, ol.steps li { min-height: 0; padding: 1pt 0; } ol.steps .number { font-size: 13pt; }
  #card > .rest.first { break-before: page; }
  .paper { display: block; } .paper > div { line-height: 1.11; } ${SIZES.map((size) => `.size-${size} { font-size: ${((LEAST * size) / 100).toFixed(2)}pt; }`).join(" ")} .paper h1 { font-size: 1.55em; margin: 0; } .paper h2 { font-size: 1.18em; margin: 2.5pt 0 .5pt; padding: 0; border-bottom: .6pt solid #000; } .paper p { margin: 1pt 0; }
  .paper dl.set { grid-template-columns: repeat(4, auto); gap: 0 8pt; border: 1pt solid #000; padding: 1pt 4pt; margin: 2pt 0; } .paper dl.set > div { border: 0; padding: 0; } .paper dl.set dt { font-size: .98em; } .paper dl.set dd { font-size: 1.95em; }
  .paper ul, .paper ol { margin: 0; padding: 0 0 0 1.3em; } .paper .care { font-size: .887em; line-height: 1.06; } .paper .across td { white-space: normal; overflow-wrap: break-word; border-left: .4pt solid #888; padding-left: 3pt; } .paper .across th { width: 22%; } .paper li { break-inside: avoid; } .paper .rows { columns: 2; column-gap: 8pt; } .paper .rows p { margin: 0; padding-left: 1em; text-indent: -1em; }
  .paper th, .paper td { padding: 0 5pt 0 0; border: 0; } .paper td:first-child { white-space: nowrap; } .paper table { break-inside: auto; } .paper svg { width: 100%; }
  .looks { gap: 6pt; } .paper .looks svg { width: 7.5mm; float: left; margin-right: 3pt; } .paper figcaption { font-size: .887em; margin: 0; overflow: hidden; }
  .paper .shots { display: block; } .paper .shot { break-inside: avoid; } .paper .number { line-height: 1; font-size: 1.33em; font-weight: 700; white-space: nowrap; }
}
@media print and (max-width: 115mm) { .paper > div { font-size: 6.6pt; } .paper .across td { overflow-wrap: anywhere; } .paper dl.set { grid-template-columns: repeat(2, auto); } }
`;
