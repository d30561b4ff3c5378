/**
 * What nothing needs that goes on while one types: a page, exports, explanations, formatting, the evening's
 * times. Features reach it through
 * `Session.answered`, which loads it on first use; the build puts whatever only it needs into the second part
 * of the web worker (`parts.ts`).
 */
export { newPlanText } from "../shared/outputs/draft/new-plan.ts";
export { memberNames, memberPlan, OF_MEMBER } from "../shared/outputs/member.ts";
export { outputsOf } from "../shared/outputs/outputs.ts";
export { insteadOfPage, pageBody } from "../shared/outputs/page/page.tsx";
export { EDITOR_STYLE, STYLE } from "../shared/outputs/page/style.ts";
export { pageView } from "../shared/outputs/page/view.ts";
export { yearOfNights } from "../shared/outputs/page/year-of-nights.tsx";
export { explanationMarkdown } from "../shared/outputs/reference/explanation.ts";
export { cellOutputs } from "./cell-outputs.ts";
export { eveningEdit } from "./evening-edit.ts";
export { formatted, leftAsItIs } from "./format-edits.ts";
