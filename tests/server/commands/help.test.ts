import { expect, test } from "vitest";
import { lodebook } from "./run.ts";

test("every command has help with an example", () => {
	for (const command of ["check", "show", "stars", "locate", "explain", "lsp"]) {
		const { status, stdout } = lodebook(command, "--help");
		expect(status).toBe(0);
		expect(stdout).toMatch(/Example/);
	}
	expect(lodebook("--version").stdout.trim()).toMatch(/^\d+\.\d+\.\d+$/);
});
