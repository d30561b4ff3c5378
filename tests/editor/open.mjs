// npm run editor: a real VS Code on localhost with the extension and a copy of the samples to play with.
import { cpSync, existsSync, mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { ROOT, serveWorkbench } from "./workbench.mjs";

if (!existsSync(join(ROOT, "dist/server.worker.js"))) {
	console.error("The extension is not built yet: run npm run build first.");
	process.exit(2);
}
const folder = process.argv[2] ?? mkdtempSync(join(tmpdir(), "lodebook-"));
if (!process.argv[2]) cpSync(join(ROOT, "samples"), folder, { recursive: true });
const { url } = await serveWorkbench({ folder, port: Number(process.env.PORT ?? 3131) });
console.log(`VS Code with Lodebook: ${url}\nIt edits ${folder}. Stop it with Ctrl+C.`);
