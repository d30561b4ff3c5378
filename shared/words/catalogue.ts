/**
 * The sentences of all owners as one catalogue: what a translator would be given. Each stands with its owner (a method,
 * a rule, a notation, a value, an output); here they are only joined.
 */
import { declaredSentences } from "../text/sentence.ts";
import "../findings/rules.ts";
import "../measure/picture.ts";
import "../measure/tell.ts";
import "../outputs/notebook/words.ts";
import "../outputs/outputs.ts";
import "../outputs/reference/explanation.ts";
import "../outputs/reference/values.ts";

/** Sentences by key (`owner.name`), in the order of the keys. Names in braces are filled in when a sentence is told. */
export const catalogue = (): Readonly<Record<string, string>> =>
	Object.fromEntries([...declaredSentences()].sort(([a], [b]) => (a < b ? -1 : 1)));
