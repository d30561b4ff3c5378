/**
 * Draws what follows from a notebook's cells. It is given each cell's part of the page as the data of an output, and
 * later ones as messages, by which it patches what it has drawn: no cell is run for an edit.
 */
import { CELL_STYLE } from "../../shared/outputs/page/style.ts";
import type { DrawnCell, ShownCell } from "../../shared/protocol/notebook.ts";
import { byId } from "./by-id.ts";
import { keepFocus } from "./focus.ts";
import { harmless } from "./harmless.ts";
import { patchElement } from "./patch.ts";
import { showChosen, showTime } from "./sky-time.ts";

/** What the editor gives a renderer (its notebook renderer API), as far as it is used here. */
interface RendererContext {
	postMessage?(message: DrawnCell): void;
	onDidReceiveMessage?(listener: (message: ShownCell) => void): unknown;
}
interface OutputItem {
	readonly id: string;
	json(): unknown;
}
interface Renderer {
	renderOutputItem(item: OutputItem, element: HTMLElement): void;
	disposeOutputItem(id?: string): void;
}

interface Drawn {
	readonly element: HTMLElement;
	shown: ShownCell;
}

export function activate(context: RendererContext): Renderer {
	/** By the ids of outputs. */
	const drawn = new Map<string, Drawn>();
	/** The newest of each cell: what was sent before its output is drawn is not lost. */
	const newest = new Map<string, ShownCell>();
	/** Where the reader has put the clock. */
	let time: number | undefined;

	addStyle();
	document.addEventListener("input", ({ target }) => {
		if (target instanceof HTMLInputElement && target.closest(".lodebook-cell")) time = showChosen(target) ?? time;
	});
	context.onDidReceiveMessage?.((message) => {
		if (!isShown(message)) return;
		newest.set(message.cell, message);
		for (const one of drawn.values()) if (one.shown.cell === message.cell) draw(one, message);
	});

	function draw(one: Drawn, shown: ShownCell): void {
		one.shown = shown;
		const next = one.element.cloneNode(false) as HTMLElement;
		next.append(harmless(shown.html));
		for (const part of next.querySelectorAll(".lodebook-cell")) part.classList.add("live");
		keepFocus(one.element, () => {
			patchElement(one.element, next);
			const slider = byId("time");
			if (slider instanceof HTMLInputElement) showTime(time ?? Number(slider.defaultValue));
		});
	}

	return {
		renderOutputItem(item, element) {
			const { id } = item;
			const given = item.json();
			if (!isShown(given)) return;
			const before = newest.get(given.cell);
			const one: Drawn = { element, shown: given };
			drawn.set(id, one);
			draw(one, before && before.stamp > given.stamp ? before : given);
			context.postMessage?.({ type: "drawn", cell: given.cell, stamp: one.shown.stamp, output: id });
		},
		disposeOutputItem(id) {
			for (const [output, { shown }] of [...drawn]) {
				if (id !== undefined && output !== id) continue;
				drawn.delete(output);
				context.postMessage?.({ type: "gone", cell: shown.cell, stamp: shown.stamp, output });
			}
		},
	};
}

/** The page's style, and no other: once for all cells. */
function addStyle(): void {
	const style = document.createElement("style");
	style.textContent = CELL_STYLE;
	document.head.append(style);
}

/** Whether something is what is sent here: the page also holds the outputs of others. */
function isShown(given: unknown): given is ShownCell {
	const { cell, stamp, html } = (typeof given === "object" && given !== null ? given : {}) as Partial<ShownCell>;
	return typeof cell === "string" && typeof stamp === "number" && typeof html === "string";
}
