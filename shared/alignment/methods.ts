/** The index of methods. A new method is a file and a line here. */
import type { MethodKind } from "../plan/cells.ts";
import { compass } from "./compass.ts";
import { drift } from "./drift.ts";
import { landmarkBearing } from "./landmark-bearing.ts";
import type { Method } from "./method.ts";
import { phone } from "./phone.ts";
import { poleSighting } from "./pole-sighting.ts";
import { skyBearing } from "./sky-bearing.ts";
import { squareLaser } from "./square-laser.ts";
import { starSweep } from "./star-sweep.ts";

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
