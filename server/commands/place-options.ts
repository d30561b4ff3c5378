/** Options that name a place: coordinates and lengths as a plan writes them, or plain numbers. */

import { InvalidArgumentError, Option } from "commander";
import { type Axis, readCoordinate } from "../../shared/notation/coordinate.ts";
import { readQuantity } from "../../shared/notation/quantity.ts";
import { sentences, told } from "../../shared/text/sentence.ts";

const words = sentences("command.place-options", {
	writeAsS: "Write it as -32.4123, '32.4123 S' or '32 24 44 S'.",
	writeAsW: "Write it as -54.3622, '54.3622 W' or '54 21 44 W'.",
	latitude: "A latitude is from 90 S to 90 N.",
	longitude: "A longitude is from 180 W to 180 E.",
	writeMetresOr: "Write it in metres or with a unit: {example}.",
});

/** A latitude or longitude, degrees, north and east positive. */
export const coordinate =
	(axis: Axis) =>
	(text: string): number => {
		const reading = readCoordinate(text, axis);
		if (reading.ok) return reading.degrees;
		const isLatitude = axis === "latitude";
		if (reading.why === "out-of-range")
			throw new InvalidArgumentError(told(isLatitude ? words.latitude() : words.longitude()));
		throw new InvalidArgumentError(told(isLatitude ? words.writeAsS() : words.writeAsW()));
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

/** An option with a length, metres; its help says what holds without it with its unit. */
export const lengthOption = (
	flags: string,
	help: string,
	{ example, otherwise, said }: { readonly example: string; readonly otherwise: number; readonly said: string },
): Option => new Option(flags, help).argParser(metres(example)).default(otherwise, said);
