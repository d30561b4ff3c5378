/** Nights of the months to come as choices, the best first: asked for by a command of the extension, with its progress. */

import { addDays, clockOf } from "../../shared/earth/zone.ts";
import { type NightChoice, nightsOf, ranked } from "../../shared/evaluate/nights.ts";
import { nightEdits } from "../../shared/findings/night-edits.ts";
import { dateText, readDate } from "../../shared/notation/date.ts";
import { minutesText } from "../../shared/notation/duration.ts";
import { intervalText } from "../../shared/notation/interval.ts";
import { firstValue } from "../../shared/plan/plan.ts";
import { NIGHTS, type NightsAnswer } from "../../shared/protocol/choices.ts";
import { answer } from "../../shared/protocol/message.ts";
import { told } from "../../shared/text/sentence.ts";
import type { Feature } from "../session.ts";
import { workspaceEdit } from "../text-edits.ts";

const SHOWN = 60;
const DEFAULT_DAYS = 365;

export const nightChoice: Feature = {
	capabilities: {},
	listen(session) {
		answer(session.connection, NIGHTS, ({ uri, from, days }) =>
			session.guarded("nights", uri, (document, plan): NightsAnswer => {
				const { plan: read } = plan.evaluation(document);
				const start = readDate(String(from ?? "")) ?? firstValue(read, "night")?.date;
				if (!start) return { choices: [], problem: "The night's date could not be read." };
				const count = Math.min(Math.max(1, Math.trunc(Number(days) || DEFAULT_DAYS)), 3 * DEFAULT_DAYS);
				const outcome = nightsOf(read, start, addDays(start, count - 1));
				if (!outcome.ok) return { choices: [], problem: `Nights cannot be compared: ${told(outcome.why)}.` };
				const useful = ranked([...outcome.nights]).filter(({ minutes }) => minutes >= 1);
				return {
					problem: "",
					choices: useful.slice(0, SHOWN).map((choice) => ({
						...wordsOf(choice),
						edit: workspaceEdit(document, nightEdits(read, choice)),
					})),
				};
			}),
		);
	},
};

function wordsOf({ date, night, minutes, windows, method, marks }: NightChoice): {
	label: string;
	description: string;
	detail: string;
} {
	const clock = (at: number): string => clockOf(night.zone, at);
	const mark = marks[0];
	const aligning = mark ? `align on ${mark.name} at ${clock(mark.at)}` : method ? `align by ${method.kind}` : "";
	return {
		label: dateText(date),
		description: `${minutesText(minutes)}, Moon illumination ${(night.sky.moonIllumination * 100).toFixed(0)} %`,
		detail: [windows.map((one) => intervalText(night.zone, one)).join(", "), aligning].filter(Boolean).join("; "),
	};
}
