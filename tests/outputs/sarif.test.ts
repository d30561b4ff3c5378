/**
 * SARIF against the schema of OASIS's standard 2.1.0, in its last form (rtm.5), which the package @microsoft/jest-sarif
 * carries (MIT).
 */
import { readFileSync } from "node:fs";
import Ajv04 from "ajv-draft-04";
import { describe, expect, test } from "vitest";
import { createEvaluator } from "../../shared/evaluate/evaluate.ts";
import { check } from "../../shared/findings/check.ts";
import { exampleText } from "../../shared/findings/example-plan.ts";
import { examplesOf } from "../../shared/findings/finding.ts";
import { RULES } from "../../shared/findings/rules.ts";
import { findingRecords } from "../../shared/outputs/json/finding-record.ts";
import { sarifLog } from "../../shared/outputs/sarif/sarif.ts";
import { readPlan } from "../../shared/plan/plan.ts";
import { explanationUri } from "../../shared/protocol/explanation.ts";
import { applyEdits } from "../../shared/text/edits.ts";

const schema = JSON.parse(
	readFileSync(
		new URL("../../node_modules/@microsoft/jest-sarif/lib/schemas/sarif-2.1.0-rtm.5.json", import.meta.url),
		"utf8",
	),
);
const isUri = (text: string): boolean => /^[A-Za-z][A-Za-z\d+.-]*:[^\s<>"{}|\\^`]+$/.test(text);
const isReference = (text: string): boolean => /^[^\s<>"{}|\\^`]*$/.test(text);
const ajv = new Ajv04({
	allErrors: true,
	strict: false,
	// One of its patterns is none in Unicode mode.
	unicodeRegExp: false,
	formats: { uri: isUri, "uri-reference": isReference, "date-time": /^\d{4}-\d\d-\d\dT/ },
});
const isSarif = ajv.compile(schema);

const PROGRAM = { version: "1.2.3", explanation: explanationUri };
const evaluate = createEvaluator();
/** A plan for each rule that is wrong by it. */
const wrong = RULES.map(({ code, wrong }) => {
	const text = exampleText(examplesOf(wrong)[0] ?? {});
	return { path: `plans/${code} é.lode.yaml`, text, records: findingRecords(text, check(evaluate(readPlan(text)))) };
});
const log = JSON.parse(JSON.stringify(sarifLog(wrong, PROGRAM)));
const [run] = log.runs;

test("every rule's example, as the standard has it", () => {
	isSarif(log);
	expect(isSarif.errors).toBeNull();
	// The schema sees what is wrong.
	for (const broken of [
		{ ...log, version: "2.0.0" },
		{ ...log, runs: [{ ...run, columnKind: "bytes" }] },
		{ ...log, runs: [{ ...run, results: [{ ...run.results[0], message: {} }] }] },
		{ ...log, runs: [{ ...run, results: [{ ...run.results[0], fixes: [{}] }] }] },
	])
		expect(isSarif(broken)).toBe(false);
});

test("nothing found is a log too", () => {
	expect(isSarif(JSON.parse(JSON.stringify(sarifLog([], PROGRAM))))).toBe(true);
});

describe("rules", () => {
	test("each result names its rule, and each rule has its level, texts and address", () => {
		const rules = run.tool.driver.rules;
		expect(rules.length).toBeGreaterThan(90);
		for (const { ruleId, ruleIndex } of run.results) expect(rules[ruleIndex].id).toBe(ruleId);
		for (const { id, helpUri, help, shortDescription, fullDescription } of rules) {
			expect(helpUri).toBe(`lodebook-finding:/${id}.md`);
			expect(help.markdown).toMatch(/^# .*\n[\s\S]*```yaml/);
			expect(shortDescription.text.length).toBeGreaterThan(3);
			expect(fullDescription.text.length).toBeGreaterThan(20);
		}
	});

	test("a path is a URI below the root", () => {
		for (const { location } of run.artifacts) {
			expect(location.uriBaseId).toBe("ROOT");
			expect(decodeURIComponent(location.uri)).toMatch(/^plans\/[\w-]+\/[\w-]+ é\.lode\.yaml$/);
			expect(location.uri).toMatch(/^[\w/%.-]+$/);
		}
	});
});

test("a fix replaces what it says: made, it gives the text that the editor would", () => {
	let made = 0;
	for (const { path, text, records } of wrong) {
		const offset = (line: number, column: number): number =>
			text
				.split("\n")
				.slice(0, line - 1)
				.join("\n").length +
			(line > 1 ? 1 : 0) +
			column -
			1;
		const uri = path.split("/").map(encodeURIComponent).join("/");
		const results = run.results.filter(
			(one: { locations: readonly [{ physicalLocation: { artifactLocation: { uri: string } } }] }) =>
				one.locations[0].physicalLocation.artifactLocation.uri === uri,
		);
		const findings = check(evaluate(readPlan(text)));
		expect(results.length).toBe(records.length);
		for (const [place, result] of results.entries())
			for (const [i, { artifactChanges, description }] of (result.fixes ?? []).entries()) {
				const fix = findings[place]?.fixes.filter(({ edits }) => edits.length > 0)[i];
				const edits = artifactChanges[0].replacements.map(({ deletedRegion: at, insertedContent }: Replacement) => ({
					from: offset(at.startLine, at.startColumn),
					to: offset(at.endLine, at.endColumn),
					text: insertedContent.text,
				}));
				expect(description.text).toBe(fix?.title);
				expect(applyEdits(text, edits)).toBe(applyEdits(text, fix?.edits ?? []));
				made++;
			}
	}
	expect(made).toBeGreaterThan(50);
});

interface Replacement {
	readonly deletedRegion: Record<"startLine" | "startColumn" | "endLine" | "endColumn", number>;
	readonly insertedContent: { readonly text: string };
}

test("a finding is known again when other lines come above it, and when others of its kind go", () => {
	const text = exampleText({ night: "date: 2027-06-05\narrive: 17:00\nleave: 02:00" });
	const known = (one: string): readonly string[] => {
		const records = findingRecords(one, check(evaluate(readPlan(one))));
		return (sarifLog([{ path: "a", text: one, records }], PROGRAM).runs[0]?.results ?? []).map(
			({ ruleId, partialFingerprints }) => `${ruleId} ${partialFingerprints?.["lodebook/v1"]}`,
		);
	};
	const both = known(text);
	expect(both.length).toBeGreaterThan(1);
	expect(new Set(both).size).toBe(both.length);
	expect(known(`# one\n# two\n${text}`)).toEqual(both);
	expect(both).toEqual(expect.arrayContaining([...known(text.replace("arrive: 17:00", 'arrive: "17:00"'))]));
});
