import { mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, test } from "vitest";
import { chapel, lodebook } from "./run.ts";

test("format: --check tells, format mends, and then --check is content", () => {
	const path = join(mkdtempSync(join(tmpdir(), "lodebook-")), "loose.lode.yaml");
	writeFileSync(path, readFileSync(chapel, "utf8").replace('at: "20:01"', "at: 20:01   "));
	expect(lodebook("format", path, "--check")).toMatchObject({ status: 1, stdout: `${path}\n` });
	expect(lodebook("format", path).status).toBe(0);
	expect(readFileSync(path, "utf8").trimEnd()).toBe(readFileSync(chapel, "utf8").trimEnd());
	expect(lodebook("format", path, "--check")).toMatchObject({ status: 0, stdout: "" });
});

test("format leaves bytes that are no UTF-8 as they are", () => {
	const path = join(mkdtempSync(join(tmpdir(), "lodebook-")), "latin.lode.yaml");
	const bytes = Buffer.from([0x70, 0x6c, 0x61, 0x6e, 0x3a, 0x20, 0xe9, 0x20, 0x0a]);
	writeFileSync(path, bytes);
	expect(lodebook("format", path)).toMatchObject({ status: 2, stderr: expect.stringContaining("UTF-8") });
	expect(readFileSync(path).equals(bytes)).toBe(true);
});
