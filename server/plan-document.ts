/** One open plan: read, reckoned and checked once for each version, however many features ask. */
import type { TextDocument } from "vscode-languageserver-textdocument";
import { check } from "../shared/findings/check.ts";
import type { Finding } from "../shared/findings/finding.ts";
import { type Plan, PlanReader } from "../shared/plan/plan.ts";
import { createReckoner, type Reckoning } from "../shared/reckon.ts";

export class PlanDocument {
	readonly #reader = new PlanReader();
	readonly #reckoner = createReckoner();
	#version: number | undefined;
	#reckoning: Reckoning | undefined;
	#findings: readonly Finding[] | undefined;

	/** Everything the plan implies, at the document's version. */
	reckoning(document: TextDocument): Reckoning {
		if (this.#reckoning && this.#version === document.version) return this.#reckoning;
		const plan: Plan = this.#reader.read(document.getText());
		this.#version = document.version;
		this.#findings = undefined;
		this.#reckoning = this.#reckoner(plan);
		return this.#reckoning;
	}

	findings(document: TextDocument): readonly Finding[] {
		const reckoning = this.reckoning(document);
		this.#findings ??= check(reckoning);
		return this.#findings;
	}
}
