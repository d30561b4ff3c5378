import { mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, test } from "vitest";
import { lodebook, samples } from "./run.ts";

test("stars in the contract's shape, best first, within their reach and in the dark", () => {
	const early = join(mkdtempSync(join(tmpdir(), "lodebook-stars-")), "early.lode.yaml");
	const cave = readFileSync(join(samples, "gannet-cave.lode.yaml"), "utf8");
	writeFileSync(early, cave.replace('arrive: "22:20"', 'arrive: "20:30"'));
	const { aim, stars } = JSON.parse(lodebook("stars", early, "--json").stdout);
	expect(aim.altitude).toBeCloseTo(56.51, 2);
	expect(aim.bearing).toBe(180);
	expect(stars.map(({ name }: { name: string }) => name)).toEqual(["zeta Virginis", "eta Virginis", "upsilon Leonis"]);
	for (const star of stars) {
		expect(Object.keys(star)).toEqual(
			expect.arrayContaining(["name", "hip", "magnitude", "best", "from", "until", "altitude", "bearing", "miss"]),
		);
		expect(star.miss).toBeLessThan(1);
		expect(star.from <= star.best && star.best <= star.until).toBe(true);
	}
});

test("near the equator no star is listed: the laser fails whatever star it is", () => {
	const { stdout } = lodebook("stars", join(samples, "terrace-near-the-line.lode.yaml"), "--reach", "5");
	expect(stdout).toContain("The right-angle laser does not work at this latitude.");
	expect(stdout).not.toMatch(/within reach|No star passes/);
	expect(stdout).toMatch(/Bodies to take a bearing from/);
});
