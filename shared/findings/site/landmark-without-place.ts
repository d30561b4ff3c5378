import { cellsOf } from "../../plan/plan.ts";
import { at, rule } from "../finding.ts";

export default rule({
	code: "site/landmark-without-place",
	severity: "warning",
	title: "A landmark without a place",
	about: "A landmark serves for bearings when its coordinates are known, or its bearing was measured from the stand.",
	wrong: { site: "name: Sheepfold\nlatitude: 32.4123 S\nlongitude: 20.8431 E\nlandmarks: [{ name: water tower }]" },
	right: {},
	*find({ plan }) {
		const cell = cellsOf(plan, "site")[0];
		for (const [index, { name, latitude, longitude, bearing }] of (cell?.read.content?.landmarks ?? []).entries()) {
			if (!cell || name === undefined || bearing !== undefined || (latitude !== undefined && longitude !== undefined))
				continue;
			// Coordinates that are there but cannot be read have a finding of their own.
			if (cell.read.places.has(`landmarks.${index}.latitude`) && cell.read.places.has(`landmarks.${index}.longitude`))
				continue;
			yield {
				...at(cell, `landmarks.${index}.name`),
				message: `\`${name}\` has neither coordinates nor a bearing. Give it \`latitude\` and \`longitude\`, or the \`bearing\` measured from the stand.`,
			};
		}
	},
});
