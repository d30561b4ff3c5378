/**
 * The cautions that belong to a plan. They are the usual ones, and defer to local rules, authorities and licensed
 * guides; sources beside each where there is one.
 */
import type { EvaluatedMethod } from "../cells/method/method.ts";
import { lowWaterOf } from "../cells/night/night.ts";
import type { PlaceKind } from "../cells/site/keys.ts";
import { type EpochMs, wallClock } from "../earth/zone.ts";
import type { Evaluation } from "../evaluate/evaluate.ts";
import { wayOpen } from "../evaluate/way-open.ts";
import type { Hazard } from "../methods/method.ts";
import { degrees } from "../notation/angle.ts";
import { fromSun, NEAR_SUN, SUNSET_ALTITUDE, sunAltitude, sunAt } from "../sky/night.ts";
import { listText } from "../text/list.ts";
import { type Phrase, sentences, told } from "../text/sentence.ts";
import { nightClock } from "./clock.ts";

const words = sentences("output.cautions", {
	// 18 U.S.C. 39A (US); Laser Misuse (Vehicles) Act 2018 (UK); IEC 60825-1 (classes).
	laser: `Laser: use the weakest whose beam you can see. Never point it at or near aircraft, vehicles, people, animals, cameras or
		anything that reflects, and never look into the beam. Let a second person watch the sky; switch it off
		whenever an aircraft or a bird comes near the beam, and before you move the head. Laws on class and power differ; observatories, airports and parks
		have rules of their own: ask first.`,
	notCleared: `Not cleared: the plan does not say that a laser is allowed here. Do not switch it on until you have checked
		the local rules; use a sight instead, or another method.`,
	notClearedFor: `Not cleared for {kits}: nothing in the group says that a laser is allowed here. Do not switch it on for
		them until you have checked the local rules; use a sight instead, or another method.`,
	// Common practice, no source.
	sun: "Sun: never look at it, and never sight it through anything. Use a shadow.",
	sunInFrame: "Sun: it is up and in the frame of {name}, as close as {apart} to its middle (at {time}). {care}",
	sunNearFrame: `Sun: it is up while you aim at and photograph {name}, as close as {apart} to the middle of the frame (at
			{time}). {care}`,
	sunCare: `Aim and focus on the screen, never through an optical finder; keep the lens covered until the exposure; a long
		lens needs a solar filter in front of it.`,
	// Spring tides and being cut off: RNLI; groups and lights in caves: NPS RM-77. Here common practice.
	ground: `Ground: see the site by daylight first. Watch for edges, loose rock, heat and cold. Do not go alone if you can
		help it; tell somebody where you are and when you will be back. Follow local authorities and licensed guides, and
		ask for access.`,
	unknown:
		"In a gorge, watch for rain far upstream; by the sea, for the tide; under rock and old walls, for falling stones.",
	cave: `Cave: ask whether it is open; many are closed while bats breed or winter there. Take a helmet, three lights
		each and somebody with you, and leave word outside.`,
	sea: `Tide: walk in while the water falls, and be out by an hour after low water at the latest. Around new and full Moon
		the tide runs highest and fastest. Swell reaches further than the tide: watch it for a while before you go in.`,
	lowWater: "Low water in the plan: {time}; go in no earlier than {in}, and be out by {out}.",
	noLowWater: "The plan does not say when low water is: look it up in the local tide table.",
	gorge: `Gorge: rain far upstream floods it under a clear sky. Read the forecast for the whole catchment, know the way up,
		and leave at the first sound or change of the water.`,
	rock: `Rock and masonry: do not climb on it or lean on it, and do not work under loose stones; frost, rain and heat
		loosen them. Wear a helmet below a cliff or an arch.`,
	forest: `Forest: do not stop or camp under dead trees or branches, and stay out of it in wind; mark the path back before dark;
		ask about hunting and fire bans.`,
	late: `Late: you finish at {time}. Driving tired is as dangerous as driving drunk: sleep first, or let somebody else drive.`,
	// Common practice, no source.
	magnet: `Compass: batteries, tripods, cars and some rock deflect the needle without any sign. Step away from them,
		and read it twice.`,
});

/** What of a place is dangerous. */
const DANGERS: Readonly<Record<PlaceKind, readonly ("cave" | "sea" | "gorge" | "rock" | "forest")[]>> = {
	"sea-cave": ["cave", "sea"],
	shore: ["sea"],
	cave: ["cave"],
	gorge: ["gorge"],
	ruin: ["rock"],
	arch: ["rock"],
	cliff: ["rock"],
	forest: ["forest"],
	open: [],
};

/** Which of a method's hazards a caution speaks of. */
const HAZARDS: readonly Hazard[] = ["laser", "sun", "magnet"];

/** The cautions that belong to one method, before its steps. */
export function cautionsOf({ method, content }: EvaluatedMethod): readonly string[] {
	const hazards = method.hazards(content);
	return HAZARDS.filter((hazard) => hazards.includes(hazard)).map((name) => told(words[name]()));
}

/** That a method may not be used yet; empty once it may. It is said above its steps. */
export const notClearedText = ({ method, content }: EvaluatedMethod): string =>
	(method.isCleared?.(content) ?? true) ? "" : told(words.notCleared());

/** Who finishes between midnight and this hour drives tired, and who was up at it, however late the end: seconds of day. Common practice, no source. */
const DEAD_OF_NIGHT = 3 * 3600;
const DAY_SECONDS = 86_400;

