/** The table of what to do when the alignment is lost: its numbers are read in the dark, far from the steps they are of. */
import { readdirSync, readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { lostView, NUMBERS } from "../../shared/outputs/lost.ts";
import { told } from "../../shared/text/sentence.ts";
import { evaluateText } from "../plan-text.ts";

const SAMPLES = new URL("../../samples/", import.meta.url);
const samples = readdirSync(SAMPLES).filter((name) => name.endsWith(".lode.yaml"));
const sample = (name: string) => evaluateText(readFileSync(new URL(name, SAMPLES), "utf8"));

test("each number says what it is of, and a number of one minute says which", () => {
	const numbers = lostView(sample("roofless-chapel.lode.yaml"))?.rows.map((row) => row[NUMBERS]);
	expect(numbers).toEqual([
		"tilt 32.4°; laser to 015°M (000.0°T); beam 0.06° to the right and 0.75° below zeta Virginis at 21:17",
		"tilt 32.4°; pan 46.1° anticlockwise",
	]);
	expect(lostView(sample("larch-clearing.lode.yaml"))?.rows[0]?.[NUMBERS]).toBe(
		"tilt 46.6°; Polaris at 3 h 14 on the dial (97° clockwise from the top), upright, at 21:12",
	);
	for (const name of samples)
		for (const row of lostView(sample(name))?.rows ?? [])
			for (const number of (row[NUMBERS] ?? "").split("; ")) expect(number, name).toMatch(/^[A-Za-zσ]/);
});

test("what a step tells in brief has the step's number in it, but where the pointer passes a star that is on its circle", () => {
	let count = 0;
	for (const name of samples)
		for (const { value } of sample(name).methods)
			for (const { number, brief } of value?.steps() ?? []) {
				if (number === undefined || brief === undefined) continue;
				const isOver = told(brief).includes("straight over it");
				for (const part of number.split(", ")) expect(told(brief), name).toContain(isOver ? "over" : part);
				count++;
			}
	expect(count).toBeGreaterThan(30);
});
