/** Checks a plan. */
import { createEvaluator } from "../../shared/evaluate/evaluate.ts";
import { check } from "../../shared/findings/check.ts";
import { findingRecords } from "../../shared/outputs/json/finding-record.ts";
import type { CheckedFile } from "../../shared/outputs/output.ts";
import { readText } from "../files.node.ts";
import { joinedPlan } from "../library.node.ts";
import type { Job } from "./jobs.ts";

/** Plans of one workshop share cells: what was read and evaluated for one file is used for the next. */
const evaluateNext = createEvaluator();

export const checkJob: Job<undefined, CheckedFile> = (path) => checkedText(path, readText(path));

/** The same of a text that is called by a path. */
export function checkedText(path: string, text: string): CheckedFile {
	return { path, text, records: findingRecords(text, check(evaluateNext(joinedPlan(path, text)))) };
}