/** The cautions that belong to a plan: its methods, the Sun in its frames, its site, its end. */
export function cautionsFor(evaluation: Evaluation): readonly string[] {
	const { site, group, ofGroup } = evaluation;
	// The laser of one is a danger to all.
	const kits = [evaluation, ...((group ?? ofGroup?.group)?.kits.flatMap((kit) => kit.evaluation ?? []) ?? [])];
	const hazards = new Set(
		kits.flatMap(({ methods }) => methods).flatMap(({ value }) => value?.method.hazards(value.content) ?? []),
	);
	return [
		...notClearedFor(evaluation),
		...HAZARDS.filter((hazard) => hazards.has(hazard)).map((name) => words[name]()),
		...kits.flatMap(sunInFrames),
		...(site ? [words.ground(), ...placeCautions(evaluation)] : []),
		...lateCaution(evaluation),
	].map(told);
}

/** Of which kits of a group the laser is not cleared: whoever holds it reads that too. */
function notClearedFor({ group, ofGroup }: Evaluation): readonly Phrase[] {
	const kits = ((group ?? ofGroup?.group)?.kits ?? []).filter(({ evaluation }) =>
		evaluation?.methods.some(({ value }) => value && notClearedText(value) !== ""),
	);
	if (kits.length === 0) return [];
	return [words.notClearedFor({ kits: listText(kits.map(({ member }) => member.name)) })];
}

/**
 * That a laser is not cleared, whether it was before or not; and the cautions that a new state of a plan brings. An evening
 * that ends late as before, or earlier, brings none.
 */
export function newCautions(before: Evaluation, after: Evaluation): readonly string[] {
	const known = new Set(cautionsFor(before));
	const notCleared = [
		...notClearedFor(after).map(told),
		...after.methods.flatMap(({ value }) => (value ? notClearedText(value) : [])),
	];
	const late = lateCaution(after).map(told);
	const asLate = lateCaution(before).length > 0 && (endOf(after) ?? 0) <= (endOf(before) ?? 0) ? late : [];
	const brought = cautionsFor(after).filter((text) => !known.has(text) && !asLate.includes(text));
	return [...new Set([...notCleared, ...brought])].filter((text) => text !== "");
}

/** Targets whose frame, or whose aiming before it, looks near the Sun while it is up: when it is nearest. */
function sunInFrames({ targets, site, night }: Evaluation): readonly Phrase[] {
	if (!site || !night) return [];
	return (targets?.value ?? []).flatMap((target) => {
		if (!target) return [];
		const { series, directionAt, name, framing, panorama } = target;
		const panels = panorama?.panels.flatMap(({ at, until, direction }) => [at, until].map((at) => ({ at, direction })));
		const looks = (
			panels ?? momentsIn(series.from - AIMING_MS, series.until).map((at) => ({ at, direction: directionAt(at) }))
		)
			.filter(({ at }) => sunAltitude(site.spot, at) >= SUNSET_ALTITUDE)
			.map(({ at, direction }) => ({ at, away: fromSun(direction, site.spot, at) }));
		const nearest = looks.reduce((least, look) => (look.away < least.away ? look : least), { at: 0, away: NEAR_SUN });
		if (nearest.away >= NEAR_SUN) return [];
		const isInFrame = looks.some(({ at }) => framing?.place(sunAt(site.spot, at), at));
		const say = isInFrame ? words.sunInFrame : words.sunNearFrame;
		const time = nightClock(night, nearest.at);
		return [say({ name, apart: degrees(nearest.away), time, care: words.sunCare() })];
	});
}

/** Each minute from one moment to another, or of a long time a hundred moments evenly. */
function momentsIn(from: EpochMs, until: EpochMs): readonly EpochMs[] {
	const count = Math.max(1, Math.min(100, Math.ceil((until - from) / 60_000)));
	return Array.from({ length: count + 1 }, (_, i) => from + ((until - from) * i) / count);
}

/** Aiming and focusing come before the first frame. */
const AIMING_MS = 10 * 60_000;

function placeCautions({ site, night }: Evaluation): readonly Phrase[] {
	const places = site?.content.place;
	if (!places?.length) return [words.unknown()];
	const dangers = new Set(places.flatMap((place) => DANGERS[place]));
	return [...dangers].flatMap((danger) => {
		if (danger !== "sea" || !night) return [words[danger]()];
		const low = lowWaterOf(night);
		if (low === undefined) return [words.sea(), words.noLowWater()];
		const { from, until } = wayOpen(site, low);
		const clock = (moment: EpochMs): string => nightClock(night, moment);
		return [words.sea(), words.lowWater({ time: clock(low), in: clock(from), out: clock(until) })];
	});
}

/** When the last step ends: of a group that of the last of them. */
function endOf({ evening, group }: Evaluation): EpochMs | undefined {
	const steps = [evening, ...(group?.kits ?? []).map((kit) => kit.evening)].flatMap((one) => one?.steps ?? []);
	return steps.length === 0 ? undefined : Math.max(...steps.map(({ until }) => until));
}

function lateCaution(evaluation: Evaluation): readonly Phrase[] {
	const { night } = evaluation;
	const end = endOf(evaluation);
	if (!night || end === undefined) return [];
	const clock = wallClock(night.zone, end).secondsOfDay;
	const sinceDeadOfNight = ((clock - DEAD_OF_NIGHT + DAY_SECONDS) % DAY_SECONDS) * 1000;
	const isLate = clock < DEAD_OF_NIGHT || end - sinceDeadOfNight >= night.onSite.from;
	return isLate ? [words.late({ time: nightClock(night, end) })] : [];
}
