import morphdom from "morphdom";

/** Makes an element like another one, and touches only what differs: what the reader has opened or switched on stays so. */
export function patchElement(old: HTMLElement, next: HTMLElement): void {
	morphdom(old, next, {
		onBeforeElUpdated: (from, to) => {
			if (from instanceof HTMLDetailsElement && from.open) (to as HTMLDetailsElement).open = true;
			if (from instanceof HTMLInputElement && from.type === "checkbox") (to as HTMLInputElement).checked = from.checked;
			return !from.isEqualNode(to);
		},
	});
}
