/** The second part of the server's process lies beside the first. */
import { createRequire } from "node:module";
import { Parts, shareParts } from "./parts.ts";

shareParts(new Parts(() => createRequire(__filename)("./server.later.cjs")));
