import { cellsOf } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";

const words = sentences("site/landmark-without-place", {
	title: "Landmark without a position",
	about: `A landmark can give a bearing only if its direction is known: either from its coordinates, from which the
		direction is computed, or from a bearing measured at the site. This one has neither, so no method can use it.
		Read the coordinates off a map, or measure the bearing by day.`,
	message: `\`{name}\` has neither coordinates nor a bearing. Add \`latitude\` and \`longitude\`, or the \`bearing\` measured at the
		site.`,
});

export default rule({
	code: "site/landmark-without-place",
	severity: "warning",
	words,
	wrong: { site: "name: Sheepfold\nlatitude: 32.4123 S\nlongitude: 54.3622 W\nlandmarks: [{ name: water tower }]" },
	right: [
		{
			site: `name: Sheepfold
latitude: 32.4123 S
longitude: 54.3622 W
landmarks: [{ name: water tower, bearing: 231 }]`,
		},
		{
			site: `name: Sheepfold
latitude: 32.4123 S
longitude: 54.3622 W
landmarks: [{ name: water tower, latitude: 32.4391 S, longitude: 54.3951 W }]`,
		},
	],
	over: [
		{
			site: `name: Sheepfold
latitude: 32.4123 S
longitude: 54.3622 W
landmarks: [{ name: water tower, altitude: 2 }]`,
		},
		{
			site: `name: Sheepfold
latitude: 32.4123 S
longitude: 54.3622 W
landmarks: [{ name: water tower, latitude: 32.4391 S }]`,
		},
	],
	*find({ plan }) {
		const cell = cellsOf(plan, "site")[0];
		for (const [index, { name, latitude, longitude, bearing }] of (cell?.read.content?.landmarks ?? []).entries()) {
			if (!cell || name === undefined || bearing !== undefined || (latitude !== undefined && longitude !== undefined))
				continue;
			// Coordinates that are there but cannot be read have a finding of their own.
			if (cell.read.places.has(`landmarks.${index}.latitude`) && cell.read.places.has(`landmarks.${index}.longitude`))
				continue;
			yield { ...at(cell, `landmarks.${index}.name`), message: words.message({ name }) };
		}
	},
});
