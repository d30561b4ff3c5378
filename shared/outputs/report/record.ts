/** What a report tells of one plan, as data: it may come from another thread. */
import type { Severity } from "../../findings/finding.ts";
import { dateText } from "../../notation/date.ts";
import { minutesText } from "../../notation/duration.ts";
import { cellsOf, firstValue, isLibrary } from "../../plan/plan.ts";
import { linksFrom } from "../../plan/reuse.ts";
import { either, type Interval } from "../../sky/intervals.ts";
import { nightInterval } from "../clock.ts";
import type { CheckedPlan } from "../output.ts";
import type { FindingView, PageView } from "../page/view.ts";

export interface ReportedPlan {
	/** From the folder of the report, `/` between its parts. */
	readonly path: string;
	readonly title: string;
	readonly summary: string;
	readonly kind: "plan" | "group" | "library";
	/** The site, the date, the zone. */
	readonly where: string;
	readonly site: string;
	/** Of the plan's site, or of all sites of a library. Degrees. */
	readonly places: readonly ReportedPlace[];
	readonly night: ReportedNight | undefined;
	readonly methodLine: string;
	readonly verdict: PageView["verdict"];
	readonly findings: readonly Pick<FindingView, "severity" | "message" | "code" | "line">[];
	/** Paths of the plans that it takes from, as the repository names them, each once. */
	readonly takes: readonly string[];
	/** What was written of it, beside its page in the report. */
	readonly files: readonly ReportedFile[];
}

export interface ReportedPlace {
	readonly name: string;
	readonly latitude: number;
	readonly longitude: number;
}

export interface ReportedNight {
	/** `YYYY-MM-DD`, of the evening. */
	readonly date: string;
	readonly dark: string;
	/** Of the targets, after each other or not; empty where there is nothing to take. */
	readonly usable: string;
	/** Percent of its disc. */
	readonly moon: string;
}

export interface ReportedFile {
	readonly name: string;
	readonly kind: "page" | "card" | "member";
	/** Whose card it is. */
	readonly of: string;
}

/** The worst first; of one severity in the order of the plan. */
const ORDER: readonly Severity[] = ["error", "warning", "info"];

export function reportedPlan(
	{ path, evaluation }: CheckedPlan,
	view: PageView,
	files: readonly ReportedFile[],
): ReportedPlan {
	const { plan, site } = evaluation;
	return {
		path,
		title: view.title,
		summary: view.summary,
		kind: isLibrary(plan) ? "library" : evaluation.group ? "group" : "plan",
		where: view.where,
		site: site?.content.name ?? "",
		places: cellsOf(plan, "site").flatMap(({ read: { content } }): ReportedPlace[] => {
			const { name = "", latitude, longitude } = content ?? {};
			return latitude === undefined || longitude === undefined ? [] : [{ name, latitude, longitude }];
		}),
		night: nightOf(evaluation),
		methodLine: view.methodLine,
		verdict: view.verdict,
		findings: ORDER.flatMap((severity) =>
			view.findings
				.filter((one) => one.severity === severity)
				.map(({ message, code, line }) => ({ severity, message, code, line })),
		),
		takes: [
			...new Set((plan.reuse?.links ?? []).flatMap((link) => [...linksFrom(link)].map(({ path: other }) => other))),
		].sort(),
		files,
	};
}

function nightOf({ plan, night, targets, group }: CheckedPlan["evaluation"]): ReportedNight | undefined {
	const date = firstValue(plan, "night")?.date;
	if (date === undefined || isLibrary(plan)) return undefined;
	// Of a group what any of its kits can take.
	const all = [targets, ...(group?.kits ?? []).map(({ evaluation }) => evaluation?.targets)];
	const usable = all
		.flatMap((one) => one?.value ?? [])
		.reduce<readonly Interval[]>((all, target) => either(all, target?.usable ?? []), []);
	const minutes = usable.reduce((sum, { from, until }) => sum + (until - from) / 60_000, 0);
	return {
		date: dateText(date),
		dark: night?.moonless.map((one) => nightInterval(night, one)).join(", ") ?? "",
		usable: minutes < 1 ? "" : minutesText(minutes),
		moon: night ? `${(night.sky.moonIllumination * 100).toFixed(0)} %` : "",
	};
}
