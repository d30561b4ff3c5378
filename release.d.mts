/** What `vsce package` must be told while the repository has no public address. */
export function packingFlags(manifest: { readonly repository?: { readonly url?: string } }): readonly string[];

/** Packs the extension, that of this folder or of another, into a file. */
export function pack(file: string, folder?: string): void;

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
