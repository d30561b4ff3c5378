/** A terminal: colour where it is wanted, and lines beside the answer. */
import { styleText } from "node:util";
import type { Paint } from "../shared/outputs/output.ts";
import { shown } from "../shared/text/shown.ts";

/**
 * NO_COLOR, not empty, keeps colour away (no-color.org); else FORCE_COLOR, not empty, brings it, and with `0` or `false`
 * keeps it away too; else it depends on the terminal.
 */
function isColoured({ NO_COLOR = "", FORCE_COLOR = "", TERM }: NodeJS.ProcessEnv): boolean {
	if (NO_COLOR !== "") return false;
	if (FORCE_COLOR !== "") return FORCE_COLOR !== "0" && FORCE_COLOR !== "false";
	return process.stdout.isTTY === true && TERM !== "dumb";
}

const coloured = isColoured(process.env);

export const paint = (text: string, as: Paint): string =>
	coloured ? styleText(as, text, { validateStream: false }) : text;

/** A line on standard error. Nothing that comes into it from outside ends the line or starts another. */
export const say = (message: string): void => {
	process.stderr.write(`lodebook: ${shown(message)}\n`);
};
