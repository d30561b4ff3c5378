/** What the findings of panoramas offer beyond the examples of their rules. */
import { expect, test } from "vitest";
import { applyEdits } from "../../shared/text/edits.ts";
import { checkText, evaluateText, planWith } from "../plan-text.ts";

const band = (bearings: string): string =>
	planWith({
		lens: "focal-length: 180 mm\nf-number: 2\nsensor: 36 x 24 mm\npixels: 6000 x 4000",
		targets: `- name: band\n  aim: { bearings: ${bearings}, altitudes: [5, 30] }\n  panorama: { columns: 3, overlap: 30 % }\n  from: "21:30"\n  exposure: 5 s\n  trail: 60 px`,
	});

test("more columns are offered for the range as it is, one of its bearings read off a compass", () => {
	// What is wide by the digits is not as wide on the ground: the magnetic declination is in it.
	const declination = evaluateText(band("[0 M, 300]")).field?.declination ?? 0;
	const read = (magnetic: number): string => `${(((magnetic + declination) % 360) + 360) % 360}`;
	const fixed = (bearings: string): string | undefined => {
		const text = band(bearings);
		const [found] = checkText(text).filter(({ code }) => /^target.panorama-(gap|overlap)$/.test(code));
		const [fix] = found?.fixes ?? [];
		return fix && /columns: (\d+)/.exec(applyEdits(text, fix.edits))?.[1];
	};
	const wide = fixed("[0, 300]");
	expect(wide).toBeDefined();
	expect(new Set([wide, fixed(`[${read(0)}, 300]`), fixed(`[0, ${read(300)}]`)]).size).toBe(3);
	for (const [typed, meant] of [
		["[0 M, 300]", `[${read(0)}, 300]`],
		["[0, 300 M]", `[0, ${read(300)}]`],
		["[0 M, 300 M]", "[0, 300]"],
	] as const)
		expect(fixed(typed), typed).toBe(fixed(meant));
});
