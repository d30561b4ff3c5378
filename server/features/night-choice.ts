/** Nights of the months to come as choices, the best first: asked for by a command of the extension, with its progress. */

import { addDays, clockOf } from "../../shared/earth/zone.ts";
import { bestOfWeeks, type NightChoice, nightsOf } from "../../shared/evaluate/nights.ts";
import { writeNight } from "../../shared/findings/night-edits.ts";
import { nameOfCell } from "../../shared/methods/methods.ts";
import { dateText, readDate } from "../../shared/notation/date.ts";
import { minutesText } from "../../shared/notation/duration.ts";
import { usableText, weekdayText } from "../../shared/outputs/nights.ts";
import { firstValue, type Plan } from "../../shared/plan/plan.ts";
import { NIGHTS, type NightsAnswer, WRITE_NIGHT } from "../../shared/protocol/choices.ts";
import { answer } from "../../shared/protocol/message.ts";
import { sentences, told } from "../../shared/text/sentence.ts";
import type { Feature } from "../session.ts";
import { workspaceEdit } from "../text-edits.ts";

const words = sentences("feature.night-choice", {
	nightSDate: "The night's date could not be read.",
	nightsCannotBe: "Nights cannot be compared: {why}.",
	alignOn: "align on {mark} at {time}",
	alignBy: "align by {method}",
	about: "{minutes}, Moon illumination {lit} %",
	nightCannotBe: "The night cannot be computed.",
	nothingWasWritten: "Nothing was written: {why}",
});

const SHOWN = 60;
const DEFAULT_DAYS = 365;

export const nightChoice: Feature = {
	capabilities: {},
	listen(session) {
		answer(session.connection, NIGHTS, ({ uri, from, days }) =>
			session.guarded("nights", uri, (document, plan): NightsAnswer => {
				const { plan: read } = plan.evaluation(document);
				const none = { choices: [], present: "" };
				const start = readDate(String(from ?? "")) ?? firstValue(read, "night")?.date;
				if (!start) return { ...none, problem: told(words.nightSDate()) };
				const count = Math.min(Math.max(1, Math.trunc(Number(days) || DEFAULT_DAYS)), 3 * DEFAULT_DAYS);
				const outcome = nightsOf(read, start, addDays(start, count - 1));
				if (!outcome.ok) return { ...none, problem: told(words.nightsCannotBe({ why: told(outcome.why) })) };
				const { best, others } = bestOfWeeks([...outcome.nights]);
				return {
					problem: "",
					choices: [...best, ...others].slice(0, SHOWN).map(wordsOf),
					present: presentOf(read),
				};
			}),
		);
		answer(session.connection, WRITE_NIGHT, ({ uri, date }) =>
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
			}),
		);
	},
};

/** The plan's own date with the same numbers. */
function presentOf(plan: Plan): string {
	const date = firstValue(plan, "night")?.date;
	const outcome = date && nightsOf(plan, date, date);
	const [choice] = outcome?.ok ? outcome.nights : [];
	if (!choice) return "";
	const { label, description } = wordsOf(choice);
	return `${label}: ${description}`;
}

function wordsOf(choice: NightChoice): NightsAnswer["choices"][number] {
	const { date, night, minutes, method, marks } = choice;
	const clock = (at: number): string => clockOf(night.zone, at);
	const mark = marks[0];
	const aligning = mark
		? told(words.alignOn({ mark: mark.name, time: clock(mark.at) }))
		: method?.kind
			? told(words.alignBy({ method: nameOfCell(method) }))
			: "";
	return {
		date: dateText(date),
		label: `${dateText(date)} ${weekdayText(date)}`,
		description: told(
			words.about({ minutes: minutesText(minutes), lit: (night.sky.moonIllumination * 100).toFixed(0) }),
		),
		detail: [usableText(choice), aligning].filter(Boolean).join("; "),
	};
}
