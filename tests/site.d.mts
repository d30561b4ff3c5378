/** The anchor of a heading. */
export function slug(heading: string): string;
/** Names of the samples. */
export function samplePlans(): readonly string[];
/** A file of the site: a text, the path of what is copied, or a plan of which a page is made. */
export interface SiteFile {
	readonly text?: string;
	readonly copy?: string;
	readonly plan?: string;
}
/** The documentation as a static site, and what is wrong with its links. */
export function site(
	plans: readonly string[],
	read?: (source: string) => string,
): {
	readonly files: ReadonlyMap<string, SiteFile>;
	readonly wrong: readonly string[];
};
