/** What the card's look has over the page's: one column, tall rows, black ink alone on paper. */
export const CARD_STYLE = `
body { max-width: 34rem; padding: 12px; font-size: 17px; }
.evening tr { display: grid; grid-template-columns: minmax(0, 1fr) auto; gap: 0 10px; min-height: 44px; padding: 6px 0; border-bottom: 1px solid var(--line); } .evening td { display: block; border: 0; padding: 0; } .evening td.value { width: auto; } .evening td:nth-child(2) { grid-column: 2; grid-row: 1; } .evening td:nth-child(3), .evening td:nth-child(4) { grid-column: 1 / -1; }
summary { min-height: 44px; padding: 10px 0; }
[aria-current] { outline: 3px solid var(--focus); outline-offset: 2px; }
#live-now:empty, #live-wait:empty { display: none; } #live-wait { font-size: 1.3rem; font-weight: 650; }
ol.steps li { grid-template-columns: 1.8em minmax(0, 1fr); min-height: 44px; } ol.steps .number, ol.steps .seen { grid-column: 2; text-align: left; } ol.steps .number { font-size: 1.9rem; }
@media print {
  :root:root:root { --paper: #fff; --ink: #000; --soft: #000; --line: #888; --panel: #fff; --blue: #000; --ochre: #000; --grey: #000; --error: #000; --warning: #000; --info: #000; --focus: #000; }
  body { max-width: none; padding: 0; font-size: 9pt; } [aria-current] { outline: none; } #live-now, #live-wait { display: none; }
  .evening tr, ol.steps li { min-height: 0; padding: 1pt 0; } ol.steps .number { font-size: 13pt; }
}
`;
