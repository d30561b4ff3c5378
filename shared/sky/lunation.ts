/**
 * Lunations: which new Moon a night belongs to. By mean new Moons (Meeus, Astronomical Algorithms, ch. 49), which the
 * true ones leave by less than a day: only nights about full Moon could be counted with the other one.
 */
import type { EpochMs } from "../earth/zone.ts";

const DAY_MS = 86_400_000;
/** The mean new Moon of 6 January 2000: Julian Ephemeris Day 2451550.09766. */
const FIRST_MS = (2_451_550.09766 - 2_440_587.5) * DAY_MS;
/** Mean synodic month. */
const MONTH_MS = 29.530588861 * DAY_MS;

/** The number of the new Moon nearest to an instant; that of January 2000 is 0. */
export const lunationOf = (at: EpochMs): number => Math.round((at - FIRST_MS) / MONTH_MS);

/** When the mean new Moon of a number is. */
export const meanNewMoon = (lunation: number): EpochMs => FIRST_MS + lunation * MONTH_MS;
