/** The lens a target or a log entry names; the only one, or the first, where it names none. Undefined for an unknown name. */
export const lensNamed = <L extends { readonly name: string }>(
	lenses: readonly L[],
	name: string | undefined,
): L | undefined => (name === undefined ? lenses[0] : lenses.find((one) => one.name === name));
