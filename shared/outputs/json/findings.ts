/** What is wrong with some plans, as other programs get it. */
import { countBySeverity } from "../../findings/check.ts";
import type { CheckedFile } from "../output.ts";

export function findingsRecord(files: readonly CheckedFile[]) {
	const { error, warning, info } = countBySeverity(files.flatMap(({ records }) => records));
	return {
		files: files.map(({ path, records }) => ({ path, findings: records })),
		summary: { errors: error, warnings: warning, infos: info },
	};
}
