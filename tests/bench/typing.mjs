// Somebody who changes a digit here and one there: all over a plan, the same places and digits in every run.

export class Typing {
	#lines;
	#digits;
	#seed = 20_270_605;
	#version = 1;

	constructor(text) {
		this.#lines = text.split("\n");
		// The last digit of each number: a date stays one, and a comment says nothing.
		this.#digits = this.#lines.flatMap((line, i) =>
			/format:|date:|#/.test(line) ? [] : [...line.matchAll(/\d(?!\d)/g)].map(({ index }) => [i, index]),
		);
	}

	/** Changes a digit anywhere to another one, and gives its place. */
	edit(peer, uri) {
		const [line, character] = this.#digits[this.#below(this.#digits.length)];
		const old = this.#lines[line];
		const digit = String((Number(old[character]) + 1 + this.#below(9)) % 10);
		this.#lines[line] = old.slice(0, character) + digit + old.slice(character + 1);
		peer.notify("textDocument/didChange", {
			textDocument: { uri, version: ++this.#version },
			contentChanges: [{ range: { start: { line, character }, end: { line, character: character + 1 } }, text: digit }],
		});
		return { line, character };
	}

	/** A number from 0 on below another (Park and Miller). */
	#below(count) {
		this.#seed = (this.#seed * 48_271) % 2_147_483_647;
		return this.#seed % count;
	}
}
