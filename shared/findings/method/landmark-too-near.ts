import { degrees } from "../../notation/angle.ts";
import { cellsOf } from "../../plan/plan.ts";
import { at, rule } from "../finding.ts";

/** Bearing error from a landmark's place that is worth a word, degrees. */
const WORTH_SAYING = 0.25;

export default rule({
	code: "method/landmark-too-near",
	severity: "warning",
	title: "The landmark is too near",
	about:
		"A stand or a landmark known to ten metres turns the bearing by ten metres over the distance: 0.06° at ten kilometres, 1.1° at five hundred metres. Take a farther one, or survey both to the metre and say so under `uncertainty: { landmark: ± 1 m }`.",
	wrong: {
		site: "name: Sheepfold\nlatitude: 32.4123 S\nlongitude: 20.8431 E\nlandmarks: [{ name: gate post, latitude: 32.4131 S, longitude: 20.8431 E }]",
		method: "kind: landmark-bearing\nlandmark: gate post",
	},
	right: { method: "kind: landmark-bearing\nlandmark: water tower" },
	*find({ plan, landmarks, methods }) {
		for (const { cell, value: method } of methods) {
			const landmark = landmarks.find(({ name }) => name === method?.content.landmark);
			const source = method?.budget.shares.find(({ name }) => name === "landmark");
			if (!landmark?.located || !source || method?.method.kind !== "landmark-bearing") continue;
			const off = (Math.atan2(source.spread, landmark.distance) * 180) / Math.PI;
			if (off < WORTH_SAYING) continue;
			yield {
				...at(cell, "landmark"),
				message: `\`${landmark.name}\` is ${Math.round(landmark.distance)} m away: ± ${source.spread} m in its place, or the stand's, is ± ${degrees(off, 2)} of bearing. Take a landmark farther than ${Math.ceil((source.spread / Math.tan((WORTH_SAYING * Math.PI) / 180) / 1000) * 10) / 10} km, or survey both.`,
			};
		}
		void cellsOf(plan, "site");
	},
});
