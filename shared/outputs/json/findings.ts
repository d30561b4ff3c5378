/** What is wrong with some plans, as other programs get it. */
import { countBySeverity } from "../../findings/check.ts";
import type { CheckedFile } from "../output.ts";
import { findingRecords } from "./finding-record.ts";

export function findingsRecord(files: readonly CheckedFile[]) {
	const { error, warning, info } = countBySeverity(files.flatMap(({ findings }) => findings));
	return {
		files: files.map(({ path, text, findings }) => ({ path, findings: findingRecords(text, findings) })),
		summary: { errors: error, warnings: warning, infos: info },
	};
}
