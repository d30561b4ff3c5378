/** Relative paths of other plans. Where they lead is a matter of reuse. */
import { sentences } from "../text/sentence.ts";
import type { Notation } from "./notation.ts";
import { scalar } from "./scalar.ts";
import { NAME_SCHEMA, readName } from "./text.ts";

const words = sentences("notation.path", { described: "a relative path of another plan" });

const PATH = scalar<string>({
	type: "path",
	describe: words.described,
	readText: readName,
	schema: () => NAME_SCHEMA,
});

/** A relative path of another plan. */
export const path = (): Notation<string> => PATH;
