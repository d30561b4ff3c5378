/** The index of methods. A new method is a file and a line here. */

import { drift } from "../alignment/drift.ts";
import type { MethodKind } from "../cells/kinds.ts";
import { compass } from "./compass/compass.ts";
import { landmarkBearing } from "./landmark-bearing/landmark-bearing.ts";
import type { Method } from "./method.ts";
import { phone } from "./phone/phone.ts";
import { poleSighting } from "./pole-sighting/pole-sighting.ts";
import { skyBearing } from "./sky-bearing/sky-bearing.ts";
import { squareLaser } from "./square-laser/square-laser.ts";
import { starSweep } from "./star-sweep/star-sweep.ts";

export const METHODS: Readonly<Record<MethodKind, Method>> = {
	"pole-sighting": poleSighting,
	compass,
	"sky-bearing": skyBearing,
	"landmark-bearing": landmarkBearing,
	"square-laser": squareLaser,
	"star-sweep": starSweep,
	phone,
	drift,
};
