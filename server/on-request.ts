/**
 * What nothing needs that goes on while one types: a page, exports, comparisons, explanations. Features reach it through
 * `Session.answered`, which loads it on first use; the build puts whatever only it needs into the second part
 * of the web worker (`parts.ts`).
 */
export { compare } from "../shared/outputs/compare/compare.ts";
export { newPlanText } from "../shared/outputs/draft/new-plan.ts";
export { comparisonMarkdown } from "../shared/outputs/markdown/comparison.ts";
export { cellPart } from "../shared/outputs/notebook/cell-part.tsx";
export { outputsOf } from "../shared/outputs/outputs.ts";
export { insteadOfPage, pageBody } from "../shared/outputs/page/page.tsx";
export { EDITOR_STYLE, STYLE } from "../shared/outputs/page/style.ts";
export { pageView } from "../shared/outputs/page/view.ts";
export { explanationMarkdown } from "../shared/outputs/reference/explanation.ts";
