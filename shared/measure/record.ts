/** What was measured on frames, for other programs. */
import { isoText } from "../earth/zone.ts";
import { logEntry, logEntryText } from "./log-entry.ts";
import type { Measured } from "./measure.ts";
import { solvedFocalLength } from "./solved-lens.ts";

/** Every number that was measured; angles in degrees, lengths on the frame in pixels, times in seconds. */
export function measuredRecord({ frames, map, rms, axis, clock, drive, zone, lens }: Measured) {
	const iso = (at: number): string => isoText(zone, at);
	return {
		lens: lens.name,
		frames: frames.map(({ name, at, exposure, target, wanted, read, solved }) => ({
			name,
			at: iso(at),
			exposure: exposure ?? null,
			target: target?.name ?? null,
			wanted: wanted ?? null,
			spots: read.found.spots.length,
			identified: solved !== undefined,
			...(solved && {
				stars: solved.frame.stars.length,
				behind: solved.behind,
				rms: solved.frame.known.rms,
				logChance: solved.frame.known.logChance,
				azimuth: solved.middle.azimuth,
				altitude: solved.middle.altitude,
				roll: solved.roll,
				rightAscension: solved.place.rightAscension,
				declination: solved.place.declination,
				positionAngle: solved.place.positionAngle,
				off: solved.off ?? null,
				trail: solved.trails.usual,
				trailLong: solved.trails.long,
				trailUntracked: solved.still ?? null,
				limit: solved.limit ?? null,
				impossible: solved.impossible,
				sharp: solved.sharp ?? null,
				axis: solved.trails.axis ?? null,
				trails: solved.frame.stars.map(({ name: star, spot }, i) => ({
					star,
					right: spot.right,
					up: spot.up,
					length: solved.trails.drawn[i]?.length ?? 0,
				})),
			}),
		})),
		solvedLens: map
			? {
					focalLength: solvedFocalLength(map, lens),
					axisRight: map.axisRight,
					axisUp: map.axisUp,
					k1: map.k1,
					k2: map.k2,
					rms: rms ?? null,
				}
			: null,
		axis: axis
			? {
					from: axis.from,
					turn: axis.turn,
					along: axis.error.along,
					across: axis.error.across,
					covariance: axis.covariance,
					tilt: axis.tilt,
					tiltSpread: axis.tiltSpread,
					pan: axis.pan,
					panSpread: axis.panSpread,
					total: axis.total,
					budget: axis.budget ?? null,
					inside: axis.budget === undefined ? null : axis.total <= axis.budget,
					allows: axis.allows ?? null,
					log: logEntryText(logEntry(zone, axis.entries)),
				}
			: null,
		clock: clock?.found ? { frame: clock.frame, facing: clock.facing, ...clock.found } : null,
		drive: drive ? { ...drive, periodic: drive.periodic ?? null } : null,
	};
}
