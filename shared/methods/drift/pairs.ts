/** Pairs of stars for a drift test tonight: up when one is ready, far apart in hour angle, the best first. */
import { radius95Of } from "../../alignment/budget.ts";
import { isTooClose } from "../../alignment/pairs.ts";
import { type EpochMs, minuteUp } from "../../earth/zone.ts";
import { hiddenBy } from "../../sky/cover.ts";
import type { Direction } from "../../sky/horizontal.ts";
import { apparentDirection, equatorialPlace, findBody, type SkyBody } from "../../sky/place.ts";
import { starAt, starColumns } from "../../sky/stars.ts";
import { halfTurn, RAD } from "../../sky/vector.ts";
import { asYaml, scalarText } from "../../text/scalar.ts";
import { told } from "../../text/sentence.ts";
import type { Candidate } from "../method.ts";
import type { Tonight } from "../tonight.ts";
import type { Content, DriftSetUp } from "./drift.ts";
import { words } from "./words.ts";

/** Two stars, the first of which sets first. */
export interface DriftPair extends Candidate {
	readonly names: readonly [string, string];
	readonly content: Content;
	/** Hour angle between them, degrees. */
	readonly spread: number;
	/** Axis error that it leaves, 95 %, degrees. */
	readonly radius95: number;
}

/** Stars that a photo shows at once, down to this magnitude; not where the air blurs them or the camera is hard to aim. Common practice, no source. */
const FAINTEST = 2.5;
const [LOWEST, HIGHEST] = [20, 75];
const MOST = 6;
const TRIED = 16;
const HALF_HOUR_MS = 1_800_000;

/** The first moment at which stars far enough apart are up, from being ready on, with its pairs; none where the night has none. */
export function driftPairs(
	content: Content,
	tonight: Tonight,
	setUp: (content: Content, tonight: Tonight) => DriftSetUp,
): readonly DriftPair[] {
	const { ready, onSite, night, due, spot, remember } = tonight;
	return remember(`drift pairs ${JSON.stringify(content)} ${ready} ${due}`, () => {
		// Stars are easily found in the dark; where the frames come before it, in twilight.
		const dark = night.sunDark.find(({ until }) => until > ready)?.from ?? ready;
		const first = minuteUp(due === undefined || dark < due ? Math.max(ready, dark) : ready);
		for (let at = first; at < onSite.until; at += HALF_HOUR_MS) {
			const found = pairsAt(at);
			if (found.length > 0) return found;
		}
		return [];
	});

	function pairsAt(at: EpochMs): readonly DriftPair[] {
		const seen = starsUp(tonight, at).map((body) => ({ body, hour: equatorialPlace(body, spot, at).hourAngle }));
		const own = findBody(content.first?.star ?? "");
		const firsts = own ? [{ body: own, hour: equatorialPlace(own, spot, at).hourAngle }] : seen;
		return firsts
			.flatMap((one) => seen.map((other) => ({ one, other, spread: halfTurn(one.hour - other.hour) })))
			.filter(({ spread }) => (own || spread > 0) && !isTooClose(Math.abs(spread)))
			.map((pair) => ({ ...pair, cost: costOf(pair.spread, [pair.one.body, pair.other.body]) }))
			.sort((a, b) => a.cost - b.cost)
			.slice(0, TRIED)
			.flatMap(({ one, other }) => pairOf(one.body.name, other.body.name))
			.slice(0, MOST);
	}

	function pairOf(one: string, other: string): readonly DriftPair[] {
		const pair = { ...content, first: { ...content.first, star: one }, second: { ...content.second, star: other } };
		const found = setUp(pair, tonight);
		const { obstacles, windows, at, spread, marks } = found;
		if (obstacles.length > 0 || windows.length === 0 || at === undefined || spread === undefined) return [];
		// At the minutes of its own frames too.
		if (!content.first?.star && !marks.every(({ direction }) => isInReach(direction))) return [];
		const star = (name: string) => asYaml(`{ star: ${scalarText(name, { flow: true })} }`);
		return [
			{
				name: told(words.pair({ first: one, second: other })),
				names: [one, other],
				content: pair,
				keys: { first: star(one), second: star(other) },
				at,
				direction: undefined,
				miss: undefined,
				spread,
				radius95: radius95Of(found),
			},
		];
	}
}

/** Smaller is better: the error grows as 1 / sin of the hour angle between them; brighter stars are found sooner. */
const costOf = (spread: number, bodies: readonly SkyBody[]): number =>
	1 / Math.abs(Math.sin(spread * RAD)) +
	bodies.reduce((sum, body) => sum + (body.type === "star" ? 0.05 * Math.max(0, body.star.magnitude) : 0), 0);

const isInReach = ({ altitude }: Direction): boolean => altitude >= LOWEST && altitude <= HIGHEST;

function starsUp({ spot, cover }: Tonight, at: EpochMs): readonly (SkyBody & { readonly type: "star" })[] {
	const { magnitude } = starColumns();
	const bright: number[] = [];
	magnitude.forEach((value, index) => {
		if (value <= FAINTEST) bright.push(index);
	});
	return bright.flatMap((index) => {
		const star = starAt(index);
		const body = { type: "star", name: star.name, star } as const;
		const direction = apparentDirection(body, spot, at);
		return isInReach(direction) && !hiddenBy(cover, direction) ? [body] : [];
	});
}
