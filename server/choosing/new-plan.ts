/** What is answered to the questions of a new plan, and its text: loaded on first use. */
import { CELL_KINDS, type CellKindName } from "../../shared/cells/kinds.ts";
import { wallClock, zoneAt } from "../../shared/earth/zone.ts";
import { evaluate } from "../../shared/evaluate/evaluate.ts";
import { goodNights } from "../../shared/evaluate/good-nights.ts";
import { check } from "../../shared/findings/check.ts";
import { coordinateText, readCoordinatePair } from "../../shared/notation/coordinate.ts";
import { dateText, readDate } from "../../shared/notation/date.ts";
import { minutesText } from "../../shared/notation/duration.ts";
import type { CompletionContext } from "../../shared/notation/notation.ts";
import { modelAt } from "../../shared/plan/field-at.ts";
import { type Cell, type Plan, readPlan } from "../../shared/plan/plan.ts";
import { DEEPEST, PlanJoiner } from "../../shared/plan/reuse.ts";
import { wholePlan } from "../../shared/plan/skeleton.ts";
import {
	KIT_KEYS,
	type Kit,
	type KitKey,
	type LibraryKit,
	type NewPlanWishes,
	type PlaceAnswer,
} from "../../shared/protocol/new-plan.ts";
import { scalarText, typedText } from "../../shared/text/scalar.ts";
import { sentences, told } from "../../shared/text/sentence.ts";
import { snippetText } from "../../shared/text/template.ts";
import { relativePath } from "../features/completion/paths.ts";
import type { PlanIndex } from "../plan-index.ts";
import type { Session } from "../session.ts";

const words = sentences("new-plan", {
	night: "{minutes} dark and moonless, Moon illumination {illumination} %",
});

/** Longer answers are none. */
const MOST_TYPED = 300;
/** More kits are not offered. */
const MOST_KITS = 30;

/** The text of a plan as it is wished for, and a name for its file; null where the wishes make none. */
export async function newPlanAsked(
	session: Session,
	wishes: NewPlanWishes,
): Promise<{ readonly text: string; readonly file: string } | null> {
	const { latitude, longitude, tracked } = wishes;
	const [title, site, date] = [wishes.title, wishes.site, wishes.date].map((one) => String(one).slice(0, MOST_TYPED));
	if (!title?.trim() || !site?.trim() || !date || !readDate(date)) return null;
	if (![latitude, longitude].every(Number.isFinite) || Math.abs(latitude) > 90 || Math.abs(longitude) > 180)
		return null;
	const { newPlanText } = await session.onRequest();
	const taken = await takenKit(session, wishes.taken);
	const text = newPlanText({
		title,
		site,
		latitude,
		longitude,
		date,
		kit: kitOf(wishes.kit),
		...taken,
		tracked: tracked !== false,
	});
	return { text, file: `${date}-${slugOf(site)}` };
}

/** The kits of the libraries, once these have been found. */
export async function kitsAsked(
	{ index }: Session,
	uri: string,
): Promise<readonly (LibraryKit & { readonly kit: Kit })[]> {
	await Promise.race([index.ready(), rested()]);
	return kitsFor(index, uri);
}

/** A whole plan with gaps to fill in, as a snippet. */
export const planToFill = (kit: Kit | undefined): string => snippetText(wholePlan(kitOf(kit)));

/** The first thing that is wrong with a value behind its key. */
export function problemOf(kind: string, key: string, text: string): string | null {
	if (!Object.hasOwn(CELL_KINDS, kind) || text.length > MOST_TYPED) return null;
	const before = `${kind as CellKindName}:\n  ${key}: `;
	const findings = check(evaluate(readPlan(`${before}${typedText(text)}\n`)));
	const found = findings.find(({ code, from }) => code.startsWith("structure/") && from >= before.length);
	return found?.message ?? null;
}

/** The place of coordinates as they were pasted, and its next good nights. */
export function placeOf(text: string): PlaceAnswer | null {
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

/** The lenses of the libraries that a plan may take from, the nearest first, each with the library's tracker. */
async function kitsFor(index: PlanIndex, uri: string): Promise<(LibraryKit & { readonly kit: Kit })[]> {
	const here = index.pathOf(uri);
	const found: (LibraryKit & { readonly kit: Kit })[] = [];
	for (const [file, cells] of index.all()) {
		const isKit = cells.some(({ kind, content }) => kind === "plan" && content.kind === "library");
		const from =
			isKit && cells.some(({ kind }) => kind === "lens") ? relativePath(here, index.pathOf(file)) : undefined;
		const text = from === undefined ? undefined : await index.text(file);
		if (from === undefined || !text) continue;
		const plan = readPlan(text.getText());
		const tracker = plan.cells.find(({ read }) => read.kind === "tracker");
		for (const lens of plan.cells) {
			if (lens.read.kind !== "lens") continue;
			const name = lens.read.content?.name;
			found.push({
				from,
				...(name !== undefined && { lens: name }),
				tracker: tracker !== undefined,
				kit: { ...writtenIn(lens), ...(tracker && writtenIn(tracker)) },
			});
		}
		if (found.length >= MOST_KITS) break;
	}
	const steps = ({ from }: LibraryKit): number => from.split("/").length;
	return found.sort((a, b) => steps(a) - steps(b)).slice(0, MOST_KITS);
}

/** What a cell says of a kit, as it is written. */
const writtenIn = ({ text, read: { kind, places } }: Cell): Kit =>
	Object.fromEntries(
		Object.entries(KIT_KEYS).flatMap(([key, of]) => {
			const value = of === kind ? places.get(key)?.value : undefined;
			return value ? [[key, text.slice(value.from, value.to).replace(/^(["'])(.*)\1$/, "$2")]] : [];
		}),
	);

/** How a draft takes a kit of a library, and is read with it; the kit's files are read before. */
async function takenKit(
	session: Session,
	taken: NewPlanWishes["taken"],
): Promise<{ readonly taken?: LibraryKit; readonly read?: (text: string) => Plan }> {
	if (!taken) return {};
	const [from = "", lens = ""] = [taken.from, taken.lens ?? ""].map((one) => String(one).slice(0, MOST_TYPED));
	const { path, library } = session.library.seenFrom(String(taken.uri));
	const read = (text: string): Plan => new PlanJoiner().join(readPlan(text), path, library);
	// A kit may take from another one in turn.
	for (let step = 0; step <= DEEPEST; step++) {
		read(`lens:\n  from: ${scalarText(from)}\n---\ntracker:\n  from: ${scalarText(from)}\n`);
		if (!(await session.library.read())) break;
	}
	return { taken: { from, ...(lens !== "" && { lens }), tracker: taken.tracker === true }, read };
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

/** So long the questions wait for the libraries to be found, and no longer. */
const rested = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, 2000));

/** Words of a key that has some, with what each means. */
export function wordsOf(key: KitKey): readonly { readonly word: string; readonly about: string }[] {
	if (!Object.hasOwn(KIT_KEYS, key)) return [];
	const offers = modelAt(KIT_KEYS[key], key)?.shape.complete(NOTHING_KNOWN) ?? [];
	return offers.flatMap(({ label, detail, kind }) =>
		kind === "word" ? [{ word: label, about: typeof detail === "string" ? detail : told(detail) }] : [],
	);
}

/** Before there is a plan. */
const NOTHING_KNOWN: CompletionContext = {
	source: "",
	typed: "",
	most: 0,
	zoneThere: () => undefined,
	names: () => [],
	nights: () => [],
	moments: () => [],
	ranked: () => [],
	bodies: () => [],
	useless: () => undefined,
};
