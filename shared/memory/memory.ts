/**
 * The one memory: whatever the core remembers between two calls, it remembers through these. All that is remembered
 * follows from its arguments alone, is bounded, and can be forgotten at any moment without changing an answer.
 */

/** Answers by key, at most `most` of them: when they are full all are forgotten, which costs time and nothing else. */
export class Kept<K, V> {
	readonly #answers = new Map<K, V>();
	readonly #most: number;

	constructor(most: number) {
		this.#most = most;
	}

	/** What is known of a key, made when it is not. */
	of(key: K, make: (key: K) => V): V {
		const known = this.#answers.get(key);
		if (known !== undefined) return known;
		if (this.#answers.size >= this.#most) this.#answers.clear();
		const made = make(key);
		this.#answers.set(key, made);
		return made;
	}

	/** What is known of a key, if anything. */
	get(key: K): V | undefined {
		return this.#answers.get(key);
	}

	has(key: K): boolean {
		return this.#answers.has(key);
	}
}

/** Answers by object, each forgotten with its object. */
export class KeptBy<K extends object, V> {
	readonly #answers = new WeakMap<K, V>();

	of(key: K, make: (key: K) => V): V {
		let known = this.#answers.get(key);
		if (known === undefined) {
			known = make(key);
			this.#answers.set(key, known);
		}
		return known;
	}
}

/**
 * Remembers the last answers of a pure function. Arguments are compared one by one with `Object.is`: the reader gives
 * the same object for the same text, so what an edit did not touch is not computed again. Holds at most `kept` answers.
 */
export function remembered<A extends readonly unknown[], R>(pure: (...args: A) => R, kept: number): (...args: A) => R {
	const memory: { readonly args: A; readonly answer: R }[] = [];
	return (...args) => {
		const index = memory.findIndex(
			(entry) => entry.args.length === args.length && entry.args.every((arg, i) => Object.is(arg, args[i])),
		);
		const known = memory[index];
		if (known) {
			if (index > 0) {
				memory.splice(index, 1);
				memory.unshift(known);
			}
			return known.answer;
		}
		const answer = pure(...args);
		memory.unshift({ args, answer });
		if (memory.length > kept) memory.pop();
		return answer;
	};
}

/**
 * Remembers for pure functions what one turn asks of them and what the turn before did: a turn is a version of a plan.
 * A function that a turn does not ask keeps what it has. Nothing older is held, however many versions there were.
 */
export class Turns {
	#turn = 0;

	/** The next turn begins. */
	next(): void {
		this.#turn++;
	}

	/** Arguments are compared one by one with `Object.is`. */
	remembered<A extends readonly unknown[], R>(pure: (...args: A) => R): (...args: A) => R {
		type Answer = { readonly args: A; readonly answer: R };
		let [now, before]: [Answer[], Answer[]] = [[], []];
		let turn = this.#turn;
		return (...args) => {
			if (turn !== this.#turn) {
				turn = this.#turn;
				[now, before] = [[], now];
			}
			const isIt = (one: Answer): boolean =>
				one.args.length === args.length && one.args.every((arg, i) => Object.is(arg, args[i]));
			const known = now.find(isIt);
			if (known) return known.answer;
			const answer = before.find(isIt) ?? { args, answer: pure(...args) };
			now.push(answer);
			return answer.answer;
		};
	}
}

/**
 * The same for a function whose first argument is an object of which there are many: each has a memory of `kept`
 * answers of its own, which goes when the object goes.
 */
export function rememberedBy<K extends object, A extends readonly unknown[], R>(
	pure: (key: K, ...args: A) => R,
	kept: number,
): (key: K, ...args: A) => R {
	const memories = new WeakMap<K, (...args: A) => R>();
	return (key, ...args) => {
		let own = memories.get(key);
		if (!own) {
			own = remembered((...rest: A) => pure(key, ...rest), kept);
			memories.set(key, own);
		}
		return own(...args);
	};
}

/** A value that is made when it is first asked for. */
export function lazily<T>(make: () => T): () => T {
	let made: { readonly value: T } | undefined;
	return () => {
		made ??= { value: make() };
		return made.value;
	};
}
