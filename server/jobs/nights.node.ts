/** Compares the nights of a season for a plan. */

import { bestOfWeeks } from "../../shared/evaluate/nights.ts";
import { firstValue, isLibrary } from "../../shared/plan/plan.ts";
import { readText } from "../files.node.ts";
import { joinedPlan } from "../library.node.ts";
import { type AskedNights, nightColumns, nightsRecord, seasonOf, whyNone } from "../season.node.ts";
import type { Job } from "./jobs.ts";

export interface PlanNights {
	readonly title: string;
	readonly record: ReturnType<typeof nightsRecord>;
	/** The best of each new-moon week and the other usable nights, the best first, in the columns of a table; the latter alone where no such week has one. */
	readonly rows: readonly (readonly string[])[];
	readonly others: readonly (readonly string[])[];
	/** Why none of them is usable. */
	readonly none?: string;
}

/** Undefined of what is no plan of a night: a library, the settings. */
export const nightsJob: Job<AskedNights, PlanNights | undefined> = (path, asked) => {
	const plan = joinedPlan(path, readText(path));
	if (isLibrary(plan) || plan.cells.every(({ read }) => read.kind === "settings")) return undefined;
	const season = seasonOf(path, plan, asked);
	const { best, others } = bestOfWeeks(season.nights);
	return {
		title: firstValue(plan, "plan")?.title ?? "",
		record: nightsRecord(season),
		rows: (best.length === 0 ? others : best).map((night) => nightColumns(night, season)),
		others: best.length === 0 ? [] : others.map((night) => nightColumns(night, season)),
		...(best.length + others.length === 0 && { none: whyNone(season) }),
	};
};
