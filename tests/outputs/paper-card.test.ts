/** The card on paper: what must stand on it without a script. */
import { readdirSync, readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { check } from "../../shared/findings/check.ts";
import { card } from "../../shared/outputs/card/card.tsx";
import { eveningRows } from "../../shared/outputs/evening.ts";
import { PLAIN } from "../plain-environment.ts";
import { evaluateText } from "../plan-text.ts";

const samples = new URL("../../samples/", import.meta.url);

function paperOf(text: string): { readonly begin: string | undefined; readonly paper: string } {
	const evaluation = evaluateText(text);
	const plan = { path: "a.lode.yaml", text, evaluation, findings: check(evaluation) };
	const [, paper = ""] = String(card.of.plan?.make(plan, PLAIN, "")).split('<div class="paper"');
	const align = eveningRows(evaluation).find(({ kind }) => kind === "align");
	return { begin: /begin no later than ([^;,(]*[^;,( ])/.exec(align?.about ?? "")?.[1], paper };
}

test("the latest start of the alignment is beside its numbers, as the live card's evening has it", () => {
	let told = 0;
	for (const name of readdirSync(samples).filter((one) => one.endsWith(".lode.yaml"))) {
		const { begin, paper } = paperOf(readFileSync(new URL(name, samples), "utf8"));
		const [numbers = ""] = paper.split("<h2>");
		if (numbers.includes('class="set"'))
			expect(numbers.includes("Begin no later than"), name).toBe(begin !== undefined);
		if (begin === undefined) continue;
		told++;
		expect(numbers, name).toContain(`Begin no later than ${begin}`);
	}
	expect(told).toBeGreaterThan(0);
});

test("its text is larger the less there is of it, and no smaller than before", () => {
	const size = (name: string): number =>
		Number(/<div class="size-(\d+)"/.exec(paperOf(readFileSync(new URL(name, samples), "utf8")).paper)?.[1]);
	const sizes = ["terrace-near-the-line", "dusk-comet", "meteors-over-ruin"].map((name) => size(`${name}.lode.yaml`));
	expect(sizes[0]).toBe(100);
	expect(sizes[1]).toBeGreaterThan(100);
	expect(sizes[2]).toBeGreaterThan(sizes[1] as number);
});
