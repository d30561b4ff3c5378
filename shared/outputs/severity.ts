/** The names that each severity goes by, on every face. Codes in JSON are the severities themselves. */
import type { Severity } from "../findings/finding.ts";
import { type Phrase, sentences, told } from "../text/sentence.ts";
import type { Paint } from "./output.ts";

const words = sentences("output.severity", {
	error: "cannot work",
	warning: "will disappoint",
	info: "good to know",
	ofError: "an error: the plan cannot work so",
	ofWarning: "a warning: the plan will disappoint",
	ofInfo: "good to know",
	count: "{count} {word}",
	holds: "The plan holds.",
	nothing: "Nothing to mend",
});

interface SeverityNames {
	/** What it means to who reads it. */
	readonly word: Phrase;
	/** The same of a rule, as its explanation says it. */
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
	error: { word: words.error(), explained: words.ofError(), level: "error", annotation: "error", paint: "red" },
	warning: {
		word: words.warning(),
		explained: words.ofWarning(),
		level: "warning",
		annotation: "warning",
		paint: "yellow",
	},
	info: { word: words.info(), explained: words.ofInfo(), level: "note", annotation: "notice", paint: "blue" },
};

/** What a severity means to who reads it. */
export const severityWord = (severity: Severity): string => told(SEVERITIES[severity].word);

const ORDER = Object.keys(SEVERITIES) as readonly Severity[];

type Counts = Readonly<Record<Severity, number>>;

/** The worst severity of which there is one. */
export const worstOf = (counts: Counts): Severity | undefined => ORDER.find((severity) => counts[severity] > 0);

const countOf = (counts: Counts, severity: Severity): string =>
	told(words.count({ count: counts[severity], word: SEVERITIES[severity].word }));

/** `1 cannot work, 2 good to know`, or that the plan holds. */
export const verdictText = (counts: Counts): string =>
	worstOf(counts) === undefined
		? told(words.holds())
		: ORDER.filter((severity) => counts[severity] > 0)
				.map((severity) => countOf(counts, severity))
				.join(", ");

/** `1 cannot work, 0 will disappoint, 2 good to know`, or that there is nothing to mend. */
export const everyCountText = (counts: Counts): string =>
	worstOf(counts) === undefined ? told(words.nothing()) : ORDER.map((severity) => countOf(counts, severity)).join(", ");
