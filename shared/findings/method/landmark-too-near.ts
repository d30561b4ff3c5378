import { degrees } from "../../notation/angle.ts";
import { spreadText } from "../../notation/spread.ts";
import { DEG, RAD } from "../../sky/vector.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";

/** Bearing error from a landmark's place that is worth a word, degrees. */
const WORTH_SAYING = 0.25;

const words = sentences("method/landmark-too-near", {
	title: "The landmark is too near",
	about: `A stand or a landmark known to ten metres turns the bearing by ten metres over the distance: 0.06° at ten
		kilometres, 1.1° at five hundred metres. Take a farther one, or survey both to the metre and say so under
		\`uncertainty: { landmark: ± 1 m }\`.`,
	tooNear: `\`{name}\` is {distance} m away: ± {spread} in its place, or the stand's, is ± {off} of bearing. Take a
		landmark farther than {farther} km, or survey both.`,
});

export default rule({
	code: "method/landmark-too-near",
	severity: "warning",
	words,
	wrong: {
		site: "name: Sheepfold\nlatitude: 32.4123 S\nlongitude: 20.8431 E\nlandmarks: [{ name: gate post, latitude: 32.4131 S, longitude: 20.8431 E }]",
		method: "kind: landmark-bearing\nlandmark: gate post",
	},
	right: {
		site: "name: Sheepfold\nlatitude: 32.4123 S\nlongitude: 20.8431 E\nlandmarks: [{ name: far gate, latitude: 32.4333 S, longitude: 20.8431 E }]",
		method: "kind: landmark-bearing\nlandmark: far gate",
	},
	*find({ methods }) {
		for (const { cell, value: method } of methods) {
			const mark = method?.setUp.marks.find(({ landmark }) => landmark?.located);
			const source = method?.budget.shares.find(({ name }) => name === "landmark");
			if (!mark?.landmark || !source) continue;
			const { distance, name } = mark.landmark;
			const off = Math.atan2(source.spread, distance) * DEG;
			if (off < WORTH_SAYING) continue;
			const farther = source.spread / Math.tan(WORTH_SAYING * RAD) / 1000;
			yield {
				...at(cell, mark.key),
				message: words.tooNear({
					name,
					distance: Math.round(distance),
					spread: spreadText(source.spread, source.unit),
					off: degrees(off, 2),
					farther: Math.ceil(farther * 10) / 10,
				}),
			};
		}
	},
});
