/** The tutorial's pictures, drawn of the plan that its own cells make: they are as fresh as its text. */
import { evaluate } from "../../evaluate/evaluate.ts";
import { check } from "../../findings/check.ts";
import { readPlan } from "../../plan/plan.ts";
import { pageView } from "../page/view.ts";
import { type PictureName, pictureDocument } from "../svg/svg.tsx";

const SHOWN: readonly PictureName[] = ["panorama", "finder-chart", "side-view", "timeline"];

/** By their names: SVG files. `tutorial`: its text, whose YAML blocks are the cells of a plan. */
export function tutorialPictures(tutorial: string): ReadonlyMap<string, string> {
	const cells = [...tutorial.matchAll(/```yaml\n([\s\S]*?)```/g)].map(([, cell = ""]) => cell);
	const evaluation = evaluate(readPlan(cells.join("---\n")));
	const view = pageView(evaluation, check(evaluation));
	return new Map(
		SHOWN.flatMap((name) => {
			const picture = pictureDocument(name, view);
			return picture === undefined ? [] : [[name, picture] as const];
		}),
	);
}
