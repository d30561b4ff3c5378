/** Lines and columns of a text, from offsets. Lines end with LF, CRLF or CR, as editors count them. */
export class Lines {
	readonly #starts: number[] = [0];

	constructor(text: string) {
		for (let i = 0; i < text.length; i++) {
			const code = text.charCodeAt(i);
			if (code === 10 || (code === 13 && text.charCodeAt(i + 1) !== 10)) this.#starts.push(i + 1);
		}
	}

	/** Line and column of an offset, both from 0; columns count UTF-16 units. */
	at(offset: number): { line: number; column: number } {
		let low = 0;
		let high = this.#starts.length - 1;
		while (low < high) {
			const middle = (low + high + 1) >> 1;
			if ((this.#starts[middle] as number) <= offset) low = middle;
			else high = middle - 1;
		}
		return { line: low, column: offset - (this.#starts[low] as number) };
	}

	/** Offset of a line's first character. */
	start(line: number): number {
		return this.#starts[Math.min(line, this.#starts.length - 1)] as number;
	}

	/** A line of the text these are the lines of, without its line break. */
	text(text: string, line: number): string {
		const end = line + 1 < this.count ? this.start(line + 1) : text.length;
		return text.slice(this.start(line), end).replace(/\r?\n$|\r$/, "");
	}

	get count(): number {
		return this.#starts.length;
	}
}
