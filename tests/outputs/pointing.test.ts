/** Where the camera looks, in one line. */
import { describe, expect, test } from "vitest";
import { pointingOf, pointingText } from "../../shared/outputs/pointing.ts";
import { shotList } from "../../shared/outputs/shot-list.ts";
import { evaluateText, planWith } from "../plan-text.ts";

const NOTE = " (near the zenith: aim by stars)";

describe("near the zenith", () => {
	test.each([
		[80, false],
		[80.1, true],
		[89.9, true],
		[-85, false],
	])("at altitude %d°", (altitude, overhead) => {
		const text = pointingText(pointingOf({ azimuth: 205.3, altitude }, { field: undefined }));
		expect(text).toBe(`205.3°T, altitude ${altitude.toFixed(1).replace("-", "−")}°${overhead ? NOTE : ""}`);
	});

	test("the shot list says so", () => {
		const pointing = (altitude: number): string | undefined =>
			shotList(
				evaluateText(
					planWith({
						targets: `- name: overhead\n  aim: { azimuth: 120, altitude: ${altitude} }\n  from: "21:00"\n  exposure: 5 s`,
					}),
				),
			)[0]?.pointing;
		expect(pointing(84)).toMatch(/^\d{3}°M \(120\.0°T\), altitude 84\.0° \(near the zenith: aim by stars\)$/);
		expect(pointing(60)).toMatch(/, altitude 60\.0°$/);
	});
});
