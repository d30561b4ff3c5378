/** Exports: whatever the command line can write of a plan, for the editor. */
import type { CheckedPlan } from "../../shared/outputs/output.ts";
import type { MadeOf } from "../../shared/outputs/outputs.ts";
import { EXPORT, EXPORTS, type ExportChoice } from "../../shared/protocol/exports.ts";
import { answer } from "../../shared/protocol/message.ts";
import { told } from "../../shared/text/sentence.ts";
import { planUri } from "../plan-text.ts";
import type { Feature, OnRequest } from "../session.ts";

// Put in when the server is built.
declare const LODEBOOK_VERSION: string;

/** Outputs that have a title are for people; the others are for programs that run the command line. */
const madeFor = ({ outputsOf }: OnRequest): readonly MadeOf<"plan">[] =>
	outputsOf("plan").filter(({ output }) => output.title !== undefined);

const choicesOf = (all: readonly MadeOf<"plan">[]): readonly ExportChoice[] =>
	all.flatMap(({ output: { name, title, choice, extension } }) =>
		(choice?.among ?? [""]).map((one) => ({
			label: title ? told(title) : name,
			description: one.replace("-", " "),
			output: name,
			choice: one,
			extension,
		})),
	);

export const exportsFeature: Feature = {
	capabilities: {},
	listen(session) {
		answer(session.connection, EXPORTS, async () => {
			return choicesOf(madeFor(await session.onRequest()));
		});
		answer(session.connection, EXPORT, ({ uri, output, choice, pageScript }) =>
			session.answered("export", uri, (document, plan, onRequest) => {
				const all = madeFor(onRequest);
				const wanted = choicesOf(all).find((one) => one.output === output && one.choice === choice);
				const made = wanted && all.find((one) => one.output.name === wanted.output);
				if (!made) return null;
				const checked: CheckedPlan = {
					path: planUri(document).replace(/^.*\//, ""),
					text: document.getText(),
					findings: plan.findings(document),
					evaluation: plan.evaluation(document),
				};
				const text = made.making.make(
					checked,
					{
						now: Date.now(),
						version: LODEBOOK_VERSION,
						pageScript: String(pageScript),
						paint: (shown) => shown,
						fromHere: (path) => path,
						fromRoot: (path: string) => path,
						ground: "light",
					},
					String(choice),
				);
				return typeof text === "string" ? { text } : { problem: told(text.why) };
			}),
		);
	},
};
