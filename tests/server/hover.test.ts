import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import type { Hover } from "vscode-languageserver";
import { cursor, planWith } from "../plan-text.ts";
import { positionOf } from "./client.ts";
import { serve } from "./served.ts";

const { client, fresh } = serve();
const extension = serve({}, { readsFiles: true });

const hoverOf = async (marked: string): Promise<string> => {
	const uri = fresh();
	const { text, offset } = cursor(marked);
	await client.open(uri, text);
	const hover = await client.request<Hover | null>("textDocument/hover", {
		textDocument: { uri },
		position: positionOf(text, offset),
	});
	return (hover?.contents as { value: string } | undefined)?.value ?? "";
};

test("hover on a key says what it is, its units and what holds without it", async () => {
	const hover = await hoverOf(planWith({}).replace("elevation", "elev$0ation"));
	expect(hover).toContain("Elevation above sea level");
	expect(hover).toContain("a length in m, km, ft");
	expect(hover).toContain("Without it: 0 m");
});

test("hover on a value shows its figures with uncertainty and how they came about", async () => {
	const hover = await hoverOf(planWith({}).replace("32.4123 S", "32.41$023 S"));
	expect(hover).toContain("Pole altitude | **32.41°**");
	expect(hover).toMatch(/Magnetic declination \| \*\*14\.\d+° ± 0\.4\d*° west\*\* \| WMM2025/);
});

test("its tables have headings, clock times behind midnight say so, and the extension is given links", async () => {
	const hover = await hoverOf(planWith({}).replace("night:", "ni$0ght:"));
	expect(hover).toContain("| Value | Tonight | How it is computed |");
	expect(hover).toContain("Astronomical dawn | **06:06 \\(\\+1\\)**");
	expect(hover).not.toContain("](lodebook");
	const { text, offset } = cursor(planWith({}).replace("kind:", "ki$0nd:"));
	const uri = await extension.opened(text);
	const linked = await extension.client.request<Hover>("textDocument/hover", {
		textDocument: { uri },
		position: positionOf(text, offset),
	});
	const links = [...(linked.contents as { value: string }).value.matchAll(/\]\(lodebook-reference:\/(\w+\.md)\)/g)];
	expect(links.map(([, page]) => page)).toEqual(["format.md", "methods.md", "values.md"]);
	for (const [, page = ""] of links)
		expect(readFileSync(new URL(`../../shared/outputs/reference/${page}`, import.meta.url), "utf8")).toMatch(/^# /m);
});

test("hover on the kind of a cell, on a target's name, on a word", async () => {
	expect(await hoverOf(planWith({}).replace("night:", "ni$0ght:"))).toContain("Astronomical dusk | **19:06**");
	expect(await hoverOf(planWith({}).replace("name: core over", "name: co$0re over"))).toContain("Usable");
	expect(await hoverOf(planWith({}).replace("kind:", "ki$0nd:"))).toContain("A laser or sight laid across the tracker");
});

test("the same in CRLF, and hover outside of anything is nothing", async () => {
	expect(await hoverOf(planWith({}).replace("32.4123 S", "32.41$023 S").replace(/\n/g, "\r\n"))).toContain(
		"Pole altitude",
	);
	expect(await hoverOf(planWith({}).replace("---\nnight", "-$0--\nnight"))).toBe("");
	expect(await hoverOf("$0")).toBe("");
});

test("a plan's text cannot become markup in a hover", async () => {
	const hover = await hoverOf(
		planWith({
			targets:
				'- name: "<img src=x onerror=alert(1)> [click](command:evil) | a | b"\n  aim: galac$0tic-centre\n  exposure: 60 s',
		}),
	);
	expect(hover).not.toMatch(/<img|\]\(command/);
});

/** A target with a shower beside it and moonlight on its ground, on a night with a Moon. */
const LIT = planWith({
	night: 'date: 2027-06-11\narrive: "17:00"\nleave: "02:00"',
	targets: `- name: core\n  aim: galactic-centre\n  shower: eta Aquariids\n  from: "21:30"\n  exposure: 60 s\n  foreground: { light: moon, lit-from: left }`,
});

test("hover on a shower shows its peak and its radiant; on the light of a foreground, when the Moon gives it", async () => {
	const shower = await hoverOf(LIT.replace("eta Aquariids", "eta Aq$0uariids"));
	expect(shower).toMatch(/eta Aquariids: peak \| \*\*2027-05-06/);
	expect(shower).toContain("Radiant's altitude at the start");
	expect(await hoverOf(LIT.replace("shower:", "sho$0wer:"))).toContain("the frame is not centred on it");
	for (const marked of ["foreground: { light: mo$0on", "foreground: { light: moon, lit-from: le$0ft"]) {
		const light = await hoverOf(LIT.replace(marked.replace("$0", ""), marked));
		expect(light, marked).toMatch(/Moon lights the ground \| \*\*\d\d:\d\d–\d\d:\d\d/);
		expect(light).toContain("From the side asked for");
	}
	expect(await hoverOf(LIT.replace("lit-from", "lit-$0from"))).toContain("`ahead`: From ahead");
});
