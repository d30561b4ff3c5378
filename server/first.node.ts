/** The server in Node, its first part: what is needed while one types. */
import { serveParent, serveStdio } from "./main.node.ts";
import { Parts, shareParts } from "./parts.ts";
import { runScript } from "./run-script.node.ts";

shareParts(new Parts(() => runScript(__dirname, "server.node.later.js")));
if (process.argv.includes("--stdio")) serveStdio();
else serveParent();
