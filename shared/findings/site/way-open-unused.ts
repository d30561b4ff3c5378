import { isByTheSea } from "../../cells/site/site.ts";
import { cellsOf } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { at, fix, rule } from "../finding.ts";
import { removal } from "../remove-key.ts";

const words = sentences("site/way-open-unused", {
	title: "Way open by the tide, at a site away from the sea",
	about: `\`way-open\` says for how long before and after low water the way to the site can be walked. It counts only at a
		site by the sea: one whose \`place\` includes \`shore\` or \`sea-cave\`. At any other site the walks are not checked
		against the tide, and someone who reads the key may believe that they are. Add the place if the sea reaches the
		site or its way, otherwise delete the key.`,
	message: `\`way-open\` has no effect unless \`place\` includes \`shore\` or \`sea-cave\`. If the tide covers the way, add one
		of the two; otherwise delete \`way-open\`.`,
	delete: "Delete way-open",
});

const site = (place: string, way = ""): { readonly site: string } => ({
	site: `name: Sheepfold\nlatitude: 32.4123 S\nlongitude: 54.3622 W\nelevation: 145 m${place}${way}`,
});

const WAY = "\nway-open: 2 h";

export default rule({
	code: "site/way-open-unused",
	severity: "info",
	safety: true,
	words,
	wrong: site("\nplace: [gorge]", WAY),
	right: [site("\nplace: [shore]", WAY), site("\nplace: [cliff, sea-cave]", WAY), site("\nplace: [gorge]")],
	over: [site("\nplace: [cliff]", WAY), site("\nplace: [open]", WAY), site("", WAY)],
	*find({ plan, site }) {
		const [cell] = cellsOf(plan, "site");
		if (!cell?.read.places.has("way-open") || isByTheSea(site)) return;
		yield {
			...at(cell, "way-open", "key"),
			message: words.message(),
			fixes: fix(words.delete(), false, removal(cell, "way-open")),
		};
	},
});
