/** Colour on a terminal, where it is wanted. */
import { styleText } from "node:util";
import type { Paint } from "../shared/outputs/output.ts";

const coloured = process.stdout.isTTY === true && process.env.NO_COLOR === undefined && process.env.TERM !== "dumb";

export const paint = (text: string, as: Paint): string => (coloured ? styleText(as, text) : text);
