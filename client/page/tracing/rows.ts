/** The lists beside the photo: a row for each mark and each line, with what the server says of it. */
import { onTyped } from "./typed.ts";

export interface Row {
	readonly value: string;
	/** A skyline has no name. */
	readonly fixed?: string | undefined;
	readonly text: string;
	readonly wrong: boolean;
}

interface Made {
	readonly item: HTMLLIElement;
	readonly input: HTMLInputElement | undefined;
	readonly result: HTMLElement;
}

/** A list of rows; what is being typed in is left as it is. */
export class Rows {
	readonly #list: HTMLElement;
	readonly #offers: string | undefined;
	readonly #heard: { readonly typed: (index: number, text: string) => void; readonly removed: (index: number) => void };
	readonly #done: () => void;
	#rows: Made[] = [];
	#shown: readonly Row[] = [];
	#kinds = "";

	/** `offers`: the id of what is offered; `done`: Enter was pressed in a row. */
	constructor(
		list: HTMLElement,
		offers: string | undefined,
		heard: { readonly typed: (index: number, text: string) => void; readonly removed: (index: number) => void },
		done: () => void,
	) {
		this.#list = list;
		this.#offers = offers;
		this.#heard = heard;
		this.#done = done;
	}

	show(rows: readonly Row[]): void {
		this.#shown = rows;
		const kinds = JSON.stringify(rows.map(({ fixed }) => fixed ?? ""));
		if (kinds !== this.#kinds) {
			this.#kinds = kinds;
			this.#rows = rows.map((row, index) => this.#made(row, index));
			this.#list.replaceChildren(...this.#rows.map(({ item }) => item));
		}
		for (const [i, { value, text, wrong }] of rows.entries()) {
			const { input, result } = this.#rows[i] as Made;
			if (input && input.value !== value && document.activeElement !== input) input.value = value;
			if (result.textContent !== text) result.textContent = text;
			result.className = wrong ? "result wrong" : "result";
		}
	}

	focus(index: number): void {
		this.#rows[index]?.input?.focus({ preventScroll: true });
	}

	#made({ fixed }: Row, index: number): Made {
		const item = document.createElement("li");
		const row = document.createElement("div");
		row.className = "row";
		const result = document.createElement("span");
		const remove = document.createElement("button");
		remove.type = "button";
		remove.textContent = this.#list.dataset.remove ?? "";
		remove.addEventListener("click", () => this.#heard.removed(index));
		let input: HTMLInputElement | undefined;
		if (fixed === undefined) {
			input = this.#input(index);
			row.append(input);
		} else {
			const name = document.createElement("span");
			name.textContent = fixed;
			row.append(name);
		}
		row.append(remove);
		item.append(row, result);
		return { item, input, result };
	}

	#input(index: number): HTMLInputElement {
		const input = document.createElement("input");
		const { what, name } = this.#list.dataset;
		input.setAttribute("aria-label", (what ?? name ?? "").replace("{number}", String(index + 1)));
		input.autocomplete = "off";
		input.spellcheck = false;
		if (this.#offers) input.setAttribute("list", this.#offers);
		onTyped(
			input,
			() => this.#shown[index]?.value ?? "",
			(text) => this.#heard.typed(index, text),
		);
		input.addEventListener("keydown", (event) => {
			if (event.key === "Enter") this.#done();
		});
		return input;
	}
}
