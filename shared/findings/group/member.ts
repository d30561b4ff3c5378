/** What the rules of a group have in common. */

import type { Cell } from "../../plan/plan.ts";
import type { GroupMember } from "../../plan/reuse.ts";
import { at } from "../finding.ts";

/** Cells that an example of a group leaves to its members' plans. */
export const OF_KITS = { lens: null, tracker: null, method: null, targets: null } as const;

/** Where a finding about a member stands: at the name, or at the entry that has none. */
export function atMember(cell: Cell, { place }: Pick<GroupMember, "place">) {
	const name = `${place}.name`;
	return at(cell, cell.read.places.has(name) ? name : `${place}`);
}
