/** What was measured on frames goes into the plan's log, whatever is there. */
import { expect, test } from "vitest";
import { evaluate } from "../../shared/evaluate/evaluate.ts";
import { logEdits, logEntry } from "../../shared/measure/log-entry.ts";
import { readPlan } from "../../shared/plan/plan.ts";
import { applyEdits } from "../../shared/text/edits.ts";

const frame = (at: number, rightAscension: number) => ({
	at,
	rightAscension,
	declination: -29.0112,
	positionAngle: 12.5,
});
const entry = logEntry("UTC", [frame(Date.UTC(2027, 5, 6, 0, 10), 266.4), frame(Date.UTC(2027, 5, 6, 0, 40), 267.9)]);

const written = (text: string): string => {
	const plan = readPlan(text);
	return applyEdits(text, logEdits(plan, entry));
};

const ENTRY = `- date: 2027-06-05
    solved:
      - { at: "00:10", right-ascension: 266.4000°, declination: -29.0112°, position-angle: 12.5000° }
      - { at: "00:40", right-ascension: 267.9000°, declination: -29.0112°, position-angle: 12.5000° }
`;

test("after midnight it is of the evening before", () => {
	expect(entry.date).toEqual({ year: 2027, month: 6, day: 5 });
});

test("into a log of its own where there is none", () => {
	expect(written("plan:\n  title: a\n")).toBe(`plan:\n  title: a\n---\nlog:\n  ${ENTRY}`);
});

test("behind the entries that are there, with their indent, comments and line breaks", () => {
	const before = `log:\n- date: 2027-06-04 # clouds\n  note: "0:10"\n---\nnote: x\n`;
	const after = written(before);
	expect(after).toBe(
		`log:\n- date: 2027-06-04 # clouds\n  note: "0:10"\n${ENTRY.replace(/^ {2}/gm, "")}---\nnote: x\n`,
	);
	expect(written(before.replaceAll("\n", "\r\n"))).toBe(after.replaceAll("\n", "\r\n"));
});

test("what is written is read as it was meant", () => {
	const text = written("plan:\n  title: a\n---\nlog:\n  - date: 2027-06-04\n    note: wind\n");
	const { plan } = evaluate(readPlan(text));
	const problems = plan.cells.flatMap(({ read }) => read.problems.map(({ type }) => type));
	expect(problems).toEqual([]);
});

test("a log in braces or taken from another file is left alone", () => {
	expect(logEdits(readPlan("log: [{ date: 2027-06-04 }]\n"), entry)).toEqual([]);
	expect(logEdits(readPlan("log: soon\n"), entry)).toEqual([]);
});
