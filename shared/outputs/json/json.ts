/** JSON for other programs: the contract of the command line. */
import type { Making, Output } from "../output.ts";
import { comparisonRecord } from "./comparison.ts";
import { findingsRecord } from "./findings.ts";
import { planRecord } from "./plan.ts";
import { words } from "./words.ts";

/** What JSON may hold as it is and a terminal or a viewer may take as more than text: written as its number. */
const UNSAFE = /[\u007f-\u009f\u2028\u2029\u200e\u200f\u202a-\u202e\u2066-\u2069\ufffe\uffff]/g;
const escaped = (one: string): string => `\\u${one.charCodeAt(0).toString(16).padStart(4, "0")}`;

/** A record as it is printed. */
export const jsonText = (record: object): string => `${JSON.stringify(record, null, 2).replace(UNSAFE, escaped)}\n`;

/** Raised when a key of an answer goes or means something else; not when one is added. */
export const ANSWER_VERSION = 1;

/** An answer to other programs: its `schemas/lodebook-….schema.json` says what it holds. */
export const answerText = (record: object): string => jsonText({ version: ANSWER_VERSION, ...record });

const printed = <M>(record: (of: M) => object): Making<M> => ({
	help: words.help(),
	make: (of) => answerText(record(of)),
});

/** The record of each material. */
export const json: Output = {
	name: "json",
	title: words.exported(),
	option: "--json",
	mediaType: "application/json",
	extension: "json",
	of: { plan: printed(planRecord), files: printed(findingsRecord), states: printed(comparisonRecord) },
};
