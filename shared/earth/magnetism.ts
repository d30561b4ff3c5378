/**
 * Magnetic declination from the World Magnetic Model (WMM2025 by NCEI and BGS, valid 2025.0 to 2030.0; earlier models
 * for earlier dates), evaluated by the geomagnetism package.
 */
import geomagnetism, { type GeomagnetismModel } from "geomagnetism";
import { Kept } from "../memory/memory.ts";
import type { EpochMs } from "./zone.ts";

export interface MagneticField {
	/** Degrees, east of true north positive. */
	readonly declination: number;
	/** Degrees, below the horizontal positive. */
	readonly inclination: number;
	/** Horizontal intensity, nT. */
	readonly horizontal: number;
	/** One standard deviation of the declination, degrees: the model's error, not that of a phone or of iron nearby. */
	readonly declinationSpread: number;
	/** `caution` where the horizontal field is at most 6000 nT, `blackout` where it is at most 2000 nT. */
	readonly zone: "good" | "caution" | "blackout";
	readonly model: string;
	/** Whether the date lies inside the model's years. */
	readonly valid: boolean;
}

const NEWEST = { name: "WMM2025", epoch: 2025, until: 2030, base: new Date(Date.UTC(2025, 0, 1)) };
/** Years around the models in which a value is still given, marked as not valid. */
const GIVEN = { from: 2015, until: 2035 };

/** Year with its fraction: days since 1 January over the days of that year. */
export function decimalYear(at: EpochMs): number {
	const year = new Date(at).getUTCFullYear();
	const start = Date.UTC(year, 0, 1);
	return year + (at - start) / (Date.UTC(year + 1, 0, 1) - start);
}

/**
 * The field at a place and an instant.
 *
 * @param latitude geodetic, degrees
 * @param longitude degrees, east positive
 * @param elevation metres above sea level (the geoid's height, below 0.1 km, is left out)
 * @returns undefined for a date so far from the models that a value would mislead (before 2015, after 2035)
 *
 * Spread of the declination: sqrt(0.26² + (5417/H)²) degrees, the WMM2025 error model (technical report, eq. 43).
 * Checked against the official test values in tests/reference/magnetism.
 */
export function magneticField(
	latitude: number,
	longitude: number,
	elevation: number,
	at: EpochMs,
): MagneticField | undefined {
	const year = decimalYear(at);
	if (!(year >= GIVEN.from && year < GIVEN.until)) return undefined;
	const model = modelOf(year, at);
	// At a pole itself the model's east is undefined: step aside by a metre.
	const safeLatitude = Math.max(-89.99999, Math.min(89.99999, latitude));
	const point = model.point([safeLatitude, longitude, elevation / 1000]);
	return {
		declination: point.decl,
		inclination: point.incl,
		horizontal: point.h,
		declinationSpread: Math.hypot(0.26, 5417 / point.h),
		zone: point.h <= 2000 ? "blackout" : point.h <= 6000 ? "caution" : "good",
		model: year >= NEWEST.epoch ? NEWEST.name : "an earlier WMM",
		valid: year < NEWEST.until,
	};
}

/** Coefficients by day. */
const models = new Kept<number, GeomagnetismModel>(8);

/** The model's coefficients at a date, to the nearest day. */
function modelOf(year: number, at: EpochMs): GeomagnetismModel {
	return models.of(Math.round(at / 86_400_000), () =>
		year < NEWEST.epoch ? geomagnetism.model(new Date(at)) : newestAt(year),
	);
}

/**
 * The package refuses dates after 2029-11-13, though the model holds until 2030.0, and divides a leap year by 365
 * days. So its coefficients at 2025.0 are carried to the date here: the field is linear in time by definition.
 */
function newestAt(year: number): GeomagnetismModel {
	const model = geomagnetism.model(NEWEST.base) as GeomagnetismModel & Record<CoefficientName, number[]>;
	const years = year - NEWEST.epoch;
	for (const [main, yearly] of [
		["main_field_coeff_g", "secular_var_coeff_g"],
		["main_field_coeff_h", "secular_var_coeff_h"],
	] as const) {
		model[main] = model[main].map((value, i) => value + years * (model[yearly][i] ?? 0));
	}
	return model;
}

type CoefficientName = "main_field_coeff_g" | "main_field_coeff_h" | "secular_var_coeff_g" | "secular_var_coeff_h";
