/** How wide a target is on the sky. */
import { objectOf } from "../../notation/sky-object.ts";
import type { SkyBody } from "../../sky/place.ts";
import type { TargetEntry } from "./keys.ts";

/** The longer side as maps have it, degrees; undefined where nothing is known, and for constellations, of which a part is enough. */
export function sizeOnMaps(body: SkyBody | undefined): number | undefined {
	const object = objectOf(body);
	return object && object.kind !== "constellation" ? object.size[0] : undefined;
}

/** The longer side, degrees: as the plan says, else as maps have it. */
export const sizeOf = ({
	entry,
	body,
}: {
	readonly entry: TargetEntry;
	readonly body: SkyBody | undefined;
}): number | undefined => entry.extent ?? sizeOnMaps(body);
