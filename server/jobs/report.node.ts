/** Writes a plan's page and cards for a report, and gives what the report tells of it. */
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { createEvaluator } from "../../shared/evaluate/evaluate.ts";
import { check } from "../../shared/findings/check.ts";
import { card } from "../../shared/outputs/card/card.tsx";
import { memberNames, memberPlan } from "../../shared/outputs/member.ts";
import type { CheckedPlan } from "../../shared/outputs/output.ts";
import { pageDocument } from "../../shared/outputs/page/document.ts";
import { pageView } from "../../shared/outputs/page/view.ts";
import { type ReportedFile, type ReportedPlan, reportedPlan } from "../../shared/outputs/report/record.ts";
import { placeOfPlan } from "../../shared/outputs/report/site.tsx";
import { environment } from "../environment.node.ts";
import { readText } from "../files.node.ts";
import { joinedPlan } from "../library.node.ts";
import type { Job } from "./jobs.ts";

export interface AskedReport {
	/** Of the plans, and where the report is written: as the file system has them. */
	readonly folder: string;
	readonly out: string;
}

const evaluateNext = createEvaluator();

/** `path`: from the folder, `/` between its parts. */
export const reportJob: Job<AskedReport, ReportedPlan> = (path, { folder, out }) => {
	const file = join(folder, path);
	const text = readText(file);
	const evaluation = evaluateNext(joinedPlan(file, text));
	const plan: CheckedPlan = { path, text, evaluation, findings: check(evaluation) };
	const view = pageView(evaluation, plan.findings);
	const place = join(out, placeOfPlan(path));
	mkdirSync(place, { recursive: true });
	const files: ReportedFile[] = [];
	const write = (made: ReportedFile, content: string): void => {
		writeFileSync(join(place, made.name), content, { flag: "wx" });
		files.push(made);
	};
	const around = environment();
	if (evaluation.night) {
		write({ name: "page.html", kind: "page", of: "" }, pageDocument(view, around.pageScript));
		const carded = card.of.plan?.make(plan, around, "");
		if (typeof carded === "string") write({ name: "card.html", kind: "card", of: "" }, carded);
	}
	for (const [place, of] of memberNames(plan).entries()) {
		const member = memberPlan(plan, place);
		const carded = member && card.of.plan?.make(member, around, "");
		if (typeof carded === "string") write({ name: `card-${place + 1}.html`, kind: "member", of }, carded);
	}
	return reportedPlan(plan, view, files);
};
