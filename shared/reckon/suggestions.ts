/** Guide stars, bodies and pairs that work tonight for a plan's methods: searched for once, whoever asks. */
import { aimPoint } from "../alignment/aim-point.ts";
import { type GuideStar, guideStars } from "../alignment/guide-stars.ts";
import type { Tonight } from "../alignment/method.ts";
import { type BearingBody, bearingBodies } from "../alignment/other-marks.ts";
import { DEFAULT_OFFSET, DEFAULT_REACH } from "../alignment/square-laser.ts";
import { remembered } from "../memo.ts";
import type { MethodCell } from "../plan/cells.ts";
import type { Reckoning } from "../reckon.ts";

const search = remembered((offset: number, reach: number, tonight: Tonight): readonly GuideStar[] => {
	const aim = aimPoint(tonight.stand.latitude, offset);
	const dark = guideStars(aim, tonight, { reach });
	return dark.length > 0 ? dark : guideStars(aim, tonight, { reach, twilight: true });
}, 8);

/** Guide stars of a laser method tonight, best first: those in the dark, or bright ones in twilight when there are none. */
export const starsFor = (method: MethodCell | undefined, tonight: Tonight): readonly GuideStar[] =>
	search(method?.offset ?? DEFAULT_OFFSET, method?.reach ?? DEFAULT_REACH, tonight);

/** Guide stars of the plan's first laser method. */
export function starsOf({ tonight, methods }: Reckoning): readonly GuideStar[] {
	const method = methods.map(({ value }) => value?.cell).find((cell) => cell?.kind === "square-laser");
	return tonight && method ? starsFor(method, tonight) : [];
}

const bodies = remembered((tonight: Tonight): readonly BearingBody[] => bearingBodies({}, tonight), 4);

/** Bodies whose bearing serves tonight, the finest first. */
export const bodiesOf = ({ tonight }: Reckoning): readonly BearingBody[] => (tonight ? bodies(tonight) : []);
