import { mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, test } from "vitest";
import { lodebook } from "./run.ts";

const table = (text: string): string => {
	const path = join(mkdtempSync(join(tmpdir(), "lodebook-")), "walls.csv");
	writeFileSync(path, text);
	return path;
};

test("a compass survey becomes true bearings, sorted; a bad line is named", () => {
	const survey = table("# walls\nbearing;altitude\n120;18,5\n350;4\n10;5\n");
	expect(lodebook("skyline", survey).stdout).toBe("skyline: [[10, 5], [120, 18.5], [350, 4]]\n");
	expect(lodebook("skyline", survey, "--declination", "12.5").stdout).toBe(
		"skyline: [[2.5, 4], [22.5, 5], [132.5, 18.5]]\n",
	);
	expect(lodebook("skyline", table("10, 5\n370, 4\n"))).toMatchObject({
		status: 2,
		stderr: expect.stringContaining("line 2: expected a bearing from 0° to 360°, found 370°"),
	});
	expect(lodebook("skyline", table("10, 5, 6\n")).status).toBe(2);
	expect(lodebook("skyline", table("\n")).status).toBe(2);
});
