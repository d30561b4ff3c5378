/** Methods that can be used tonight, whatever the plan has: what a message may recommend. */
import { ALL_METHODS, type AnyMethod, type MethodContent } from "../methods/methods.ts";
import type { Tonight } from "../methods/tonight.ts";
import { proposedBy } from "./proposals.ts";

/** Those that set the axis tonight, in the order of their list: by themselves, or pointed at something that is there. */
export const waysTonight = (tonight: Tonight): readonly AnyMethod[] =>
	tonight.remember("ways tonight", () =>
		ALL_METHODS.filter((method) => !method.corrects && canBeUsed(method, tonight)),
	);

function canBeUsed(method: AnyMethod, tonight: Tonight): boolean {
	const { kind, search, setUp } = method;
	const works = (content: MethodContent): boolean => {
		const { obstacles, windows } = setUp({ ...content, kind }, tonight);
		return obstacles.length === 0 && windows.length > 0;
	};
	if (works({}) || !proposedBy(method, tonight).next().done) return true;
	const [best] = search?.fills ? search.find({ kind }, tonight, { most: 1 }) : [];
	return best !== undefined && works(best.keys as MethodContent);
}
