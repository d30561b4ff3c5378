/** Options that name a place: coordinates and lengths as a plan writes them, or plain numbers. */
import { InvalidArgumentError } from "commander";
import { type Axis, readCoordinate } from "../../shared/notation/coordinate.ts";
import { readQuantity } from "../../shared/notation/quantity.ts";

/** A latitude or longitude, degrees, north and east positive. */
export const coordinate =
	(axis: Axis) =>
	(text: string): number => {
		const reading = readCoordinate(text, axis);
		if (!reading.ok)
			throw new InvalidArgumentError(
				axis === "latitude"
					? "Write it as -32.4123, '32.4123 S' or '32 24 44 S'."
					: "Write it as -54.3622, '54.3622 W' or '54 21 44 W'.",
			);
		return reading.degrees;
	};

/** A length, metres. */
export const metres =
	(example: string) =>
	(text: string): number => {
		const plain = Number(text);
		if (text.trim() !== "" && Number.isFinite(plain)) return plain;
		const reading = readQuantity(text, "length");
		if (!reading.ok) throw new InvalidArgumentError(`Write it in metres or with a unit: ${example}.`);
		return reading.value;
	};
