import { moonlightOn, type Side } from "../../cells/targets/moon.ts";
import { groundSeconds } from "../../cells/targets/panorama.ts";
import { foregroundOf, moonAsked } from "../../cells/targets/target.ts";
import { minutesText } from "../../notation/duration.ts";
import { both, type Interval, longest } from "../../sky/intervals.ts";
import { type Phrase, sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { eachTarget, timesText } from "./each.ts";

const words = sentences("target/no-moonlight", {
	title: "No moonlight on the foreground",
	about: `Foreground frames by moonlight need the Moon up between civil dusk and civil dawn, not hidden by skyline
		or roof, on the side asked for (\`lit-from\`), while you are on site and for as long as the frames take.
		Choose another night, side or light: a waxing Moon lights the evening, a waning one the small hours.`,
	side: `The foreground of {name} needs moonlight from {side} for {minutes}. From that side: {times}. From other sides:
		{others}.`,
	any: `The foreground of {name} needs moonlight for {minutes}. Moonlight: {times}; Moon up: {up}.`,
	otherLight: `\`lit-from\` is the side the Moon is to shine from, but these foreground frames are taken in other
		light (\`{light}\`). Write \`light: moon\`, or leave it out.`,
	left: "the left",
	right: "the right",
	behind: "behind the camera",
	ahead: "ahead",
	sideTimes: "{side} {times}",
	more: "; ",
	none: "never",
});

const lit = (foreground: string): string =>
	`- name: core over the gate\n  aim: galactic-centre\n  from: "19:30"\n  exposure: 60 s\n  trail: 2 px\n  moon-allowed: 100 %\n  foreground: ${foreground}`;
const MOON = 'date: 2027-06-15\narrive: "17:00"\nleave: "02:00"';

export default rule({
	code: "target/no-moonlight",
	severity: "warning",
	words,
	wrong: { targets: lit("{ light: moon }") },
	instead: { night: MOON, targets: lit("{ light: moon }") },
	right: { night: MOON, targets: lit("{ light: moon, exposure: 300 s, frames: 2 }") },
	over: { night: MOON, targets: lit("{ light: lamp, lit-from: left }") },
	each: "target",
	*find(evaluation) {
		const { site } = evaluation;
		if (!site) return;
		for (const { cell, target, night } of eachTarget(evaluation)) {
			const { entry, index, name, moonlight, series, directionAt, panorama } = target;
			const ground = foregroundOf(entry);
			if (!ground) continue;
			if (!moonlight) {
				if (ground["lit-from"] !== undefined && ground.light !== undefined)
					yield {
						...at(cell, `${index}.foreground.lit-from`),
						message: words.otherLight({ light: ground.light }),
					};
				continue;
			}
			const seconds = groundSeconds(ground, entry.exposure, panorama);
			const times = both(moonlight(), [night.onSite]);
			if (isEnough(times, seconds)) continue;
			const side = moonAsked(entry)?.side;
			const facing = directionAt(series.from).azimuth;
			const path = ground["lit-from"] !== undefined ? "lit-from" : "light";
			const minutes = minutesText(seconds / 60);
			yield {
				...at(cell, `${index}.foreground.${path}`),
				message:
					side === undefined
						? words.any({
								name,
								minutes,
								times: timesText(times, night),
								up: timesText(night.sky.moonUp, night),
							})
						: words.side({
								name,
								side: words[side](),
								minutes,
								times: timesText(times, night),
								others: otherSides(
									SIDES_OF.filter((one) => one !== side).map((one) => [
										one,
										both(moonlightOn(site, night, facing, one), [night.onSite]),
									]),
									night,
								),
							}),
			};
		}
	},
});

const SIDES_OF = ["left", "right", "behind", "ahead"] as const satisfies readonly Side[];

const isEnough = (times: readonly Interval[], seconds: number): boolean => {
	const most = longest(times);
	return most !== undefined && most.until - most.from >= seconds * 1000;
};

/** `the left 20:10–23:40; ahead 23:40–01:00`, or `never`. */
function otherSides(
	sides: readonly (readonly [Side, readonly Interval[]])[],
	night: Parameters<typeof timesText>[1],
): readonly Phrase[] {
	const lit = sides.filter(([, times]) => times.length > 0);
	if (lit.length === 0) return [words.none()];
	return lit.flatMap(([side, times], i) => [
		...(i > 0 ? [words.more()] : []),
		words.sideTimes({ side: [words[side]()], times: timesText(times, night) }),
	]);
}
