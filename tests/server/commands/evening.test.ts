import { mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, test } from "vitest";
import { chapel, lodebook } from "./run.ts";

test("the evening as text and as JSON", () => {
	const { stdout, status } = lodebook("evening", chapel);
	expect(status).toBe(0);
	expect(stdout).toMatch(/^Safety\n(?: {2}- .*\n)+\nThe evening\n/);
	expect(stdout).toContain("If the alignment is lost");
	const { evening, alignmentLost } = JSON.parse(lodebook("evening", chapel, "--json").stdout);
	expect(JSON.parse(lodebook("show", chapel, "--json").stdout)).toMatchObject({ evening, alignmentLost });
	const align = evening.find(({ kind }: { kind: string }) => kind === "align");
	expect(align).toMatchObject({
		of: "square-laser",
		fixed: true,
		fallbacks: [{ method: "landmark-bearing", latest: "2027-06-05T20:15:00-03:00" }],
	});
	expect(alignmentLost[0]).toMatchObject({ at: "2027-06-05T20:30:00-03:00", planned: 12 });
	expect(alignmentLost[0].methods[1]).toMatchObject({ kind: "landmark-bearing", marks: ["water tower"], frames: 12 });
});

test("--write puts the placed times into the file, or leaves it as it is and says why", () => {
	const copy = join(mkdtempSync(join(tmpdir(), "lodebook-")), "copy.lode.yaml");
	const text = readFileSync(chapel, "utf8").replace('    from: "20:30"\n', "");
	writeFileSync(copy, text);
	expect(lodebook("evening", copy, "--write")).toMatchObject({ status: 0, stdout: "" });
	const after = readFileSync(copy, "utf8");
	expect(after).toContain('    from: "20:13"');
	expect(lodebook("check", copy, "--fail-on", "warning").status).toBe(0);
	expect(lodebook("evening", copy, "--write")).toMatchObject({
		status: 2,
		stderr: expect.stringContaining("already has its time"),
	});
	expect(readFileSync(copy, "utf8")).toBe(after);
	writeFileSync(copy, "plan:\n  title: A\n");
	expect(lodebook("evening", copy)).toMatchObject({ status: 2, stdout: "" });
	expect(lodebook("evening", copy, "--write")).toMatchObject({ status: 2, stdout: "" });
});
