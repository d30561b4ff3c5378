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

/** Answers by a text, of texts of so many characters in all: when they are full all are forgotten. */
export class KeptBySize<V> {
	readonly #answers = new Map<string, V>();
	readonly #most: number;
	#size = 0;

	constructor(most: number) {
		this.#most = most;
	}

	get(key: string): V | undefined {
		return this.#answers.get(key);
	}

	/** Keeps an answer, unless its text alone would fill a tenth of the memory. */
	add(key: string, answer: V): void {
		if (key.length > this.#most / 10 || this.#answers.has(key)) return;
		if (this.#size + key.length > this.#most) {
			this.#answers.clear();
			this.#size = 0;
		}
		this.#answers.set(key, answer);
		this.#size += key.length;
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

interface Answer<A extends readonly unknown[], R> {
	readonly args: A;
	readonly answer: R;
}

function isAnswerTo({ args }: Answer<readonly unknown[], unknown>, asked: readonly unknown[]): boolean {
	if (args.length !== asked.length) return false;
	for (let i = 0; i < args.length; i++) if (!Object.is(args[i], asked[i])) return false;
	return true;
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
		let [now, before]: [Answer<A, R>[], Answer<A, R>[]] = [[], []];
		let turn = this.#turn;
		return (...args) => {
			if (turn !== this.#turn) {
				turn = this.#turn;
				[now, before] = [[], now];
			}
			const known = now.find((one) => isAnswerTo(one, args));
			if (known) return known.answer;
			const answer = before.find((one) => isAnswerTo(one, args)) ?? { args, answer: pure(...args) };
			now.push(answer);
			return answer.answer;
		};
	}
}

/**
 * Remembers the last answers of a pure function whose first argument is an object of which there are many: each has a
 * memory of `kept` answers of its own, which goes when the object goes. The other arguments are compared one by one with
 * `Object.is`: the reader gives the same object for the same text, so what an edit did not touch is not computed again.
 */
export function rememberedBy<K extends object, A extends readonly unknown[], R>(
	pure: (key: K, ...args: A) => R,
	kept: number,
): (key: K, ...args: A) => R {
	const memories = new WeakMap<K, Answer<A, R>[]>();
	return (key, ...args) => {
		let own = memories.get(key);
		if (!own) {
			own = [];
			memories.set(key, own);
		}
		const [last] = own;
		if (last && isAnswerTo(last, args)) return last.answer;
		const answer = own.find((one) => isAnswerTo(one, args)) ?? { args, answer: pure(key, ...args) };
		memories.set(key, [answer, ...own.filter((one) => one !== answer)].slice(0, kept));
		return answer.answer;
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
