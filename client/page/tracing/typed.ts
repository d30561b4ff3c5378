/**
 * What is typed into a field. The editor also hands its own undo to the page, which the browser takes for the field that
 * was typed in last, wherever the keys went: that is put back.
 */

/** What had the focus when a key was last pressed. */
let keyed: EventTarget | null = null;
document.addEventListener(
	"keydown",
	({ target }) => {
		keyed = target;
	},
	{ capture: true },
);

/** Hears what is typed; `known` is what the field should hold. */
export function onTyped(
	input: HTMLInputElement | HTMLSelectElement,
	known: () => string,
	typed: (text: string) => void,
): void {
	input.addEventListener("input", (event) => {
		const isHistory = event instanceof InputEvent && event.inputType.startsWith("history");
		if (!isHistory || keyed === input) {
			typed(input.value);
			return;
		}
		input.value = known();
		if (keyed instanceof HTMLElement) keyed.focus({ preventScroll: true });
	});
}
