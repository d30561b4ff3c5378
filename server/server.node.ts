/** The server's process: started by the desktop extension, or by `lodebook lsp`. */
import "./compile-late.node.ts";
import "./small-heap.node.ts";
import { serveParent, serveStdio } from "./main.node.ts";

if (process.argv.includes("--stdio")) serveStdio();
else serveParent();
