/** What is written of lines of the sky stands in the sky, on the whole strip and on each part of it. */
import { readdirSync, readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { check } from "../../shared/findings/check.ts";
import { boxOf, NAME_SIZE, wholeOf, windowsOf } from "../../shared/outputs/page/names.ts";
import { stillNames } from "../../shared/outputs/page/panorama-names.ts";
import { xOf, yOf } from "../../shared/outputs/page/sky-paths.ts";
import { pageView } from "../../shared/outputs/page/view.ts";
import { evaluateText } from "../plan-text.ts";

const samples = new URL("../../samples/", import.meta.url);
const plans = readdirSync(samples)
	.filter((name) => name.endsWith(".lode.yaml"))
	.map((name) => [name, readFileSync(new URL(name, samples), "utf8")] as const);
test.each(plans)("%s", (name, text) => {
	const evaluation = evaluateText(text);
	const { panorama } = pageView(evaluation, check(evaluation));
	if (!panorama) return expect(name).toBe("mistakes.lode.yaml");
	const { frame, skyline } = panorama;
	let written = 0;
	for (const window of [wholeOf(panorama), ...windowsOf(panorama, 2), ...windowsOf(panorama, 4)])
		for (const one of stillNames(panorama, [], window).filter(({ text }) =>
			/^(meridian|celestial equator)$/.test(text),
		)) {
			written++;
			const { left, right, bottom } = boxOf(one.text, one, NAME_SIZE);
			for (const [bearing, altitude] of skyline)
				for (const by of [0, frame.width]) {
					const x = xOf(frame, bearing) + by;
					if (x > left && x < right) expect(bottom, `${one.text} at ${x}`).toBeLessThanOrEqual(yOf(frame, altitude));
				}
		}
	expect(written).toBeGreaterThan(0);
});
