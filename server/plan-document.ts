/** One open plan: read, joined with what it takes from others, evaluated and checked once for each version, however many features ask. */

import { createEvaluator, type Evaluation, evaluate } from "../shared/evaluate/evaluate.ts";
import { check, checking } from "../shared/findings/check.ts";
import type { Finding } from "../shared/findings/finding.ts";
import { PlanReader, readPlan } from "../shared/plan/plan.ts";
import { type JoinedPlan, PlanJoiner, settingsOf } from "../shared/plan/reuse.ts";
import type { WorkspaceLibrary } from "./library.ts";
import { type PlanText, planUri } from "./plan-text.ts";

export class PlanDocument {
	readonly #reader = new PlanReader();
	readonly #joiner = new PlanJoiner();
	readonly #evaluator = createEvaluator();
	readonly #library: WorkspaceLibrary;
	#version: number | undefined;
	#generation = -1;
	#plan: JoinedPlan | undefined;
	#evaluation: Evaluation | undefined;
	#findings: readonly Finding[] | undefined;

	constructor(library: WorkspaceLibrary) {
		this.#library = library;
	}

	/** Everything the plan implies, at the document's version. */
	evaluation(document: PlanText): Evaluation {
		const { generation } = this.#library;
		const current = this.#version === document.version && (this.#generation === generation || this.#isApart(document));
		if (this.#evaluation && current) {
			// Looked at once for each change elsewhere, not at every question after it.
			this.#generation = generation;
			return this.#evaluation;
		}
		const { path, library } = this.#library.seenFrom(planUri(document));
		this.#plan = this.#joiner.join(this.#reader.read(document.getText()), path, library);
		this.#version = document.version;
		this.#generation = generation;
		this.#findings = undefined;
		this.#evaluation = this.#evaluator(this.#plan);
		return this.#evaluation;
	}

	/** Whether what has changed in other files changes nothing here: it takes from none, and the settings are the same. */
	#isApart(document: PlanText): boolean {
		if (this.tookFrom.length > 0) return false;
		const { path, library } = this.#library.seenFrom(planUri(document));
		return settingsOf(path, library) === this.#plan?.settings;
	}

	/** Another text of the plan with all that follows, what it takes from others included. */
	evaluated(document: PlanText, text: string): Evaluation {
		const { path, library } = this.#library.seenFrom(planUri(document));
		return evaluate(this.#joiner.join(readPlan(text), path, library));
	}

	findings(document: PlanText): readonly Finding[] {
		const evaluation = this.evaluation(document);
		this.#findings ??= check(evaluation);
		return this.#findings;
	}

	/** Makes the findings in small steps; at the end of them `findings` has them, unless the document has changed. */
	*checking(document: PlanText): Generator<void> {
		const evaluation = this.evaluation(document);
		if (this.#findings) return;
		const found = yield* checking(evaluation);
		if (this.#evaluation === evaluation) this.#findings = found;
	}

	/** Where it takes cells from, at the document's version. */
	takesFrom(document: PlanText): JoinedPlan["reuse"]["links"] {
		this.evaluation(document);
		return this.tookFrom;
	}

	/** Where it took cells from when it was last joined. */
	get tookFrom(): JoinedPlan["reuse"]["links"] {
		return this.#plan?.reuse.links ?? [];
	}
}
