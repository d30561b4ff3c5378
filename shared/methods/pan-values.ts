/** Values of a turn of the pan from a mark to the pole's bearing: the same for every method that turns it so. */
import { type Value, valuesFor } from "../notation/value.ts";
import { spoken } from "./mark-values.ts";

/**
 * Turn of the pan from a mark to the pole's bearing as hands set it, the tracker's constant error taken off: clockwise
 * positive, −180 … 180 degrees; and its change in a minute.
 */
export interface PanTurn {
	readonly offset: number;
	readonly rate: number;
}

/** Values of a turn, shown at the paths of a method that name the mark: all of one turn, and each by its name. */
export function panValues<P extends string>(at: readonly P[]) {
	const values = valuesFor<P>()("method", {
		"pan-offset": {
			is: "side",
			plus: "clockwise",
			minus: "anticlockwise",
			label: "Pan from {mark} to the pole",
			how: `The pole's bearing minus the mark's and the tracker's constant error, turned the shorter way; seen
				from above.`,
			at,
		},
		"pan-offset-rate": {
			is: "number",
			unit: "° a minute",
			places: 2,
			plus: "clockwise",
			minus: "anticlockwise",
			label: "Pan changes by",
			how: "For a sighting one minute later.",
			at,
		},
	});
	const offset = (mark: string, turn: number): Value =>
		values["pan-offset"](turn, { of: mark, fill: { mark: spoken(mark) } });
	const of = (mark: string, { offset: turn, rate }: PanTurn): readonly Value[] => [
		offset(mark, turn),
		// A landmark stays where it is.
		...(rate === 0 ? [] : [values["pan-offset-rate"](rate, { of: mark })]),
	];
	return { ...values, of, offset };
}
