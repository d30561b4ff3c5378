/**
 * A comet's elements in one line, as the Minor Planet Center publishes them (*Export Format for Comet Orbits*, the part
 * on Ephemerides and Orbital Elements): each value in columns of its own.
 */
import { Kept } from "../memory/memory.ts";
import type { CometElements } from "./comet.ts";

/** A value of the line. */
export type CometField =
	| "year"
	| "month"
	| "day"
	| "distance"
	| "eccentricity"
	| "argument"
	| "node"
	| "inclination"
	| "epoch"
	| "magnitude"
	| "slope";

/** What is wrong with a line, with columns from 1. */
export interface LineProblem {
	readonly why: "unreadable" | "out-of-range" | "not-blank";
	/** Undefined for a column that has to be blank. */
	readonly field: CometField | undefined;
	readonly from: number;
	readonly to: number;
	readonly got: string;
}

export type LineReading =
	| { readonly ok: true; readonly elements: CometElements }
	| { readonly ok: false; readonly problem: LineProblem };

const NUMBER = /^ *[-+]?\d+(?:\.\d*)? *$/;
const FRACTION = /^ *\d+\.\d+ *$/;

interface Column {
	readonly from: number;
	readonly to: number;
	readonly form: RegExp;
	readonly min: number;
	readonly max: number;
	/** Whether it may be blank. */
	readonly optional?: true;
}

const COLUMNS: Readonly<Record<CometField, Column>> = {
	year: { from: 15, to: 18, form: /^ *\d{1,4}$/, min: 1, max: 9999 },
	month: { from: 20, to: 21, form: /^[ \d]\d$/, min: 1, max: 12 },
	day: { from: 23, to: 29, form: FRACTION, min: 1, max: 32 },
	distance: { from: 31, to: 39, form: FRACTION, min: 0.001, max: 100 },
	eccentricity: { from: 42, to: 49, form: FRACTION, min: 0, max: 10 },
	argument: { from: 52, to: 59, form: FRACTION, min: 0, max: 360 },
	node: { from: 62, to: 69, form: FRACTION, min: 0, max: 360 },
	inclination: { from: 72, to: 79, form: FRACTION, min: 0, max: 180 },
	epoch: { from: 82, to: 89, form: /^\d{8}$/, min: 10000101, max: 99991231, optional: true },
	magnitude: { from: 92, to: 95, form: NUMBER, min: -20, max: 40, optional: true },
	slope: { from: 97, to: 100, form: NUMBER, min: -20, max: 40, optional: true },
};
const NAME = { from: 103, to: 158 };
/** Of the line's own number and designation, the type of orbit at column 5 among them. */
const HEAD = 12;

/** What a value may be, at most and at least. */
export const limitsOfField = (field: CometField): { readonly min: number; readonly max: number } => COLUMNS[field];

/** Whether a text means to be such a line: a number or a letter of the orbit's type, then year, month and day. */
export const isCometLine = (text: string): boolean =>
	text.length >= 50 &&
	/^\s*(?:\d{1,4})?[A-Z](?:[\w ]{0,8})\s+-?\d{1,4}\s+\d{1,2}\s+\d{1,2}\.\d/.test(text.slice(0, 60));

const read = new Kept<string, LineReading>(200);

/** Reads a line; blanks at its start may have been lost. */
export const readCometLine = (text: string): LineReading => read.of(text.slice(0, 400), readLine);

function readLine(text: string): LineReading {
	const line = aligned(text);
	const values: Partial<Record<CometField, number>> = {};
	const part = (from: number, to: number): string => line.slice(from - 1, to);
	const wrong = (why: LineProblem["why"], field: CometField | undefined, from: number, to: number): LineReading => ({
		ok: false,
		problem: { why, field, from, to, got: part(from, to) },
	});
	let end = HEAD;
	for (const [field, { from, to, form, min, max, optional }] of Object.entries(COLUMNS) as [CometField, Column][]) {
		const between = part(end + 1, from - 1);
		const filled = between.search(/\S/);
		if (filled >= 0) return wrong("not-blank", undefined, end + 1 + filled, end + 1 + filled);
		end = to;
		const got = part(from, to);
		if (optional && got.trim() === "") continue;
		if (!form.test(got)) return wrong("unreadable", field, from, to);
		const value = Number(got);
		if (!(value >= min && value <= max)) return wrong("out-of-range", field, from, to);
		values[field] = value;
	}
	const { year = 0, month = 0, day = 0, epoch } = values;
	if (Math.floor(day) > daysIn(year, month)) return wrong("out-of-range", "day", COLUMNS.day.from, COLUMNS.day.to);
	const [epochYear, epochMonth, epochDay] = [
		Math.floor((epoch ?? 0) / 10_000),
		Math.floor((epoch ?? 0) / 100) % 100,
		(epoch ?? 0) % 100,
	];
	const isDate = epochMonth >= 1 && epochMonth <= 12 && epochDay >= 1 && epochDay <= daysIn(epochYear, epochMonth);
	if (epoch !== undefined && !isDate) return wrong("out-of-range", "epoch", COLUMNS.epoch.from, COLUMNS.epoch.to);
	return {
		ok: true,
		elements: {
			name: part(NAME.from, NAME.to).trim() || part(1, HEAD).trim(),
			perihelion: daysFrom2000(year, month, day),
			perihelionDistance: values.distance ?? 1,
			eccentricity: values.eccentricity ?? 1,
			argument: values.argument ?? 0,
			node: values.node ?? 0,
			inclination: values.inclination ?? 0,
			epoch: epoch === undefined ? undefined : daysFrom2000(epochYear, epochMonth, epochDay),
			magnitude: values.magnitude,
			slope: values.slope,
		},
	};
}

/** The type of orbit stands at column 5, behind a number of four figures or blanks. */
function aligned(text: string): string {
	const line = text.trim();
	const number = /^\d{1,4}(?=[A-Z])/.exec(line)?.[0] ?? "";
	return `${/^\d/.test(line) ? number.padStart(4, "0") : "    "}${line.slice(number.length)}`;
}

const utc = (year: number, month: number, day: number): number => {
	const date = new Date(0);
	date.setUTCFullYear(year, month - 1, day);
	return date.getTime() / 86_400_000;
};

/** Days from J2000.0 of a date with its part of a day. */
const daysFrom2000 = (year: number, month: number, day: number): number =>
	utc(year, month, Math.floor(day)) + (day - Math.floor(day)) - 10_957.5;

/** How many days a month has. */
const daysIn = (year: number, month: number): number => utc(year, month + 1, 1) - utc(year, month, 1);
