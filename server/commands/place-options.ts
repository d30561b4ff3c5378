/** Options that name a place: coordinates and lengths as a plan writes them, or plain numbers. */

import { InvalidArgumentError } from "commander";
import { type Axis, readCoordinate } from "../../shared/notation/coordinate.ts";
import { readQuantity } from "../../shared/notation/quantity.ts";
import { sentences, told } from "../../shared/text/sentence.ts";

const words = sentences("command.place-options", {
	writeAsS: "Write it as -32.4123, '32.4123 S' or '32 24 44 S'.",
	writeAsW: "Write it as -54.3622, '54.3622 W' or '54 21 44 W'.",
	writeMetresOr: "Write it in metres or with a unit: {example}.",
});

/** A latitude or longitude, degrees, north and east positive. */
export const coordinate =
	(axis: Axis) =>
	(text: string): number => {
		const reading = readCoordinate(text, axis);
		if (!reading.ok)
			throw new InvalidArgumentError(axis === "latitude" ? told(words.writeAsS()) : told(words.writeAsW()));
		return reading.degrees;
	};

/** A length, metres. */
export const metres =
	(example: string) =>
	(text: string): number => {
		const plain = Number(text);
		if (text.trim() !== "" && Number.isFinite(plain)) return plain;
		const reading = readQuantity(text, "length");
		if (!reading.ok) throw new InvalidArgumentError(told(words.writeMetresOr({ example })));
		return reading.value;
	};
