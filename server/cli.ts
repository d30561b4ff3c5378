/** Entry of the command line. An editor waits for its server: that starts without what the other commands need. */
import "./compile-late.node.ts";
import { serve } from "./serve.node.ts";

const [asked, ...options] = process.argv.slice(2);
if (asked === "lsp" && options.every((option) => option === "--stdio")) serve();
else await import("./command-line.ts");
