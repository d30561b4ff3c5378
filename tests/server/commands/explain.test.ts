import { expect, test } from "vitest";
import { lodebook } from "./run.ts";

test("explain tells a code, lists all, and helps with a mistyped one", () => {
	expect(lodebook("explain", "method/low-latitude").stdout).toContain("Right-angle laser too close to the equator");
	expect(lodebook("explain").stdout.trim().split("\n").length).toBeGreaterThan(60);
	expect(lodebook("explain", "method/low-lattitude")).toMatchObject({
		status: 2,
		stderr: expect.stringContaining("did you mean method/low-latitude?"),
	});
});
