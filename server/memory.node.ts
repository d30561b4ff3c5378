/**
 * The server's process stays small. Left to itself the engine lets garbage grow to several times what is alive before it
 * looks: three times as much memory for a server that mostly waits for a keystroke. Both settings are read whenever the
 * heap is about to grow, so they need not be there from the start.
 */
import { setFlagsFromString } from "node:v8";

export function staySmall(): void {
	// What is new is looked through every megabyte: it is an edit's worth, nearly all of it garbage.
	setFlagsFromString("--semi-space-growth-factor=1");
	// The heap may grow by a fifth over what is alive (and at least by some megabytes) before all of it is looked through.
	setFlagsFromString("--heap-growing-percent=20");
}
