/** A new plan: its questions are checked one at a time, and its text is made. */
import { CELL_KINDS, type CellKindName } from "../../shared/cells/kinds.ts";
import { wallClock, zoneAt } from "../../shared/earth/zone.ts";
import { evaluate } from "../../shared/evaluate/evaluate.ts";
import { goodNights } from "../../shared/evaluate/good-nights.ts";
import { check } from "../../shared/findings/check.ts";
import { coordinateText, readCoordinatePair } from "../../shared/notation/coordinate.ts";
import { dateText, readDate } from "../../shared/notation/date.ts";
import { minutesText } from "../../shared/notation/duration.ts";
import { readPlan } from "../../shared/plan/plan.ts";
import { wholePlan } from "../../shared/plan/skeleton.ts";
import { answer } from "../../shared/protocol/message.ts";
import {
	CHECK_VALUE,
	KIT_KEYS,
	type Kit,
	type KitKey,
	NEW_PLAN,
	PLACE,
	PLAN_TO_FILL,
	type PlaceAnswer,
} from "../../shared/protocol/new-plan.ts";
import { typedText } from "../../shared/text/scalar.ts";
import { sentences, told } from "../../shared/text/sentence.ts";
import { snippetText } from "../../shared/text/template.ts";
import type { Feature } from "../session.ts";

const words = sentences("new-plan", {
	night: "{minutes} dark and moonless, Moon illumination {illumination} %",
});

/** Longer answers are none. */
const MOST_TYPED = 300;

export const newPlan: Feature = {
	capabilities: {},
	listen(session) {
		const { connection } = session;
		answer(connection, CHECK_VALUE, ({ kind, key, text }) => problemOf(String(kind), String(key), String(text)));
		answer(connection, PLACE, ({ text }) => placeOf(String(text)));
		answer(connection, NEW_PLAN, async (wishes) => {
			const { latitude, longitude, tracked } = wishes;
			const [title, site, date] = [wishes.title, wishes.site, wishes.date].map((one) =>
				String(one).slice(0, MOST_TYPED),
			);
			if (!title?.trim() || !site?.trim() || !date || !readDate(date)) return null;
			if (![latitude, longitude].every(Number.isFinite) || Math.abs(latitude) > 90 || Math.abs(longitude) > 180)
				return null;
			const { newPlanText } = await session.onRequest();
			const text = newPlanText({
				title,
				site,
				latitude,
				longitude,
				date,
				kit: kitOf(wishes.kit),
				tracked: tracked !== false,
			});
			return { text, file: `${date}-${slugOf(site)}` };
		});
		answer(connection, PLAN_TO_FILL, ({ kit }) => snippetText(wholePlan(kitOf(kit))));
	},
};

/** The first thing that is wrong with a value behind its key. */
function problemOf(kind: string, key: string, text: string): string | null {
	if (!Object.hasOwn(CELL_KINDS, kind) || text.length > MOST_TYPED) return null;
	const before = `${kind as CellKindName}:\n  ${key}: `;
	const findings = check(evaluate(readPlan(`${before}${typedText(text)}\n`)));
	const found = findings.find(({ code, from }) => code.startsWith("structure/") && from >= before.length);
	return found?.message ?? null;
}

function placeOf(text: string): PlaceAnswer | null {
	const pair = readCoordinatePair(text);
	if (!pair) return null;
	const { latitude, longitude } = pair;
	const [north, east] = [coordinateText(latitude, "latitude"), coordinateText(longitude, "longitude")];
	const zone = zoneAt(latitude, longitude);
	const plan = readPlan(`site:\n  latitude: ${north}\n  longitude: ${east}\n`);
	const nights = goodNights(plan, wallClock(zone, Date.now()).date).map(({ date, minutes, night }) => ({
		date: dateText(date),
		about: told(
			words.night({
				minutes: minutesText(minutes),
				illumination: (night.sky.moonIllumination * 100).toFixed(0),
			}),
		),
	}));
	return { latitude, longitude, told: `${north}, ${east}, ${zone}`, nights };
}

/** The values of a kit that are texts and can be read. */
function kitOf(sent: Kit | undefined): Kit {
	const values = Object.entries(KIT_KEYS).flatMap(([key, kind]) => {
		const value = sent?.[key as KitKey];
		return typeof value === "string" && value.trim() !== "" && problemOf(kind, key, value) === null
			? [[key, value]]
			: [];
	});
	return Object.fromEntries(values);
}

/** A name for a file: letters and digits of any script, joined by hyphens. */
const slugOf = (name: string): string =>
	name
		.normalize("NFC")
		.toLowerCase()
		.replace(/[^\p{L}\p{M}\p{N}]+/gu, "-")
		.replace(/^-+|-+$/g, "")
		.slice(0, 60) || "plan";
