/**
 * What the pictures of README and walkthrough show of a plan, as lines of text: of its page what is seen first and the
 * names in its view, of its card what is seen first. A picture that says something else is out of date; the look of it
 * is for the eye of whoever takes them anew.
 */
import { readFileSync } from "node:fs";
import { check } from "../../shared/findings/check.ts";
import { card } from "../../shared/outputs/card/card.tsx";
import { pageBody } from "../../shared/outputs/page/page.tsx";
import { pageView } from "../../shared/outputs/page/view.ts";
import { PLAIN } from "../plain-environment.ts";
import { evaluateText } from "../plan-text.ts";

/** The sample that they are taken of. */
export const PICTURED = "roofless-chapel";
/** Where it is kept what they were taken of. */
export const RECORD = new URL("pictures.json", import.meta.url);

export interface PictureSource {
	readonly plan: readonly string[];
	readonly page: readonly string[];
	readonly view: readonly string[];
	readonly card: readonly string[];
}

export function pictureSource(): PictureSource {
	const plan = readFileSync(new URL(`../../samples/${PICTURED}.lode.yaml`, import.meta.url), "utf8");
	const evaluation = evaluateText(plan);
	const findings = check(evaluation);
	const page = pageBody(pageView(evaluation, findings));
	const made = card.of.plan?.make({ path: "a.lode.yaml", text: plan, evaluation, findings }, PLAIN, "");
	return {
		plan: plan.split("\n").map((line) => line.trimEnd()),
		page: linesOf(between(page, "<header", 'id="evening-heading"')),
		view: linesOf(between(page, 'id="panorama"', "</svg>")),
		card: linesOf(between(String(made), 'id="card"', "<details")),
	};
}

function between(html: string, from: string, until: string): string {
	const start = html.indexOf(from);
	const end = html.indexOf(until, start);
	if (start < 0 || end < 0) throw new Error(`no ${start < 0 ? from : until}`);
	return html.slice(html.lastIndexOf("<", start), html.lastIndexOf("<", end));
}

/** What is read of it, a line for each piece of text. */
const linesOf = (html: string): readonly string[] =>
	html
		.replace(/<(title|desc|script|style)\b.*?<\/\1>/gs, "")
		.replace(/<[^>]*>/g, "\n")
		.split("\n")
		.map((line) => line.trim())
		.filter((line) => line !== "");
