/** What stands in a cell by the model, found once for each entry of a list that stays as it is. */
import type { CellKindName } from "../cells/kinds.ts";
import { KeptBy } from "../memory/memory.ts";
import { ListPlaces, moved, type Place, pathOf } from "./places.ts";
import type { Cell } from "./plan.ts";

/** Looks at a place; nothing it says may follow from offsets, or from the number of an entry of the list. */
export type Pick<T> = (kind: CellKindName, path: string, place: Place) => T | undefined;

export interface Picked<T> {
	readonly path: string;
	readonly place: Place;
	readonly found: T;
}

const memory = new KeptBy<Pick<unknown>, KeptBy<object, readonly Picked<unknown>[]>>();

/** The places of a cell at which something is found, in the order of the text. */
export function* picked<T>(cell: Cell, pick: Pick<T>): Iterable<Picked<T>> {
	const { kind, places } = cell.read;
	if (!kind) return;
	const known = memory.of(pick, () => new KeptBy()) as KeptBy<object, readonly Picked<T>[]>;
	const all = (from: Iterable<readonly [string, Place]>, path: (path: string) => string): readonly Picked<T>[] =>
		[...from].flatMap(([own, place]): Picked<T>[] => {
			const found = pick(kind, path(own), place);
			return found === undefined ? [] : [{ path: own, place, found }];
		});
	if (!(places instanceof ListPlaces)) {
		yield* known.of(places, () => all(places, (path) => path));
		return;
	}
	for (const [index, { start, places: own }] of places.entries.entries())
		for (const { path, place, found } of known.of(own, () => all(own, (inside) => pathOf(0, inside))))
			yield { path: pathOf(index, path), place: moved(place, start), found };
}
