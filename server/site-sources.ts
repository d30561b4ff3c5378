/** Where the keys of a site are from, as comments above them; and which comments of a plan say that. */
import { type Phrase, sentences, told } from "../shared/text/sentence.ts";

export const sources = sentences("site.source", {
	ground: `Ground from elevation tiles, seen from {eye} m ({of}), out to {reach}; true bearings; straight lines within
		{tolerance}° of it.`,
	groundOnly: `It has no trees, walls, arches or roofs, and nothing nearer than {near} m: look for yourself and add what
		hides more.`,
	photo:
		"From a photo ({path}): {marks} marks, off by {worst} at most; points within {within} of where they are, 19 times in 20.",
	survey: "From a survey ({path}); true bearings.",
	traced: "{what}: traced on the photo {name}{taken}; {marks} marks, off by {worst} at most; within {within} (95 %).",
	before: "Where that has nothing, as before: {comment}",
});

/** Whether a comment says where a whole key was from. */
export function isSource(comment: string): boolean {
	return Object.values(sources).some((say) => fits(comment, (say as () => Phrase)().template));
}

/** Whether a text is a template that was filled in. */
function fits(text: string, template: string): boolean {
	const parts = template.split(/\{\w+\}/);
	const [first = "", last = ""] = [parts[0], parts.at(-1)];
	if (!text.startsWith(first) || !text.endsWith(last)) return false;
	let at = first.length;
	for (const part of parts.slice(1, -1)) {
		const found = text.indexOf(part, at);
		if (found < 0) return false;
		at = found + part.length;
	}
	return at <= text.length - last.length;
}

/** A comment of a value of which a part is still there. */
export const asBefore = (comment: string): string => (isSource(comment) ? comment : told(sources.before({ comment })));
