/** JSON for other programs: the contract of the command line. */
import type { Making, Output } from "../output.ts";
import { comparisonRecord } from "./comparison.ts";
import { findingsRecord } from "./findings.ts";
import { planRecord } from "./plan.ts";
import { words } from "./words.ts";

/** A record as it is printed. */
export const jsonText = (record: object): string => `${JSON.stringify(record, null, 2)}\n`;

const printed = <M>(record: (of: M) => object): Making<M> => ({
	help: words.help(),
	make: (of) => jsonText(record(of)),
});

/** The record of each material. */
export const json: Output = {
	name: "json",
	option: "--json",
	mediaType: "application/json",
	extension: "json",
	of: { plan: printed(planRecord), files: printed(findingsRecord), states: printed(comparisonRecord) },
};
