/** Nights of the months to come as choices, the best first, and as a picture: loaded on first use. */

import { addDays } from "../../shared/earth/zone.ts";
import { evaluate } from "../../shared/evaluate/evaluate.ts";
import type { WantedFraming } from "../../shared/evaluate/framings.ts";
import { bestOfWeeks, type NightChoice, nightsOf } from "../../shared/evaluate/nights.ts";
import { writeNight } from "../../shared/findings/night-edits.ts";
import { dateText, readDate } from "../../shared/notation/date.ts";
import { nightText } from "../../shared/outputs/nights.ts";
import { firstValue, type Plan } from "../../shared/plan/plan.ts";
import type {
	NIGHTS,
	NightsAnswer,
	WRITE_NIGHT,
	WrittenNight,
	YEAR_OF_NIGHTS,
	YearAnswer,
} from "../../shared/protocol/choices.ts";
import type { ParamsOf } from "../../shared/protocol/message.ts";
import { type Phrase, sentences, told } from "../../shared/text/sentence.ts";
import type { Session } from "../session.ts";
import { workspaceEdit } from "../text-edits.ts";

const words = sentences("feature.night-choice", {
	nightSDate: "The night's date could not be read.",
	nightsCannotBe: "Nights cannot be compared: {why}.",
	changed: "The plan changed while its nights were being compared. Compare them again.",
	noFraming: "No target of the plan can be framed like this any more.",
	archWhole: "Only while {name} is whole",
	cometAbove: "Only while {name} is above {above}°",
	atBearing: "Only while {name} is at bearing {bearing}° ± {beside}°",
	withGround: "Only while {name} and the ground under it fit into one frame",
	nightCannotBe: "The night cannot be computed.",
	nothingWasWritten: "Nothing was written: {why}",
});

const SHOWN = 60;
const DEFAULT_DAYS = 365;

/** The best nights from a date on, and the plan's own. */
export async function nightsAsked(
	session: Session,
	{ uri, from, days, framing }: ParamsOf<typeof NIGHTS>,
): Promise<NightsAnswer | null> {
	const searched = await nightsInPieces(session, uri, from, days, framing);
	if (!searched || "problem" in searched)
		return searched && { choices: [], present: "", framings: [], problem: told(searched.problem) };
	return session.guarded("nights", uri, () => {
		const { best, others } = bestOfWeeks(searched.nights);
		return {
			problem: "",
			choices: [...best, ...others].slice(0, SHOWN).map((one) => ({ date: dateText(one.date), ...nightText(one) })),
			present: presentOf(searched.plan),
			framings: framingsOf(searched.plan).map(({ label, framing: id }) => ({ label, framing: id })),
		};
	});
}

/** The nights of a year as a picture. */
export async function yearAsked(
	session: Session,
	{ uri, from }: ParamsOf<typeof YEAR_OF_NIGHTS>,
): Promise<YearAnswer | null> {
	const { yearOfNights } = await session.onRequest();
	const searched = await nightsInPieces(session, uri, from, DEFAULT_DAYS);
	if (!searched || "problem" in searched) return searched && { html: "", problem: told(searched.problem) };
	const present = firstValue(searched.plan, "night")?.date;
	return session.guarded("year of nights", uri, () => ({
		html: yearOfNights(searched.nights, present),
		problem: "",
	}));
}

/** The edit that puts an evening into the plan. */
export const nightToWrite = (session: Session, { uri, date }: ParamsOf<typeof WRITE_NIGHT>): WrittenNight | null =>
	session.guarded("write night", uri, (document, plan) => {
		const { plan: read } = plan.evaluation(document);
		const day = readDate(String(date));
		const outcome = day && nightsOf(read, day, day);
		const [choice] = outcome?.ok ? outcome.nights : [];
		if (!choice) return { edit: null, problem: told(words.nightCannotBe()) };
		const written = writeNight(read, choice, (text) => plan.evaluated(document, text));
		return written.ok
			? { edit: workspaceEdit(document, written.edits), problem: "" }
			: { edit: null, problem: told(words.nothingWasWritten({ why: told(written.why) })) };
	});

interface Searched {
	readonly plan: Plan;
	/** By date. */
	readonly nights: readonly NightChoice[];
}

