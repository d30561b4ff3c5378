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
	unit: "Alone, {value} is metres, which is not likely here: write its unit, such as {example}.",
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

/** A length, metres; a number without a unit is taken as metres where that is likely. */
export const metres =
	(example: string, [least, most]: readonly [least: number, most: number] = [-Infinity, Infinity]) =>
	(text: string): number => {
		const plain = Number(text);
		if (text.trim() !== "" && Number.isFinite(plain)) {
			if (plain < least || plain > most) throw new InvalidArgumentError(told(words.unit({ value: text, example })));
			return plain;
		}
		const reading = readQuantity(text, "length");
		if (!reading.ok) throw new InvalidArgumentError(told(words.writeMetresOr({ example })));
		return reading.value;
	};

/** An option with a length, metres; its help says what holds without it with its unit. */
export const lengthOption = (flags: string, help: string, { example, otherwise, said, alone }: LengthOption): Option =>
	new Option(flags, help).argParser(metres(example, alone)).default(otherwise, said);

interface LengthOption {
	readonly example: string;
	readonly otherwise: number;
	readonly said: string;
	/** From and to which a number without a unit is likely to be metres. */
	readonly alone?: readonly [least: number, most: number];
}
