import { execFileSync } from "node:child_process";
import { existsSync } from "node:fs";
import { Command } from "commander";
import type { CheckedPlan, Output } from "../../shared/outputs/output.ts";
import { CannotRun, readText } from "../files.node.ts";
import { checkedPlan } from "../library.node.ts";
import { outputOptions } from "../output-options.node.ts";

export function compareCommand(outputs?: readonly Output[]): Command {
	const forms = outputOptions("states", outputs);
	const command = new Command("compare")
		.description(
			"Compares two plans, or two states of one: which keys changed, and which computed values and findings with them. A change smaller than a value's rounding is not listed.",
		)
		.argument("<old>", "a plan file, or REVISION:PATH of the git repository")
		.argument("<new>", "the same");
	return forms
		.addTo(command)
		.addHelpText(
			"after",
			"\nExamples:\n  lodebook compare HEAD:plans/chapel.lode.yaml plans/chapel.lode.yaml\n  lodebook compare main:plans/chapel.lode.yaml HEAD:plans/chapel.lode.yaml --markdown",
		)
		.action((before: string, after: string, options: object) => {
			const asked = forms.asked(options);
			const states = { before: stateOf(before), after: stateOf(after) };
			process.stdout.write(asked.text(states, `${before}, ${after}`));
		});
}

function stateOf(source: string): CheckedPlan {
	const { path, text } = textOf(source);
	return checkedPlan(source, text, path);
}

/** A file's text, or that of a revision. What the plan takes from others is read as it is in the folder now. */
function textOf(source: string): { readonly path: string; readonly text: string } {
	// A revision that starts with a dash would be read as an option of git.
	const revision = /^([^:-][^:]*):(.+)$/s.exec(source);
	if (!revision || existsSync(source)) return { path: source, text: readText(source) };
	const [, , path = ""] = revision;
	try {
		// cat-file runs none of the filters and programs that a repository's settings may name.
		const bytes = execFileSync("git", ["cat-file", "blob", source], {
			stdio: ["ignore", "pipe", "pipe"],
			maxBuffer: 64 * 1024 * 1024,
		});
		return { path, text: new TextDecoder("utf-8", { ignoreBOM: true }).decode(bytes) };
	} catch (error) {
		const said = String((error as { stderr?: unknown }).stderr ?? "").trim();
		throw new CannotRun(`${source} could not be read from git${said ? `: ${said.split("\n")[0]}` : ""}`);
	}
}
