import { mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, test } from "vitest";
import { lodebook } from "./run.ts";

test("new: a plan that checks clean; from another, with a new date; never over a file", () => {
	const folder = mkdtempSync(join(tmpdir(), "lodebook-"));
	const out = join(folder, "knoll.lode.yaml");
	const place = ["--site", "Windy knoll", "--latitude", "51.2 N", "--longitude", "3.4 W", "--date", "2027-10-02"];
	expect(lodebook("new", ...place, "-o", out).status).toBe(0);
	expect(lodebook("check", out)).toMatchObject({ status: 0, stdout: "1 plan checked: nothing to mend.\n" });
	expect(lodebook("new", ...place, "-o", out)).toMatchObject({
		status: 2,
		stderr: expect.stringContaining("not written over"),
	});
	expect(lodebook("new", "--from", out, "--date", "2027-11-05").stdout).toContain("date: 2027-11-05");
	expect(lodebook("new", "--site", "Nowhere")).toMatchObject({
		status: 2,
		stderr: expect.stringContaining("--latitude"),
	});
});
