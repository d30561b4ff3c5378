/** The set-ups of the README, each as it stands there, in the editors that are installed. */
import { spawnSync } from "node:child_process";
import { chmodSync, mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { delimiter, join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";
import { CLI } from "../server/client.ts";

const here = (name: string): string => fileURLToPath(new URL(name, import.meta.url));
const runs = (program: string, ...args: string[]): boolean => spawnSync(program, args).status === 0;

const EDITORS = [
	{
		name: "Neovim",
		language: "lua",
		there: runs("nvim", "--version"),
		run: ["nvim", "--headless", "-u", "NONE", "-c", `luafile ${here("neovim.lua")}`],
	},
	{
		name: "Emacs",
		language: "elisp",
		there: runs("emacs", "--batch", "--eval", "(progn (package-initialize) (require 'eglot))"),
		run: ["emacs", "--batch", "--load", here("emacs.el")],
	},
];

for (const { name, there } of EDITORS)
	if (!there) console.log(`${name} with a language client is not installed: its set-up is not tested.`);

/** The set-up for an editor, as the README has it. */
const setUp = (language: string): string =>
	new RegExp(`\`\`\`${language}\\n([\\s\\S]*?)\`\`\``).exec(readFileSync(here("../../README.md"), "utf8"))?.[1] ?? "";

describe.each(EDITORS)("$name", ({ language, there, run: [program = "", ...args] }) => {
	test.skipIf(!there)(
		"the README's set-up brings findings and hovers",
		() => {
			const folder = mkdtempSync(join(tmpdir(), "lodebook-editors-"));
			const sample = readFileSync(here("../../samples/roofless-chapel.lode.yaml"), "utf8");
			const [plan, setup] = [join(folder, "chapel.lode.yaml"), join(folder, "set-up")];
			writeFileSync(plan, sample.replace("eta Virginis\n", "Sabik\n"));
			expect(setUp(language)).toContain("lodebook");
			writeFileSync(setup, setUp(language));
			writeFileSync(join(folder, "lodebook"), `#!/bin/sh\nexec "${process.execPath}" "${CLI}" "$@"\n`);
			chmodSync(join(folder, "lodebook"), 0o755);
			const { stdout, stderr } = spawnSync(program, args, {
				encoding: "utf8",
				timeout: 240_000,
				env: {
					...process.env,
					PATH: `${folder}${delimiter}${process.env.PATH}`,
					LODEBOOK_PLAN: plan,
					LODEBOOK_SETUP: setup,
				},
			});
			const out = stdout + stderr;
			expect(out).toMatch(/39:15 (?:lodebook )?.*Sabik never comes closer than 15\.8°/);
			expect(out).toContain("Pole altitude");
		},
		300_000,
	);
});
