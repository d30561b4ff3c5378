/** The timeline's steps: each name beside its bar, where the page has room for it on a side. */
import { readdirSync, readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { pageBody } from "../../shared/outputs/page/page.tsx";
import { pageView } from "../../shared/outputs/page/view.ts";
import { evaluateText } from "../plan-text.ts";

const samples = new URL("../../samples/", import.meta.url);
const STEP =
	/<rect x="([\d.]+)%" y="\d+" width="([\d.]+)%" height="13"[^>]*><\/rect><text x="([\d.]+)%" dx="(-?\d+)" y="\d+" text-anchor="(start|end)"[^>]*>(.*?)<\/text>/g;

/** A page of this many pixels, on which a letter of a step's name is at most so wide. */
const PAGE = 1200;
const LETTER = 7.6;

/** Bar and name of each step, pixels, and what the name needs. */
function stepsOf(text: string) {
	const evaluation = evaluateText(text);
	return [...pageBody(pageView(evaluation, [])).matchAll(STEP)].map(([, x, width, at, dx, anchor, said = ""]) => {
		const from = (Number(x) / 100) * PAGE;
		const until = from + (Number(width) / 100) * PAGE;
		const begin = (Number(at) / 100) * PAGE + Number(dx);
		const name = said
			.replace(/<tspan class="short"[^>]*>.*?<\/tspan>/, "")
			.replace(/<tspan class="name cut">.*?<\/tspan>/, "")
			.replace(/<[^>]*>/g, "");
		const needs = name.length * LETTER + 8;
		return { name, from, until, needs, left: anchor === "start" ? begin : begin - needs, isStart: anchor === "start" };
	});
}

test("no name lies on its bar where one side of it has room for the name", () => {
	let beside = 0;
	for (const file of readdirSync(samples).filter((one) => one.endsWith(".lode.yaml"))) {
		const steps = stepsOf(readFileSync(new URL(file, samples), "utf8"));
		for (const { name, from, until, needs, left, isStart } of steps) {
			const isOn = isStart ? left < until : left + needs > from;
			// Of what a page has, the narrowest pane in which the name is shown so may have less: a third is spared for that.
			if (Math.max(from, PAGE - until) > needs + PAGE / 3) expect(isOn, `${file}: ${name}`).toBe(false);
			if (!isOn) beside++;
		}
	}
	expect(beside).toBeGreaterThan(50);
	const panorama = stepsOf(readFileSync(new URL("larch-clearing.lode.yaml", samples), "utf8"));
	const cassiopeia = panorama.find(({ name }) => name.startsWith("Cassiopeia"));
	expect(cassiopeia?.left).toBeGreaterThan(cassiopeia?.until ?? Number.POSITIVE_INFINITY);
});
