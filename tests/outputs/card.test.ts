/** The card: what is live on it as a pure function, and the file in a real browser with the clock set. */
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, readdirSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { isDusk, momentOf, rowAt } from "../../shared/outputs/card/live.ts";

const samples = fileURLToPath(new URL("../../samples", import.meta.url));
