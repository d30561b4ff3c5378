import { existsSync, mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, test } from "vitest";
import YAML from "yaml";
import { chapel, lodebook } from "./run.ts";

test("new: a plan that checks clean; from another, with a new date; never over a file", () => {
	const folder = mkdtempSync(join(tmpdir(), "lodebook-"));
	const out = join(folder, "knoll.lode.yaml");
	const place = ["--site", "Windy knoll", "--latitude", "51.2 N", "--longitude", "3.4 W", "--date", "2027-10-02"];
	expect(lodebook("new", ...place, "-o", out).status).toBe(0);
	expect(lodebook("check", out)).toMatchObject({ status: 0, stdout: "1 plan checked: no problems found.\n" });
	// What nobody said is not in it: tiles and cautions would trust it.
	const { site } = YAML.parseAllDocuments(readFileSync(out, "utf8"))
		.map((one) => one.toJS())
		.find((one) => "site" in one);
	expect(Object.keys(site)).toEqual(["name", "latitude", "longitude", "timezone", "skyline"]);
	writeFileSync(out, readFileSync(out, "utf8").replace("[[0, 0]]", "[[0, 47]]"));
	expect(lodebook("check", out).stdout).toContain("The skyline rises to 47°.");
	expect(lodebook("new", ...place, "-o", out)).toMatchObject({
		status: 2,
		stderr: expect.stringContaining("is not overwritten"),
	});
	expect(lodebook("new", "--from", out, "--date", "2027-11-05").stdout).toContain("date: 2027-11-05");
	expect(lodebook("new", "--site", "Nowhere")).toMatchObject({
		status: 2,
		stderr: expect.stringContaining("--latitude"),
	});
});

test("an empty name is refused, for the site and for the title", () => {
	const place = ["--latitude", "51.2 N", "--longitude", "3.4 W", "--date", "2027-10-02"];
	for (const args of [
		["--site", "", ...place],
		["--site", " \t", ...place],
		["--site", "a", "--title", "", ...place],
		["--from", chapel, "--date", "2027-10-02", "--title", " "],
	])
		expect(lodebook("new", ...args)).toMatchObject({
			status: 2,
			stdout: "",
			stderr: expect.stringMatching(/^lodebook: --(site|title) is empty: give a name[^\n]+\n$/),
		});
});

test("from one pole to the other: a plan without an error, and what it is not clean of is said", () => {
	const folder = mkdtempSync(join(tmpdir(), "lodebook-"));
	let spoken = 0;
	const latitudes = ["90 N", "89.9 N", "85 N", "68 N", "0", "-0.0001", "68 S", "90 S"];
	for (const [i, latitude] of latitudes.entries())
		for (const date of ["2027-06-12", "2027-12-02"]) {
			const out = join(folder, `${i}-${date}.lode.yaml`);
			const args = ["--site", "Here", `--latitude=${latitude}`, "--longitude", "3 E", "--date", date, "-o", out];
			const { status, stderr } = lodebook("new", ...args);
			expect(status, `${latitude}, ${date}: ${stderr}`).toBe(0);
			const { files, summary } = JSON.parse(lodebook("check", out, "--json").stdout);
			expect(summary.errors, `${latitude}, ${date}`).toBe(0);
			const said = stderr.split("\n").filter((line) => line.startsWith("lodebook: The plan has a finding: "));
			expect(said.map((line) => line.replace("lodebook: The plan has a finding: ", ""))).toEqual(
				files[0].findings.map(({ message }: { message: string }) => message),
			);
			spoken += said.length;
		}
	expect(spoken).toBeGreaterThan(0);
});

test("an evening for which no plan is without errors: refused with what is wrong, and nothing is written", () => {
	const out = join(mkdtempSync(join(tmpdir(), "lodebook-")), "x.lode.yaml");
	const place = ["--site", "Knoll", "--latitude", "51.2 N", "--longitude", "3.4 W"];
	expect(lodebook("new", ...place, "--date", "2150-06-05", "-o", out)).toMatchObject({
		status: 2,
		stderr: expect.stringMatching(/^lodebook: Every plan for this place and evening has an error: 2150[^\n]+\n$/),
	});
	expect(existsSync(out)).toBe(false);
});
