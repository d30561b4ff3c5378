import type { GroundRow, TargetPanorama } from "../../cells/targets/panorama.ts";
import { foregroundOf } from "../../cells/targets/target.ts";
import { degrees } from "../../notation/angle.ts";
import { overLimit } from "../../notation/over-limit.ts";
import { coveredBy, fieldOf } from "../../optics/panorama-rows.ts";
import type { Skyline } from "../../sky/skyline.ts";
import { turn } from "../../sky/vector.ts";
import { asYaml } from "../../text/scalar.ts";
import { type Phrase, sentences } from "../../text/sentence.ts";
import { at, type Edit, type Fix, fix, insertKey, replaceValue, rule, setKey } from "../finding.ts";
import { type EachTarget, eachTarget } from "./each.ts";

const words = sentences("target/foreground-low", {
	title: "Ground above the foreground's row",
	about: `Tracked frames of the sky blur whatever ground is in them, so the ground is taken untracked, as a
		foreground. In a gorge or before a cliff the skyline can rise above the top of the foreground's row: no frame
		then shows the ground in between sharp. Plan a second row of the foreground above the first, or tilt its row
		up.`,
	message: `The foreground of {name} ends below the skyline at bearings {stretches}: at {bearing} it ends at altitude
		{ends}, and the ground goes up to {top}. The ground in between is only in tracked frames, where it trails by up
		to {trail} px; the plan allows {allowed} px. Add a row to the foreground, or tilt it up.`,
	rows: "Take {rows} rows of the foreground, the middle of the upper one at {altitude}",
	tilt: "Tilt the foreground's row up to {altitude}",
	tiltFrom: "Tilt the foreground's row up to {altitude}: it then begins at {low}",
});

/** Bearings that are looked at, degrees apart. */
const STEP = 1;
/** Less than this is blended over, degrees: common practice, no source. */
const LEAST = 1;
/** How finely a head is tilted for a row, and the highest that a plan may ask for, degrees. */
const TILT = 1;
const HIGHEST = 60;
/** A row that begins no higher still has the ground before one's feet, degrees: common practice, no source. */
const AT_FEET = -10;
/** Rows that are offered at most. */
const MOST_ROWS = 6;

interface Short {
	readonly azimuth: number;
	/** Where the foreground ends, and where the ground in the sky's frames does. */
	readonly ends: number;
	readonly top: number;
}

/** Where ground that the sky's frames show is above what the foreground shows, by bearing from left to right. */
function shortIn({ rows: sky, held }: TargetPanorama, { rows: ground }: GroundRow, { skylineAt }: Skyline): Short[] {
	const [lowest, upper] = [sky[0], ground.at(-1)];
	if (!lowest || !upper) return [];
	const [across, high] = fieldOf(held);
	const from = (lowest.bearings[0] as number) - across / 2;
	const until = Math.min((lowest.bearings.at(-1) as number) + across / 2, from + 360);
	const highest = (sky.at(-1)?.altitude ?? 0) + high / 2;
	const [inGround, inSky] = [coveredBy(ground, held), coveredBy(sky, held)];
	const found: Short[] = [];
	for (let azimuth = Math.ceil(from); azimuth <= until; azimuth += STEP) {
		const shows = (altitude: number): boolean => inGround({ azimuth, altitude });
		const top = Math.min(skylineAt(azimuth), highest - LEAST / 2);
		if (top <= upper.altitude || shows(top - LEAST) || !inSky({ azimuth, altitude: top })) continue;
		// Beside its panels it is too short, which is told by another finding.
		if (!shows(upper.altitude)) continue;
		let [ends, beyond] = [upper.altitude, top];
		while (beyond - ends > 0.05) {
			const middle = (ends + beyond) / 2;
			if (shows(middle)) ends = middle;
			else beyond = middle;
		}
		found.push({ azimuth, ends, top });
	}
	return found;
}

/**
 * The row tilted up to the skyline where it keeps the ground before one's feet, else more rows, else the tilt with what it
 * costs: as far as all else stays covered.
 */
