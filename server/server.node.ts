/** The server's process: started by the desktop extension, or by `lodebook lsp`. */
import "./compile-late.node.ts";
import "./small-heap.node.ts";
import { runScript } from "./run-script.node.ts";

runScript(__dirname, "server.node.first.js");
