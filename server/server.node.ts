/** The server's process: started by the desktop extension, or by `lodebook lsp`. */
import "./small-heap.node.ts";
import { serveParent, serveStdio } from "./main.node.ts";

if (process.argv.includes("--stdio")) serveStdio();
else serveParent();
