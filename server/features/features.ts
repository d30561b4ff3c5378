/** The index of language features. A new feature is a file and a line here. */
import type { Feature } from "../session.ts";
import { actions } from "./actions.ts";
import { comparison } from "./comparison.ts";
import { completion } from "./completion/completion.ts";
import { diagnostics } from "./diagnostics.ts";
import { eveningTimes } from "./evening-times.ts";
import { explanation } from "./explanation.ts";
import { exportsFeature } from "./exports.ts";
import { formatting } from "./formatting.ts";
import { ground } from "./ground.ts";
import { hints } from "./hints.ts";
import { hover } from "./hover.ts";
import { lenses } from "./lenses.ts";
import { links } from "./links.ts";
import { markChoice } from "./mark-choice.ts";
import { measuring } from "./measuring.ts";
import { navigation } from "./navigation.ts";
import { newPlan } from "./new-plan.ts";
import { nightChoice } from "./night-choice.ts";
import { notebook } from "./notebook.ts";
import { page } from "./page.ts";
import { ranges } from "./ranges.ts";
import { symbols } from "./symbols.ts";
import { tokens } from "./tokens.ts";
import { trace } from "./trace.ts";

export const FEATURES: readonly Feature[] = [
	diagnostics,
	hover,
	completion,
	actions,
	hints,
	lenses,
	symbols,
	ranges,
	navigation,
	formatting,
	exportsFeature,
	comparison,
	links,
	tokens,
	explanation,
	markChoice,
	measuring,
	newPlan,
	eveningTimes,
	nightChoice,
	page,
	notebook,
	trace,
	ground,
];
