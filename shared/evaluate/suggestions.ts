/** Guide stars, bodies and pairs that work tonight for a plan's methods: searched for once, whoever asks. */
import { aimPoint } from "../alignment/pointer.ts";
import type { MethodContent } from "../cells/kinds.ts";
import type { Tonight } from "../methods/method.ts";
import { type BearingBody, bearingBodies } from "../methods/other-marks.ts";
import { type GuideStar, guideStars } from "../methods/square-laser/guide-stars.ts";
import { DEFAULT_OFFSET, DEFAULT_REACH } from "../methods/square-laser/square-laser.ts";
import type { Evaluation } from "./evaluate.ts";
import { remembered } from "./memo.ts";

const search = remembered((offset: number, reach: number, tonight: Tonight): readonly GuideStar[] => {
	const aim = aimPoint(tonight.spot.latitude, offset);
	const dark = guideStars(aim, tonight, { reach });
	return dark.length > 0 ? dark : guideStars(aim, tonight, { reach, twilight: true });
}, 8);

/** Guide stars of a laser method tonight, best first: those in the dark, or bright ones in twilight when there are none. */
export const starsFor = (method: MethodContent | undefined, tonight: Tonight): readonly GuideStar[] =>
	search(method?.offset ?? DEFAULT_OFFSET, method?.reach ?? DEFAULT_REACH, tonight);

/** Guide stars of the plan's first laser method. */
export function starsOf({ tonight, methods }: Evaluation): readonly GuideStar[] {
	const method = methods.map(({ value }) => value?.content).find((cell) => cell?.kind === "square-laser");
	return tonight && method ? starsFor(method, tonight) : [];
}

const bodies = remembered((tonight: Tonight): readonly BearingBody[] => bearingBodies({}, tonight), 4);

/** Bodies whose bearing serves tonight, the finest first. */
export const bodiesOf = ({ tonight }: Evaluation): readonly BearingBody[] => (tonight ? bodies(tonight) : []);
