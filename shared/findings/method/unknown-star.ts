import type { Cell } from "../../plan/plan.ts";
import { cellsOf } from "../../plan/plan.ts";
import { BODY_NAMES, findBody } from "../../sky/place.ts";
import { findStar, starSpellings } from "../../sky/stars.ts";
import { nearestWord } from "../../text/nearest.ts";
import { at, type Found, fix, replaceValue, rule } from "../finding.ts";

export default rule({
	code: "method/unknown-star",
	severity: "error",
	title: "Unknown star or body",
	about:
		"Stars go by their proper name (`Spica`), Bayer letter (`eta Virginis`, `eta Vir`, `η Vir`), Flamsteed number (`15 Vir`) or Hipparcos number (`HIP 60129`), down to magnitude 6. Bodies are `sun`, `moon`, the planets and `galactic-centre`.",
	wrong: { method: 'kind: square-laser\nguide-star: eta Virgin\nat: "20:01"\nlocal-rules-checked: true' },
	right: {},
	*find({ plan }) {
		for (const cell of cellsOf(plan, "method")) {
			const { "guide-star": guide, star, body, stars, first, second } = cell.read.content ?? {};
			yield* unknown(cell, "guide-star", guide, "star");
			yield* unknown(cell, "star", star, "star");
			yield* unknown(cell, "body", body, "body");
			for (const [index, name] of (stars ?? []).entries()) yield* unknown(cell, `stars.${index}`, name, "star");
			yield* unknown(cell, "first.star", first?.star, "body");
			yield* unknown(cell, "second.star", second?.star, "body");
		}
		for (const cell of cellsOf(plan, "targets").slice(0, 1)) {
			for (const [index, { aim }] of (cell.read.content ?? []).entries())
				if (typeof aim === "string") yield* unknown(cell, `${index}.aim`, aim, "body");
		}
		for (const cell of cellsOf(plan, "log").slice(0, 1)) {
			for (const [index, { star }] of (cell.read.content ?? []).entries())
				yield* unknown(cell, `${index}.star`, star, "body");
		}
	},
});

function* unknown(cell: Cell, path: string, name: string | undefined, what: "star" | "body"): Iterable<Found> {
	if (name === undefined) return;
	if (what === "star" ? findStar(name) : findBody(name)) return;
	if (what === "star" && findBody(name)) {
		yield { ...at(cell, path), message: `\`${name.slice(0, 60)}\` is no star. A star belongs here.` };
		return;
	}
	const nearest = nearestWord(name, what === "star" ? starSpellings() : [...BODY_NAMES, ...starSpellings()]);
	yield {
		...at(cell, path),
		message: `No ${what === "star" ? "star" : "star, planet or other body"} to magnitude 6 is called \`${name.slice(0, 60)}\`.${nearest ? ` Did you mean ${nearest}?` : " Try its proper name, `eta Virginis`, `15 Vir` or `HIP 60129`."}`,
		fixes: nearest ? fix(`Change to ${nearest}`, false, replaceValue(cell, path, nearest)) : [],
	};
}
