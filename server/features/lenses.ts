/**
 * Code lenses over cells: guide stars of a method, the dark hours, the verdict. In the extension they are commands; other
 * clients, which know none of these, are told the same without one.
 */

import { type CodeLens, CodeLensRefreshRequest, type Range } from "vscode-languageserver";
import { suggestionsFor } from "../../shared/evaluate/suggestions.ts";
import { countBySeverity } from "../../shared/findings/check.ts";
import { methodOf } from "../../shared/methods/methods.ts";
import { minutesText } from "../../shared/notation/duration.ts";
import { nightClock } from "../../shared/outputs/clock.ts";
import { verdictTitle } from "../../shared/outputs/severity.ts";
import { cellsOf } from "../../shared/plan/plan.ts";
import { COMMANDS, SHOW_FINDINGS, SHOW_USERS, type ShownUsers } from "../../shared/protocol/commands.ts";
import { totalMinutes } from "../../shared/sky/intervals.ts";
import { sentences, told } from "../../shared/text/sentence.ts";
import type { PlanDocument } from "../plan-document.ts";
import type { PlanIndex } from "../plan-index.ts";
import { isIn, locationOf, type PlanText, planUri } from "../plan-text.ts";
import type { Feature } from "../session.ts";
import { placeInEvening } from "./evening-place.ts";

const words = sentences("feature.lenses", {
	usedByOne: "used by 1 plan",
	usedBy: "used by {count} plans",
	beginPlanAnswer: "Begin a plan: answer five questions",
	beginWithSample: "Begin with a sample",
	beginWithMy: "Begin with my kit",
	openPreview: "Open preview",
	darkMoonlessSite: "{minutes} dark and moonless on site",
	oneStar: "1 guide star tonight: {name} at {time}",
	stars: "{count} guide stars tonight, the best: {name} at {time}",
	noGuideStar: "No guide star tonight",
});

export const lenses: Feature = {
	capabilities: { codeLensProvider: {} },
	listen(session) {
		const again = (): void => {
			if (session.client.workspace?.codeLens?.refreshSupport)
				session.askAgain(() => session.connection.sendRequest(CodeLensRefreshRequest.type));
		};
		session.onElsewhereChange(again);
		session.onIndexed(again);
		session.connection.onCodeLens(({ textDocument }) => {
			if (!session.settings.lenses) return [];
			session.index.begin();
			return session.guarded("lenses", textDocument.uri, (document, plan) => [
				...lensesOf(document, plan, session.ownClient),
				...usersLenses(document, plan, session.index, session.ownClient),
			]);
		});
	},
};

/** Over an empty file: three ways to begin. */
const waysToBegin = ({ uri }: PlanText): CodeLens[] =>
	[
		{ title: told(words.beginPlanAnswer()), command: COMMANDS.newPlan },
		{ title: told(words.beginWithSample()), command: COMMANDS.openSample },
		{ title: told(words.beginWithMy()), command: COMMANDS.planFromKit },
	].map((command) => ({
		range: { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } },
		command: { ...command, arguments: [uri] },
	}));

/** Over a cell that others take: how many plans do, and where. */
export function usersLenses(document: PlanText, plan: PlanDocument, index: PlanIndex, commands: boolean): CodeLens[] {
	const usersOf = index.users(planUri(document));
	return plan.evaluation(document).plan.cells.flatMap((cell): CodeLens[] => {
		const key = cell.read.places.get("")?.key;
		if (!key || !isIn(document, cell.start + key.from)) return [];
		const users = usersOf(cell.index);
		const count = new Set(users.map(({ uri }) => uri)).size;
		if (count === 0) return [];
		const { uri, range } = locationOf(document, cell.start + key.from, cell.start + key.to);
		const title = told(count === 1 ? words.usedByOne() : words.usedBy({ count }));
		const places = users.flatMap(({ cell: { takes } }) => (takes ? [takes.at] : []));
		const args = [uri, range.start, places] satisfies ShownUsers;
		return [{ range, command: commands ? { title, command: SHOW_USERS, arguments: args } : { title, command: "" } }];
	});
}

/** The lenses of what is in a text. */
export function lensesOf(document: PlanText, plan: PlanDocument, commands: boolean): CodeLens[] {
	const evaluation = plan.evaluation(document);
	const { night } = evaluation;
	if (commands && evaluation.plan.text.trim() === "") return waysToBegin(document);
	const lenses: CodeLens[] = [];
	const inEvening = (range: Range, title: string | undefined): void => {
		if (title !== undefined) lenses.push({ range, command: { title, command: commands ? COMMANDS.openPreview : "" } });
	};
	for (const cell of evaluation.plan.cells) {
		const key = cell.read.places.get("")?.key;
		// A list begins above what is in it, which may be all that is asked about.
		if (!key || (cell.read.kind !== "targets" && !isIn(document, cell.start + key.from))) continue;
		const range = { start: document.positionAt(cell.start + key.from), end: document.positionAt(cell.start + key.to) };
		const lens = (title: string, command: string, args: readonly unknown[] = []): void =>
			void lenses.push({
				range,
				// Without a command there is nothing to run, and the title is shown all the same.
				command: commands ? { title, command, arguments: [...args] } : { title, command: "" },
			});
		if (cell.read.kind === "plan") {
			lens(verdictTitle(countBySeverity(plan.findings(document))), SHOW_FINDINGS);
			if (commands) lens(told(words.openPreview()), COMMANDS.openPreview);
		} else if (cell.read.kind === "night" && night && cellsOf(evaluation.plan, "night")[0] === cell) {
			lens(told(words.darkMoonlessSite({ minutes: minutesText(totalMinutes(night.moonless)) })), COMMANDS.chooseNight);
			inEvening(range, placeInEvening(evaluation, cell));
		} else if (cell.read.kind === "targets") {
			for (const index of (cell.read.content ?? []).keys()) {
				const at = cell.read.places.get(`${index}.name`)?.key ?? cell.read.places.get(String(index))?.value;
				if (!at || !isIn(document, cell.start + at.from)) continue;
				const start = document.positionAt(cell.start + at.from);
				inEvening({ start, end: start }, placeInEvening(evaluation, cell, index));
			}
		} else if (cell.read.kind === "method" && cell.read.content?.kind && night) {
			inEvening(range, placeInEvening(evaluation, cell));
			const method = methodOf(cell.read.content.kind);
			if (!method.search?.momentary) continue;
			const found = suggestionsFor(evaluation, method, cell.read.content);
			const [best] = found;
			lens(
				best
					? told(
							(found.length === 1 ? words.oneStar : words.stars)({
								count: found.length,
								name: best.name,
								time: nightClock(night, best.at),
							}),
						)
					: told(words.noGuideStar()),
				COMMANDS.chooseGuideStar,
				[document.uri, document.positionAt(cell.start + key.from).line],
			);
		}
	}
	return lenses;
}
