/**
 * Whether a constant error of a scale is to be written into the tracker: the one judgement behind the finding, the values
 * and what is told of many plans.
 */
import type { ConstantError } from "../../alignment/constant-error.ts";
import type { ScaledPart } from "../../methods/method.ts";
import { hundredths, type Zeros } from "../tracker/zeros.ts";

/** `apart`: the evenings disagree; `unclear`: chance may explain it; `small`: no scale is set so finely. */
export type Judgement = "clear" | "apart" | "unclear" | "small";

/** The parts of a head that may have a scale. */
export const SCALED: readonly ScaledPart[] = ["tilt", "pan"];
/** A constant error is worth a word from this many of its own spreads on. */
const SIGMAS = 2;
/** And from so much on, degrees: no scale is set finer. Common practice, no source. */
const LEAST = 0.05;

/** What is to be thought of a constant beside what the steps correct for already. */
export function judged({ value, spread, apart }: ConstantError, known: number): Judgement {
	if (apart !== undefined) return "apart";
	const more = Math.abs(value - known);
	if (more <= LEAST) return "small";
	return more > SIGMAS * spread ? "clear" : "unclear";
}

/** The constants as they are written down, the clear ones alone. Undefined where nothing is left to write. */
export function toWrite(
	constant: Readonly<Partial<Record<ScaledPart, ConstantError>>>,
	inForce: Zeros,
): Partial<Zeros> | undefined {
	const clear = SCALED.flatMap((part) => {
		const found = constant[part];
		return found && judged(found, inForce[part]) === "clear" ? [[part, hundredths(found.value)] as const] : [];
	});
	return clear.length > 0 ? Object.fromEntries(clear) : undefined;
}
