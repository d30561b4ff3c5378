import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";
import { CLI } from "../server/client.ts";

const installed = spawnSync("nvim", ["--version"]).status === 0;
if (!installed) console.log("Neovim is not installed: the generic client is not tested.");

describe.skipIf(!installed)("a generic editor's client (Neovim, headless)", () => {
	test("diagnostics and hover arrive", () => {
		const plan = join(mkdtempSync(join(tmpdir(), "lodebook-nvim-")), "chapel.lode.yaml");
		const sample = readFileSync(
			fileURLToPath(new URL("../../samples/roofless-chapel.lode.yaml", import.meta.url)),
			"utf8",
		);
		writeFileSync(plan, sample.replace("eta Virginis\n", "Sabik\n"));
		const script = fileURLToPath(new URL("check.lua", import.meta.url));
		const { stdout, stderr } = spawnSync("nvim", ["--headless", "-u", "NONE", "-c", `luafile ${script}`], {
			encoding: "utf8",
			timeout: 240_000,
			env: { ...process.env, LODEBOOK_PLAN: plan, LODEBOOK_SERVER: CLI, LODEBOOK_NODE: process.execPath },
		});
		const out = stdout + stderr;
		expect(out).toMatch(/39:15 lodebook Sabik never comes closer than 15\.8°/);
		expect(out).toContain("Pole altitude");
	}, 300_000);
});
