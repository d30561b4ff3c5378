/** What `stars` lists of methods that have no search of their own: loaded by that command alone. */
import { driftList } from "./drift/list.ts";
import type { Candidate, Lister } from "./method.ts";
import type { MethodContent, MethodKind } from "./methods.ts";

const LISTS: Readonly<Partial<Record<MethodKind, unknown>>> = { drift: driftList };

export const listOf = (kind: MethodKind): Lister<MethodContent, Candidate> | undefined =>
	LISTS[kind] as Lister<MethodContent, Candidate> | undefined;
