/** A terminal: colour where it is wanted, and lines beside the answer. */
import { styleText } from "node:util";
import type { Paint } from "../shared/outputs/output.ts";
import { shown } from "../shared/text/shown.ts";

const coloured = process.stdout.isTTY === true && process.env.NO_COLOR === undefined && process.env.TERM !== "dumb";

export const paint = (text: string, as: Paint): string => (coloured ? styleText(as, text) : text);

/** A line on standard error. Nothing that comes into it from outside ends the line or starts another. */
export const say = (message: string): void => {
	process.stderr.write(`lodebook: ${shown(message)}\n`);
};
