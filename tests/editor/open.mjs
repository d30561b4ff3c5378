// npm run editor: a real VS Code on localhost with the extension and a copy of the samples to play with.
import { cpSync, mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { ensureBuilt } from "../built.mjs";
import { ROOT, serveWorkbench } from "./workbench.mjs";

await ensureBuilt();
const folder = process.argv[2] ?? mkdtempSync(join(tmpdir(), "lodebook-"));
if (!process.argv[2]) cpSync(join(ROOT, "samples"), folder, { recursive: true });
const { url } = await serveWorkbench({ folder, port: Number(process.env.PORT ?? 3131) });
console.log(`VS Code with Lodebook: ${url}\nIt edits ${folder}. Stop it with Ctrl+C.`);
