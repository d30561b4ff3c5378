/** A comet's orbital elements in one line, as the Minor Planet Center publishes them. */
import { type CometField, type LineProblem, limitsOfField, readCometLine } from "../sky/comet-line.ts";
import { type Phrase, sentences } from "../text/sentence.ts";
import type { Notation } from "./notation.ts";
import { type Refused, scalar, unreadable } from "./scalar.ts";

const words = sentences("notation.comet", {
	described: "a comet's orbital elements in one line",
	explained: `a comet's orbital elements in one line of fixed columns, as the Minor Planet Center publishes them under
		Ephemerides and Orbital Elements: 15–18 year, 20–21 month and 23–29 day of perihelion (TT), 31–39 perihelion distance
		(au), 42–49 eccentricity, 52–59 argument of perihelion, 62–69 node, 72–79 inclination (degrees, J2000), 82–89 epoch,
		92–95 and 97–100 magnitude, 103–158 name`,
	missing: "Columns {from}–{to}, {field}: expected {wanted}, found nothing. {paste}",
	unreadable: "Columns {from}–{to}, {field}: expected {wanted}, found `{got}`. {paste}",
	outOfRange: "Columns {from}–{to}, {field}: `{got}` is outside {min} to {max}. {paste}",
	date: "Columns {from}–{to}, {field}: `{got}` is not a real date. {paste}",
	notBlank:
		"Column {from} must be blank, found `{got}`: the field before it has a character too many or too few. {paste}",
	paste: "Paste the whole line with all its spaces, in quotes.",
	year: "year of perihelion",
	month: "month of perihelion",
	day: "day of perihelion",
	distance: "perihelion distance",
	eccentricity: "eccentricity",
	argument: "argument of perihelion",
	node: "longitude of the ascending node",
	inclination: "inclination",
	epoch: "epoch of the elements",
	magnitude: "absolute magnitude",
	slope: "slope of the magnitude",
	wholeNumber: "a whole number",
	fraction: "a number with a decimal point",
	eightDigits: "eight digits such as 20270601, or blanks",
});

/** Elements of a comet that is not there. */
export const EXAMPLE_LINE =
	"    CK27X010  2027 05 20.4000  0.412000  0.999800   80.0000  230.0000   60.0000  20270601   6.0  4.0  C/2027 X1 (invented)";

/** What is wrong with a line, as a phrase. */
export function cometProblem({ why, field, from, to, got: found }: LineProblem): Phrase {
	const got = found.trim();
	const paste = [words.paste()];
	if (!field) return words.notBlank({ from, got, paste });
	const place = { from, to, field: [words[field]()], paste };
	if (got === "") return words.missing({ ...place, wanted: [wantedOf(field)] });
	if (why === "unreadable") return words.unreadable({ ...place, got, wanted: [wantedOf(field)] });
	const { min, max } = limitsOfField(field);
	return field === "epoch" || (field === "day" && Number(got) < max && Number(got) >= min)
		? words.date({ ...place, got })
		: words.outOfRange({ ...place, got, min, max });
}

const wantedOf = (field: CometField): Phrase =>
	field === "year" || field === "month"
		? words.wholeNumber()
		: field === "epoch"
			? words.eightDigits()
			: words.fraction();

/** Reads the line: it stays as it is, without the white space around it. */
export function readComet(text: string): string | Refused {
	const reading = readCometLine(text);
	return reading.ok ? text.trim() : unreadable(cometProblem(reading.problem));
}

const COMET_LINE = scalar<string>({
	type: "comet-line",
	describe: words.described,
	explain: words.explained,
	readText: (text) => readComet(text),
	schema: () => ({ type: "string", minLength: 70 }),
	colour: "class",
});

/** A comet's line of elements. */
export const cometLine = (): Notation<string> => COMET_LINE;
