/** Time zones of the IANA database. Whether one exists is a finding of its own. */
import { knownZones } from "../earth/zone.ts";
import { sentences } from "../text/sentence.ts";
import type { Notation, Offer } from "./notation.ts";
import { scalar } from "./scalar.ts";
import { NAME_SCHEMA, readName } from "./text.ts";

const words = sentences("notation.zone", { described: "a time zone", there: "the zone of the coordinates" });

const ZONE = scalar<string>({
	type: "zone",
	describe: words.described,
	readText: readName,
	schema: () => NAME_SCHEMA,
	complete({ zoneThere }) {
		const there = zoneThere();
		const offers: Offer[] = there ? [{ label: there, detail: words.there(), kind: "value", order: 0 }] : [];
		for (const zone of knownZones())
			if (zone !== there)
				offers.push({ label: zone, detail: "", kind: "value", order: offers.length + (there ? 0 : 1) });
		return offers;
	},
	colour: "variable",
});

/** A time zone of the IANA database. */
export const zone = (): Notation<string> => ZONE;