/** Milliseconds after which edits and questions have their turn. */
const PIECE_MS = 15;

/** The nights from a date on, the plan's own where none is given; what is typed in the meantime does not wait for them. */
async function nightsInPieces(
	session: Session,
	uri: string,
	from: string | undefined,
	days: number | undefined,
	framing?: string,
): Promise<Searched | { readonly problem: Phrase } | null> {
	const begun = session.guarded("nights", uri, (document, plan) => {
		const { plan: read } = plan.evaluation(document);
		const start = readDate(String(from ?? "")) ?? firstValue(read, "night")?.date;
		if (!start) return { problem: words.nightSDate() };
		const count = Math.min(Math.max(1, Math.trunc(Number(days) || DEFAULT_DAYS)), 3 * DEFAULT_DAYS);
		const wanted = framing === undefined ? undefined : framingsOf(read).find((one) => one.framing === framing)?.wanted;
		if (framing !== undefined && !wanted) return { problem: words.noFraming() };
		const outcome = nightsOf(read, start, addDays(start, count - 1), undefined, wanted);
		if (!outcome.ok) return { problem: words.nightsCannotBe({ why: told(outcome.why) }) };
		return { problem: undefined, plan: read, nights: outcome.nights[Symbol.iterator](), version: document.version };
	});
	if (!begun) return null;
	if (begun.problem) return { problem: begun.problem };
	const nights: NightChoice[] = [];
	for (;;) {
		const piece = session.guarded("nights", uri, ({ version }) => version === begun.version && nextOf(begun.nights));
		if (piece === null) return null;
		if (piece === false) return { problem: words.changed() };
		nights.push(...piece.found);
		if (piece.isLast) return { plan: begun.plan, nights };
		await new Promise((resolve) => setTimeout(resolve, 0));
	}
}

/** As many as are found in a while. */
function nextOf(nights: Iterator<NightChoice>): { readonly found: readonly NightChoice[]; readonly isLast: boolean } {
	const found: NightChoice[] = [];
	const begin = performance.now();
	while (performance.now() - begin < PIECE_MS) {
		const next = nights.next();
		if (next.done) return { found, isLast: true };
		found.push(next.value);
	}
	return { found, isLast: false };
}

/** A comet lower than this is dimmed by the air, and a core farther off a bearing is another picture: common practice, no source. */
const COMET_ABOVE = 15;
const BESIDE = 10;
const MOST_FRAMINGS = 12;

interface OfferedFraming {
	readonly label: string;
	/** What a client asks for it by. */
	readonly framing: string;
	readonly wanted: WantedFraming;
}

/** How the plan's targets could be wanted: the arch whole, a comet high enough, others where they are planned, or with ground. */
function framingsOf(plan: Plan): readonly OfferedFraming[] {
	const offer = (wanted: WantedFraming, label: Phrase): OfferedFraming => ({
		label: told(label),
		framing: JSON.stringify(wanted),
		wanted,
	});
	const { targets } = evaluate(plan);
	return (targets?.value ?? [])
		.flatMap((one): readonly OfferedFraming[] => {
			if (!one?.body) return [];
			const { name, body, framing, series, directionAt } = one;
			if (body.type === "arch") return [offer({ target: name, wholeArch: true }, words.archWhole({ name }))];
			const bearing = Math.round(directionAt(series.from).azimuth) % 360;
			const bearings = [(bearing + 360 - BESIDE) % 360, (bearing + BESIDE) % 360] as const;
			return [
				body.type === "comet"
					? offer({ target: name, above: COMET_ABOVE }, words.cometAbove({ name, above: COMET_ABOVE }))
					: offer({ target: name, bearings }, words.atBearing({ name, bearing, beside: BESIDE })),
				...(framing ? [offer({ target: name, withGround: true }, words.withGround({ name }))] : []),
			];
		})
		.slice(0, MOST_FRAMINGS);
}

/** The plan's own date with the same numbers. */
function presentOf(plan: Plan): string {
	const date = firstValue(plan, "night")?.date;
	const outcome = date && nightsOf(plan, date, date);
	const [choice] = outcome?.ok ? outcome.nights : [];
	if (!choice) return "";
	const { label, description } = nightText(choice);
	return `${label}: ${description}`;
}
