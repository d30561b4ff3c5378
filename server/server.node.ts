/** Entry of the desktop extension's server process. */
import { serveParent } from "./main.node.ts";

serveParent();