function higher(
	{ cell, target: { index, entry, panorama } }: EachTarget,
	row: GroundRow,
	skyline: Skyline,
): readonly Fix[] {
	const foreground = foregroundOf(entry);
	const [lowest, upper] = [row.rows[0], row.rows.at(-1)];
	if (!panorama || !lowest || !upper) return [];
	const path = `${index}.foreground`;
	const edits = (altitude: number, rows: number): readonly (Edit | undefined)[] => {
		const mapping = `{ altitude: ${altitude}°${rows === 1 ? "" : `, rows: ${rows}`} }`;
		if (foreground?.panorama)
			return [
				setKey(cell, `${path}.panorama`, "altitude", asYaml(`${altitude}°`)),
				...(rows === row.rows.length ? [] : [setKey(cell, `${path}.panorama`, "rows", rows)]),
			];
		return entry.foreground === true
			? [replaceValue(cell, path, asYaml(`{ panorama: ${mapping} }`))]
			: [insertKey(cell, path, "panorama", asYaml(mapping))];
	};
	const isEnough = (one: GroundRow | undefined): one is GroundRow =>
		one !== undefined && one.missing.length === 0 && one.apart === 0 && shortIn(panorama, one, skyline).length === 0;
	const raised = (rows: number, reaches: (low: number) => boolean): { altitude: number; low: number } | undefined => {
		for (let altitude = Math.ceil(upper.altitude); altitude <= HIGHEST; altitude += TILT) {
			const one = panorama.groundAs(altitude, rows);
			const low = one?.rows[0]?.altitude ?? altitude;
			if (!reaches(low)) return undefined;
			if (isEnough(one)) return { altitude, low };
		}
		return undefined;
	};
	const [, high] = fieldOf(panorama.held);
	const tilted = raised(row.rows.length, () => true);
	const begins = tilted && tilted.low - high / 2;
	const tilt = (title: Phrase): readonly Fix[] =>
		tilted ? fix(title, false, ...edits(tilted.altitude, row.rows.length)) : [];
	if (tilted && begins !== undefined && begins <= AT_FEET)
		return tilt(words.tilt({ altitude: degrees(tilted.altitude, 0) }));
	for (let rows = row.rows.length + 1; rows <= MOST_ROWS; rows++) {
		// What is at one's feet stays in it.
		const more = raised(rows, (low) => low <= lowest.altitude + TILT);
		if (more)
			return fix(words.rows({ rows, altitude: degrees(more.altitude, 0) }), false, ...edits(more.altitude, rows));
	}
	return tilted && begins !== undefined
		? tilt(words.tiltFrom({ altitude: degrees(tilted.altitude, 0), low: degrees(begins, 0) }))
		: [];
}

const ground = (panorama: string): string =>
	`- name: core over the gate\n  aim: { azimuth: 265, altitude: 30 }\n  panorama: { columns: 2, overlap: 40 % }\n  from: "21:30"\n  exposure: 60 s\n  trail: 2 px\n  foreground: { exposure: 60 s, panorama: { ${panorama} } }`;

export default rule({
	code: "target/foreground-low",
	severity: "warning",
	words,
	wrong: { targets: ground("order: rows") },
	instead: { targets: ground("altitude: 25°, rows: 2") },
	right: [{ targets: ground("altitude: 25°, rows: 2") }, { targets: ground("altitude: 25°") }],
	over: [{ targets: ground("altitude: 24°, rows: 2") }, { targets: ground("altitude: 24°") }],
	each: "target",
	*find(evaluation) {
		const { site } = evaluation;
		if (!site) return;
		for (const one of eachTarget(evaluation)) {
			const { cell, target } = one;
			const { panorama, name, index, entry, tracked, limits, trailLimit } = target;
			const row = panorama?.ground();
			if (!panorama || !row || !tracked || row.apart > 0 || !limits || limits.ground <= trailLimit) continue;
			const short = shortIn(panorama, row, site.cover);
			const [first, ...others] = short;
			if (!first) continue;
			const worst = others.reduce((best, next) => (next.top - next.ends > best.top - best.ends ? next : best), first);
			yield {
				...at(cell, `${index}.foreground${foregroundOf(entry)?.panorama ? ".panorama" : ""}`),
				message: words.message({
					name,
					stretches: stretchesOf(short),
					bearing: degrees(turn(worst.azimuth), 0),
					ends: degrees(worst.ends, 0),
					top: degrees(worst.top, 0),
					trail: overLimit(limits.ground, trailLimit, 1),
					allowed: trailLimit,
				}),
				fixes: () => higher(one, row, site.cover),
			};
		}
	},
});

/** `120–145°, 180–190°`. */
function stretchesOf(short: readonly Short[]): string {
	const runs: [number, number][] = [];
	for (const { azimuth } of short) {
		const last = runs.at(-1);
		if (last && azimuth - last[1] <= STEP) last[1] = azimuth;
		else runs.push([azimuth, azimuth]);
	}
	return runs.map((ends) => ends.map((end) => degrees(turn(end), 0)).join("–")).join(", ");
}
