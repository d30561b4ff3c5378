import { degrees } from "../../notation/angle.ts";
import { spreadText } from "../../notation/spread.ts";
import { DEG, RAD } from "../../sky/vector.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";

/** Bearing error from a landmark's place that is worth a word, degrees. */
const WORTH_SAYING = 0.25;

const words = sentences("method/landmark-too-near", {
	title: "Landmark too near",
	about: `An error in the position of the site or the landmark turns the bearing by that error divided by the
		distance. Ten metres are 0.06° at 10 km, but 1.1° at 500 m. Choose a landmark further away, or survey both
		positions to the metre and write \`uncertainty: { landmark: ± 1 m }\`.`,
	tooNear: `\`{name}\` is {distance} m away, so an error of {spread} in its position or yours turns the bearing by
		{off}. Use a landmark more than {farther} km away, or survey both positions.`,
});

export default rule({
	code: "method/landmark-too-near",
	severity: "warning",
	words,
	wrong: {
		site: "name: Sheepfold\nlatitude: 32.4123 S\nlongitude: 54.3622 W\nlandmarks: [{ name: gate post, latitude: 32.4131 S, longitude: 54.3622 W }]",
		method: "kind: landmark-bearing\nlandmark: gate post",
	},
	right: {
		site: "name: Sheepfold\nlatitude: 32.4123 S\nlongitude: 54.3622 W\nlandmarks: [{ name: far gate, latitude: 32.4333 S, longitude: 54.3622 W }]",
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
					off: degrees(off),
					farther: Math.ceil(farther * 10) / 10,
				}),
			};
		}
	},
});
