import { degrees } from "../../notation/angle.ts";
import { bearingText } from "../../notation/bearing.ts";
import { heightText } from "../../notation/height.ts";
import { cellsOf } from "../../plan/plan.ts";
import { coveredBy } from "../../sky/cover.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";

const words = sentences("site/landmark-hidden", {
	title: "Landmark hidden from the site",
	about: `By its coordinates this landmark is below the skyline of the site, behind an obstruction or outside every
		opening. You can see it only if it is nearer than what hides it, and without seeing it you cannot take a
		bearing. If you can see it, add its \`altitude\` as measured from the site, or its measured \`bearing\` instead
		of the coordinates.`,
	skyline: `\`{name}\` ({altitude}, bearing {bearing}) is below the skyline, which is at altitude {skyline} there. If you see it
		in front of the skyline, add its measured \`altitude\`.`,
	roof: "`{name}` ({altitude}, bearing {bearing}) is outside every opening. If you can see it, add its measured `altitude`.",
	obstruction:
		"`{name}` ({altitude}, bearing {bearing}) is behind `{by}`. If you can see it, add its measured `altitude`.",
});

const SITE = `name: Sheepfold
latitude: 32.4123 S
longitude: 54.3622 W
elevation: 145 m
landmarks: [{ name: water tower, latitude: 32.4391 S, longitude: 54.3951 W, elevation: 187 m }]`;

export default rule({
	code: "site/landmark-hidden",
	severity: "info",
	words,
	wrong: { site: `${SITE}\nskyline: [[0, 20]]` },
	right: [
		{ site: `${SITE}\nskyline: [[0, 1.5]]` },
		{ site: `${SITE.replace("187 m }", "187 m, altitude: 0.6 }")}\nskyline: [[0, 1.6]]` },
	],
	over: { site: `${SITE}\nskyline: [[0, 1.6]]` },
	*find({ plan, site, landmarks }) {
		const cell = cellsOf(plan, "site")[0];
		if (!site || !cell) return;
		for (const [index, { name }] of (cell.read.content?.landmarks ?? []).entries()) {
			const landmark = landmarks.find((one) => one.name === name);
			if (!landmark?.unseen) continue;
			const direction = { azimuth: landmark.bearing, altitude: landmark.altitude };
			const skyline = site.cover.skylineAt(direction.azimuth);
			const by = coveredBy(site.cover, direction);
			const place = {
				name: landmark.name,
				altitude: heightText(direction.altitude),
				bearing: bearingText(direction.azimuth),
			};
			yield {
				...at(cell, `landmarks.${index}.name`),
				message:
					by === "roof"
						? words.roof(place)
						: by
							? words.obstruction({ ...place, by: by.name })
							: words.skyline({ ...place, skyline: degrees(skyline) }),
			};
		}
	},
});
