/** Guide stars of a method as choices, and a new plan's text: asked for by commands of the extension. */
import { clockOf } from "../../shared/earth/zone.ts";
import { starsFor } from "../../shared/evaluate/suggestions.ts";
import { setKey } from "../../shared/findings/finding.ts";
import { readDate } from "../../shared/notation/clock.ts";
import { readCoordinate } from "../../shared/notation/coordinate.ts";
import { bearingWithPoint, degrees } from "../../shared/notation/spoken.ts";
import { newPlanText } from "../../shared/outputs/draft/new-plan.ts";
import { cellAt } from "../../shared/plan/field-at.ts";
import { GUIDE_STARS, NEW_PLAN, type StarChoice } from "../../shared/protocol/choices.ts";
import { answer } from "../../shared/protocol/message.ts";
import type { Feature } from "../session.ts";
import { workspaceEdit } from "../text-edits.ts";

export const guideStarChoice: Feature = {
	capabilities: {},
	listen(session) {
		answer(session.connection, GUIDE_STARS, ({ uri, line }) =>
			session.guarded("guide stars", uri, (document, plan): StarChoice[] => {
				const { tonight, night, plan: read } = plan.evaluation(document);
				const offset = document.offsetAt({ line: Number(line) || 0, character: 0 });
				const at = cellAt(read.cells, offset);
				const cell =
					at?.read.kind === "method"
						? at
						: read.cells.find((one) => one.read.kind === "method" && one.read.content?.kind === "square-laser");
				if (cell?.read.kind !== "method" || !tonight || !night) return [];
				return starsFor(cell.read.content, tonight).map(({ star, best, direction, miss }) => {
					const clock = clockOf(night.zone, best);
					const edits = [setKey(cell, "", "guide-star", star.name), setKey(cell, "", "at", `"${clock}"`)].filter(
						(edit) => edit !== undefined,
					);
					return {
						label: `${star.name} at ${clock}`,
						detail: `${degrees(direction.altitude)} high at ${bearingWithPoint(direction.azimuth)}, misses the aim point by ${degrees(miss, 2)}, magnitude ${star.magnitude.toFixed(1)}`,
						edit: workspaceEdit(document, edits),
					};
				});
			}),
		);
		answer(session.connection, NEW_PLAN, ({ title, site, latitude, longitude, date }) => {
			const [lat, lon] = [readCoordinate(String(latitude), "latitude"), readCoordinate(String(longitude), "longitude")];
			if (!lat.ok || !lon.ok || !readDate(String(date))) return null;
			return newPlanText({
				title: String(title),
				site: String(site),
				latitude: lat.degrees,
				longitude: lon.degrees,
				date: String(date),
			});
		});
	},
};
