/** The documentation as a site: every page is there, and no link leads nowhere. */
import { expect, test } from "vitest";
import { samplePlans, site, slug } from "./site.mjs";

test("every link of the documentation leads to a page and a heading that are there", () => {
	const { files, wrong } = site(samplePlans());
	expect(wrong).toEqual([]);
	expect([...files.keys()]).toEqual(
		expect.arrayContaining(["index.html", "findings.html", "samples/roofless-chapel.html"]),
	);
	for (const { text } of files.values()) expect(text ?? "").not.toMatch(/<script|\s(?:src|href)="\//);
	expect(slug("Sun: use it only by its `shadow`")).toBe("sun-use-it-only-by-its-shadow");
});

test("a link that leads nowhere is told, to a page or to a heading", () => {
	const { wrong } = site([], (source) =>
		source === "README.md" ? "# One\n\n[a](#one) [b](#two) [c](gone.md) [d](CHANGELOG.md)" : "# Other",
	);
	expect(wrong).toEqual(["README.md: index.html has no heading #two", "README.md: gone.md is not there"]);
});
