/** How the command `stars` lists what methods can be pointed at: loaded by that command alone. */
import { driftList } from "./drift/list.ts";
import type { Candidate, Lister } from "./method.ts";
import type { MethodContent, MethodKind } from "./methods.ts";
import { bodyList } from "./sky-bearing/list.ts";
import { guideStarList } from "./square-laser/list.ts";
import { sweepList } from "./star-sweep/list.ts";

const LISTS: Readonly<Partial<Record<MethodKind, unknown>>> = {
	"sky-bearing": { listing: bodyList },
	"square-laser": { listing: guideStarList },
	"star-sweep": { listing: sweepList },
	drift: driftList,
};

export const listOf = (kind: MethodKind): Lister<MethodContent, Candidate> | undefined =>
	LISTS[kind] as Lister<MethodContent, Candidate> | undefined;
