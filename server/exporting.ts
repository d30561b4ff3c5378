/** Exports: whatever the command line can write of a plan, for the editor. Loaded on first use. */
import type { CheckedPlan } from "../shared/outputs/output.ts";
import type { MadeOf } from "../shared/outputs/outputs.ts";
import { explanationUri } from "../shared/protocol/explanation.ts";
import type { EXPORT, EXPORTS, ExportChoice } from "../shared/protocol/exports.ts";
import type { ParamsOf } from "../shared/protocol/message.ts";
import { sentences, told } from "../shared/text/sentence.ts";
import { planUri } from "./plan-text.ts";
import type { OnRequest, Session } from "./session.ts";

// Put in when the server is built.
declare const LODEBOOK_VERSION: string;

const words = sentences("exporting", {
	printPage: "Print the page",
	printCard: "Print the card",
});

/** Forms that a photographer takes along or shows to others, in the order in which they are offered; the others come last. */
const FIRST = ["card", "page", "calendar", "geojson", "markdown", "svg"];
/** Forms that are laid out for paper. */
const PRINTED = { page: words.printPage, card: words.printCard };

/** Outputs that have a title are for people; the others are for programs that run the command line. */
const madeFor = ({ outputsOf }: OnRequest): readonly MadeOf<"plan">[] =>
	outputsOf("plan").filter(({ output }) => output.title !== undefined);

const choicesOf = (all: readonly MadeOf<"plan">[]): readonly ExportChoice[] =>
	all.flatMap(({ output: { name, title, choice, extension } }) =>
		(choice?.among ?? [""]).map((one) => ({
			label: title ? told(title) : name,
			description: one.replaceAll("-", " "),
			output: name,
			choice: one,
			extension,
		})),
	);

/** As they are offered: what is to be seen or printed, then what is to be read as text or by programs. */
function inOrder(
	all: readonly ExportChoice[],
): readonly [first: readonly ExportChoice[], last: readonly ExportChoice[]] {
	const first = FIRST.flatMap((name) => all.filter(({ output }) => output === name));
	const printed = Object.entries(PRINTED).flatMap(([name, label]) =>
		all
			.filter(({ output }) => output === name)
			.map((one): ExportChoice => ({ ...one, label: told(label()), prints: true })),
	);
	return [[...first, ...printed], all.filter(({ output }) => !FIRST.includes(output))];
}

/** What can be written of a plan, and of each member of a group. */
export async function exportChoices(session: Session, asked: ParamsOf<typeof EXPORTS>): Promise<ExportChoice[]> {
	const [first, last] = inOrder(choicesOf(madeFor(await session.onRequest())));
	const ofMembers = await session.answered(
		"exports",
		String(asked?.uri),
		(document, plan, { memberNames, OF_MEMBER }) =>
			memberNames({ evaluation: plan.evaluation(document) }).flatMap((name, member) =>
				first
					.filter(({ output }) => OF_MEMBER.includes(output))
					.map((one): ExportChoice => ({ ...one, description: name, member })),
			),
	);
	return [...first, ...(ofMembers ?? []), ...last];
}

/** The plan as one of them. */
export const exported = (session: Session, { uri, output, choice, member, pageScript }: ParamsOf<typeof EXPORT>) =>
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
		const asked = member === undefined ? checked : onRequest.memberPlan(checked, Number(member));
		if (!asked || (member !== undefined && !onRequest.OF_MEMBER.includes(output))) return null;
		const text = made.making.make(
			asked,
			{
				now: Date.now(),
				version: LODEBOOK_VERSION,
				pageScript: String(pageScript),
				paint: (shown) => shown,
				fromHere: (path) => path,
				explanation: explanationUri,
				fromRoot: (path: string) => path,
				ground: "light",
			},
			String(choice),
		);
		return typeof text === "string" ? { text } : { problem: told(text.why) };
	});
