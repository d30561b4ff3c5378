/** What stands in the way of publishing a version, as sentences. */
export function hindrances(
	manifest: {
		readonly version: string;
		readonly publisher?: string;
		readonly repository?: { readonly url?: string };
		readonly private?: boolean;
	},
	changelog: string,
): readonly string[];
