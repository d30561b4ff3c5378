/** The keyboard's focus over a redraw: whoever goes through the page by keys is not thrown back to its beginning by an edit. */

const CAN_HAVE_IT = ["a[href]", "button", "input", "summary", "[tabindex]"].join();

/** What a reader knows it by: lines of the plan move with an edit, words and ids stay. */
const nameOf = (one: Element): string => [one.localName, one.id, one.id === "" ? one.textContent : ""].join(" ");

const namedLike = (root: ParentNode, name: string): readonly HTMLElement[] =>
	[...root.querySelectorAll<HTMLElement>(CAN_HAVE_IT)].filter((one) => nameOf(one) === name);

/** Draws, and gives the focus back to what had it, or to what now has its words; the page is not scrolled for it. */
export function keepFocus(root: ParentNode & Node, draw: () => void): void {
	const had = document.activeElement;
	if (!had || had === document.body || !root.contains(had)) {
		draw();
		return;
	}
	const name = nameOf(had);
	const place = namedLike(root, name).indexOf(had as HTMLElement);
	draw();
	const alike = namedLike(root, name);
	const now = alike[place] ?? alike.at(-1);
	if (now && now !== document.activeElement) now.focus({ preventScroll: true });
}
