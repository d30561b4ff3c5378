/** Fixes that may be applied without a look. */
import type { Edit, Finding } from "./finding.ts";

/** The safe first fixes that do not touch each other. */
export function safeEdits(findings: readonly Finding[]): readonly Edit[] {
	const edits: Edit[] = [];
	for (const { fixes } of findings) {
		const [fix] = fixes;
		if (!fix?.safe) continue;
		const clear = fix.edits.every((edit) => edits.every((other) => edit.to < other.from || edit.from > other.to));
		if (clear) edits.push(...fix.edits);
	}
	return edits;
}
