/**
 * The elements of a text of ours, without anything that could run, load or lead elsewhere. What the server writes has
 * nothing of the kind; a notebook of another origin may hold data of this type all the same.
 */
import { EXPLANATION_SCHEME } from "../../shared/protocol/explanation.ts";

export function harmless(html: string): DocumentFragment {
	const template = document.createElement("template");
	template.innerHTML = html;
	clean(template.content);
	return template.content;
}

/** Elements that run, load, send or restyle what is around them. */
const LEFT_OUT =
	"script, style, link, meta, base, iframe, frame, object, embed, applet, form, img, picture, video, audio, source, track, portal, image, feImage, foreignObject, animate, set, animateTransform, animateMotion, template, noscript";
/** Attributes that name what is loaded or gone to. */
const ADDRESSES = new Set(["href", "xlink:href", "src", "srcset", "srcdoc", "action", "formaction", "ping", "poster"]);

function clean(root: DocumentFragment): void {
	for (const element of root.querySelectorAll(LEFT_OUT)) element.remove();
	for (const element of root.querySelectorAll("*"))
		for (const { name, value } of [...element.attributes]) if (!isHarmless(name, value)) element.removeAttribute(name);
}

function isHarmless(name: string, value: string): boolean {
	if (/^on/i.test(name)) return false;
	if (ADDRESSES.has(name.toLowerCase())) return value.startsWith("#") || value.startsWith(`${EXPLANATION_SCHEME}:/`);
	// A paint or a clip of the same picture, and nothing from elsewhere.
	return !/url\(\s*["']?(?!#)|@import|image-set\(/i.test(value);
}
