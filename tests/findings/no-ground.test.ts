/** Frames of the ground in whose framing there is none: told however they are asked for, and joined as a panorama. */
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import rule from "../../shared/findings/target/no-ground.ts";
import { applyEdits } from "../../shared/text/edits.ts";
import { checkText, evaluateText } from "../plan-text.ts";

const sample = (name: string): string =>
	readFileSync(new URL(`../../samples/${name}.lode.yaml`, import.meta.url), "utf8");
const found = (text: string) => checkText(text).filter(({ code }) => code === rule.code);
/** The sample as one picture. */
const single = (name: string, foreground: string): string =>
	sample(name).replace(/ {4}panorama: .*\n {4}foreground: .*/, `    foreground: ${foreground}`);

test.each([
	["dry-gorge", "{ panorama: { rows: 2 } }"],
	["larch-clearing", "{ panorama: { rows: 2 } }"],
	["terrace-near-the-line", "true"],
])("%s: `foreground: true` is told like any other, and the fix puts ground under the sky", (name, foreground) => {
	const text = single(name, "true");
	const [one, ...others] = found(text);
	expect(others).toEqual([]);
	expect(one?.message).toMatch(/no ground is in the frame/);
	expect(found(single(name, "{ exposure: 60 s }"))).toHaveLength(1);
	const before = new Set(checkText(text).map(({ code }) => code));
	const [fix] = one?.fixes ?? [];
	const after = applyEdits(text, fix?.edits ?? []);
	expect(after).toContain("panorama: { columns: 1, rows: 1 }");
	expect(after).toContain(`foreground: ${foreground}`);
	expect(checkText(after).filter(({ code }) => !before.has(code))).toEqual([]);
	expect(found(after)).toEqual([]);
	// At the middle of the lowest row at least half is ground.
	const { targets, site } = evaluateText(after);
	const [lowest] = targets?.value?.[0]?.panorama?.ground()?.rows ?? [];
	const bearing = targets?.value?.[0]?.panorama?.panels[0]?.direction.azimuth ?? 0;
	expect(lowest?.altitude).toBeLessThanOrEqual(site?.cover.skylineAt(bearing) ?? Number.NaN);
	expect(evaluateText(after).evening?.leftOut).toEqual([]);
});

test("what the foreground is asked for stays", () => {
	const text = single("dry-gorge", "{ exposure: 60 s, frames: 2 }");
	const [fix] = found(text)[0]?.fixes ?? [];
	expect(fix?.title).toBe("Join the ground to it as a panorama of 2 rows under it");
	expect(applyEdits(text, fix?.edits ?? [])).toContain(
		"foreground: { panorama: { rows: 2 }, exposure: 60 s, frames: 2 }",
	);
});
