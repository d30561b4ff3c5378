/** Points of a skyline or of an outline: `[150, 5]`, bearing and altitude in degrees. */
import { isScalar, isSeq, type Node } from "yaml";
import type { SkyPoint } from "../sky/outline.ts";
import { type Phrase, sentences } from "../text/sentence.ts";
import { GAP, template } from "../text/template.ts";
import { inCircle } from "./bearing.ts";
import type { Limits } from "./limits.ts";
import { gotOf, type NodeReader, scalarText } from "./node.ts";
import type { Notation, Offer } from "./notation.ts";
import { readNumber } from "./number.ts";

const words = sentences("notation.sky-point", {
	described: "a pair [bearing, altitude]",
	wanted: "a pair [bearing, altitude] in degrees",
	bearing: "a bearing",
	altitude: "an altitude",
});

const sketch = (): Offer => ({
	label: "[…, …]",
	detail: words.described(),
	kind: "mapping",
	yaml: template`[${GAP}, ${GAP}]`,
});

const SKY_POINT: Notation<SkyPoint> = {
	type: "sky-point",
	describe: words.described,
	explain: words.described,
	read(node, at, _path, reader) {
		const [first, second, third] = isSeq(node) ? (node.items as Node[]) : [];
		const [bearing, altitude] = [degreesOf(first), degreesOf(second)];
		if (!first || !second || third || bearing === undefined || altitude === undefined) {
			reader.report({ type: "wrong-type", wanted: words.wanted(), got: gotOf(node), fix: undefined }, at);
			return undefined;
		}
		if (bearing < 0 || bearing > 360)
			return outside(first, bearing, { min: 0, max: 360 }, words.bearing(), `${inCircle(bearing)}`, reader);
		if (altitude < -90 || altitude > 90)
			return outside(second, altitude, { min: -90, max: 90 }, words.altitude(), altitude < 0 ? "-90" : "90", reader);
		return [bearing, altitude];
	},
	schema: () => ({
		type: "array",
		minItems: 2,
		maxItems: 2,
		prefixItems: [
			{ type: ["number", "string"], minimum: 0, maximum: 360 },
			{ type: ["number", "string"], minimum: -90, maximum: 90 },
		],
	}),
	complete: ({ source }) => (source === "" ? [sketch()] : []),
	sketch,
	colour: undefined,
};

/** A point of a skyline or of an outline: bearing and altitude, degrees. */
export const skyPoint = (): Notation<SkyPoint> => SKY_POINT;

/** A plain number of degrees. */
function degreesOf(node: Node | undefined): number | undefined {
	const number = isScalar(node) ? readNumber(scalarText(node)) : undefined;
	return number && /^\s?°?$/.test(number.rest) ? number.value : undefined;
}

function outside(node: Node, value: number, limits: Limits, what: Phrase, fix: string, reader: NodeReader): undefined {
	reader.report(
		{ type: "out-of-range", text: `${value}`, limits, unit: "°", what, each: false, fix },
		reader.span(node),
	);
}
