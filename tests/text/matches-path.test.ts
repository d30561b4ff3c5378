import { expect, test } from "vitest";
import { matchesPath } from "../../shared/text/matches-path.ts";

test.each([
	["drafts", "drafts/a.lode.yaml", true],
	["drafts/", "drafts/old/a.lode.yaml", true],
	["drafts", "plans/drafts/a.lode.yaml", false],
	["**/drafts", "plans/drafts/a.lode.yaml", true],
	["**/drafts", "drafts/a.lode.yaml", true],
	["old/**/2025-*.lode.yaml", "old/2025-05.lode.yaml", true],
	["old/**/2025-*.lode.yaml", "old/a/b/2025-05.lode.yaml", true],
	["old/**/2025-*.lode.yaml", "old/a/b/2026-05.lode.yaml", false],
	["*.lode.yaml", "a.lode.yaml", true],
	["*.lode.yaml", "b/a.lode.yaml", false],
	["a*b*c", "axxbyyc", true],
	["a*b*c", "ab", false],
	["a*a", "a", false],
	["./plans/x.lode.yaml", "plans/x.lode.yaml", true],
	["**", "a/b", true],
	["", "a", false],
	["..", "a", false],
	["a.c", "abc", false],
])("%s names %s: %s", (pattern, path, is) => {
	expect(matchesPath(pattern, path)).toBe(is);
});

test("whatever the pattern, it ends within the time of a test", () => {
	expect(matchesPath(`${"**/".repeat(300)}x`, "a/".repeat(2000))).toBe(false);
	expect(matchesPath(`${"**/a/".repeat(190)}x`, "a/".repeat(2000))).toBe(false);
	expect(matchesPath(`${"*a".repeat(400)}b`, "a".repeat(5000))).toBe(false);
});
