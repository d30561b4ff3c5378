/**
 * The server's process stays small: to be imported before all else. Left to itself the engine lets garbage grow to
 * several times what is alive before it looks: three times as much memory for a server that mostly waits for a keystroke.
 */
import { setFlagsFromString } from "node:v8";

// What is new is looked through every megabyte: it is an edit's worth, nearly all of it garbage.
setFlagsFromString("--semi-space-growth-factor=1");
// Waking other threads for so little takes longer than the work.
setFlagsFromString("--no-parallel-scavenge");
// The heap may grow by a fifth over what is alive (and at least by some megabytes) before all of it is looked through.
setFlagsFromString("--heap-growing-percent=20");
