/** What was done, to be undone and done again. */

/** Steps that are kept. */
const MOST = 500;

export class History<T> {
	#before: T[] = [];
	#after: T[] = [];
	#now: T;
	/** What the last step was of: the next one of the same goes on with it. */
	#last: string | undefined;

	constructor(first: T) {
		this.#now = first;
	}

	get now(): T {
		return this.#now;
	}

	get canUndo(): boolean {
		return this.#before.length > 0;
	}

	get canRedo(): boolean {
		return this.#after.length > 0;
	}

	/** A step. One `of` the same as the last is no step of its own: a text that is typed, a point that is dragged. */
	do(next: T, of?: string): void {
		if (next === this.#now) return;
		if (of === undefined || of !== this.#last) {
			this.#before.push(this.#now);
			if (this.#before.length > MOST) this.#before.shift();
		}
		this.#last = of;
		this.#after = [];
		this.#now = next;
	}

	/** The next step is one of its own, whatever it is of. */
	rest(): void {
		this.#last = undefined;
	}

	undo(): void {
		this.#go(this.#before, this.#after);
	}

	redo(): void {
		this.#go(this.#after, this.#before);
	}

	#go(from: T[], to: T[]): void {
		const next = from.pop();
		if (next === undefined) return;
		to.push(this.#now);
		this.#now = next;
		this.#last = undefined;
	}
}
