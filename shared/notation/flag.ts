/** `true` or `false`. */
import { sentences } from "../text/sentence.ts";
import type { Notation } from "./notation.ts";
import { Refused, scalar } from "./scalar.ts";

const words = sentences("notation.flag", { described: "`true` or `false`" });

const FLAG = scalar<boolean>({
	type: "flag",
	describe: words.described,
	readText(text, value) {
		if (typeof value === "boolean") return value;
		const fix = /^(?:yes|on|y)$/i.test(text) ? "true" : /^(?:no|off|n)$/i.test(text) ? "false" : undefined;
		return new Refused({ type: "wrong-type", wanted: words.described(), fix });
	},
	schema: () => ({ type: "boolean" }),
	complete: () => [
		{ label: "true", detail: "", kind: "value", yaml: "true" },
		{ label: "false", detail: "", kind: "value", yaml: "false" },
	],
});

export const flag = (): Notation<boolean> => FLAG;
