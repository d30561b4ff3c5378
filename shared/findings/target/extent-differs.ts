import { sizeOnMaps } from "../../cells/targets/size.ts";
import { degrees } from "../../notation/angle.ts";
import { objectName, objectOf } from "../../notation/sky-object.ts";
import { sentences } from "../../text/sentence.ts";
import { at, fix, replaceValue, rule } from "../finding.ts";
import { eachTarget } from "./each.ts";

const words = sentences("target/extent-differs", {
	title: "Extent does not match the object",
	about: `\`extent\` says how wide the target is on the sky, so that it can be checked against the frame. The sizes of
		catalogued objects are known; where \`extent\` is less than four fifths of that size, or more than three times
		as much, either \`extent\` or the object is probably wrong. Leave \`extent\` out to use the known size; if you
		want only a part of the object, keep the smaller \`extent\` and hide this note with a \`# lodebook-ignore\`
		comment.`,
	message: "{name}: `extent` says {extent}, but {object} is {size} across on maps.",
	use: "Set `extent` to {size}",
});

const LEAST = 0.8;
const MOST = 3;

const nebula = (extent: string): { readonly lens: string; readonly targets: string } => ({
	lens: "focal-length: 50 mm\nsensor: full-frame\npixels: 6000 x 4000",
	targets: `- name: lagoon\n  aim: M8\n  extent: ${extent}\n  from: "21:30"\n  exposure: 5 s\n  trail: 60 px`,
});

export default rule({
	code: "target/extent-differs",
	severity: "info",
	words,
	wrong: nebula("0.5°"),
	instead: nebula("1.5°"),
	right: [nebula("1.2°"), nebula("4.5°")],
	over: [nebula("1.19°"), nebula("4.51°")],
	each: "target",
	*find(evaluation) {
		for (const { cell, target } of eachTarget(evaluation)) {
			const { entry, body, index, name } = target;
			const size = sizeOnMaps(body);
			const object = objectOf(body);
			if (!object || size === undefined || entry.extent === undefined) continue;
			if (entry.extent >= LEAST * size * (1 - 1e-9) && entry.extent <= MOST * size * (1 + 1e-9)) continue;
			const text = degrees(size, size < 1 ? 2 : 1);
			yield {
				...at(cell, `${index}.extent`),
				message: words.message({
					name,
					extent: degrees(entry.extent, 2),
					object: objectName(object),
					size: text,
				}),
				fixes: fix(words.use({ size: text }), false, replaceValue(cell, `${index}.extent`, text)),
			};
		}
	},
});
