/** The names that each severity goes by, on every face. Codes in JSON are the severities themselves. */
import type { Severity } from "../findings/finding.ts";
import { type Phrase, sentences, told } from "../text/sentence.ts";
import type { Paint } from "./output.ts";

const words = sentences("output.severity", {
	error: "error",
	warning: "warning",
	info: "note",
	one: "{count} {word}",
	many: "{count} {word}s",
	nothing: "No problems found",
	none: "No problems found.",
});

interface SeverityNames {
	/** Its name. */
	readonly word: Phrase;
	/** The same, in the explanation of a rule. */
	readonly explained: Phrase;
	/** In SARIF. */
	readonly level: "error" | "warning" | "note";
	/** In workflow commands. */
	readonly annotation: "error" | "warning" | "notice";
	/** On a terminal. */
	readonly paint: Paint;
}

/** The names of each severity; the worst first. */
export const SEVERITIES: Readonly<Record<Severity, SeverityNames>> = {
	error: { word: words.error(), explained: words.error(), level: "error", annotation: "error", paint: "red" },
	warning: {
		word: words.warning(),
		explained: words.warning(),
		level: "warning",
		annotation: "warning",
		paint: "yellow",
	},
	info: { word: words.info(), explained: words.info(), level: "note", annotation: "notice", paint: "blue" },
};

/** The name of a severity, as it is shown. */
export const severityWord = (severity: Severity): string => told(SEVERITIES[severity].word);

const ORDER = Object.keys(SEVERITIES) as readonly Severity[];

/** The worst first, those alike in the order they came in: an error may be what brings about the warnings before it. */
export const worstFirst = <F extends { readonly severity: Severity }>(findings: readonly F[]): readonly F[] =>
	ORDER.flatMap((severity) => findings.filter((one) => one.severity === severity));

type Counts = Readonly<Record<Severity, number>>;

/** The worst severity of which there is one. */
export const worstOf = (counts: Counts): Severity | undefined => ORDER.find((severity) => counts[severity] > 0);

const countOf = (counts: Counts, severity: Severity): string =>
	told((counts[severity] === 1 ? words.one : words.many)({ count: counts[severity], word: SEVERITIES[severity].word }));

/** `1 error, 2 notes`: those there are. */
const countsText = (counts: Counts): string =>
	ORDER.filter((severity) => counts[severity] > 0)
		.map((severity) => countOf(counts, severity))
		.join(", ");

/** `1 error, 2 notes`, or a sentence that there are no problems. */
export const verdictText = (counts: Counts): string =>
	worstOf(counts) === undefined ? told(words.none()) : countsText(counts);

/** The same as a title. */
export const verdictTitle = (counts: Counts): string =>
	worstOf(counts) === undefined ? told(words.nothing()) : countsText(counts);
