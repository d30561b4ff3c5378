/**
 * Remembers the last answers of a pure function. Arguments are compared one by one with `Object.is`: the reader gives
 * the same object for the same text, so what an edit did not touch is not reckoned again. Holds at most `kept` answers.
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
