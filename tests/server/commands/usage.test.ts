/** Calls that cannot be understood: what is said is ours, and the exit status 2. */
import { expect, test } from "vitest";
import { lodebook } from "./run.ts";

const said = (...args: readonly string[]): string => {
	const { status, stderr, stdout } = lodebook(...args);
	expect(status).toBe(2);
	expect(stdout).toBe("");
	return stderr.split("\n")[0] ?? "";
};

test("each way of calling a command wrongly is told in the words of the house", () => {
	expect(said("check")).toBe("path is missing.");
	expect(said("check", "--frobnicate", "x")).toBe("There is no option --frobnicate.");
	expect(said("check", "--fail", "x")).toBe("There is no option --fail. Did you mean --fix?");
	expect(said("shwo", "x")).toBe("There is no command shwo. Did you mean show?");
	expect(said("show", "a", "b")).toBe("show takes 1 argument, not 2.");
	expect(said("lsp", "x")).toBe("lsp takes no argument, not 1.");
	expect(said("nights", "x", "--from")).toBe("--from <date> needs a value.");
	expect(said("nights", "x", "--from", "2027-13-01")).toMatch(/^--from <date> cannot be 2027-13-01\. It must be /);
	expect(said("check", "x", "--fail-on", "bananas")).toMatch(/^--fail-on <severity> cannot be bananas\. Use one of: /);
});
