/** What of a frame is sky, for a target that is to pass through a window. */
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { evaluateText } from "../plan-text.ts";

const arch = readFileSync(new URL("../../samples/lone-arch.lode.yaml", import.meta.url), "utf8");
const hiddenIn = (text: string): number => {
	const [target] = evaluateText(text).targets?.value ?? [];
	return target?.frames?.()[0]?.hidden ?? Number.NaN;
};

test("about a thing with a window the sky goes on: what the target is to pass through takes nothing of it", () => {
	const without = arch.replace("    opening: arch\n", "");
	expect(without).not.toBe(arch);
	expect(hiddenIn(arch)).toBeCloseTo(hiddenIn(without), 6);
	expect(hiddenIn(arch)).toBeGreaterThan(0.05);
	expect(hiddenIn(arch)).toBeLessThan(0.9);
});

test("under a roof, another opening is no sky for a target that is to keep to its own", () => {
	const roofed = (opening: string): string =>
		arch
			.replace(
				/ {2}obstructions:\n.*\n/,
				"  openings:\n    - { name: door, outline: [[195, 8], [208, 8], [208, 40], [195, 40]] }\n    - { name: crack, outline: [[209, 10], [216, 10], [216, 50], [209, 50]] }\n",
			)
			.replace("    opening: arch\n", opening);
	expect(hiddenIn(roofed("    opening: door\n"))).toBeGreaterThan(hiddenIn(roofed("")) + 0.02);
});
