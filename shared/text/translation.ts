/**
 * Sentences in another language, by the keys of the catalogue (`npm run words -- FILE` writes it). Empty as the house is
 * written; `node esbuild.config.mjs --words FILE` builds with the sentences of a file in their place.
 */
export const TRANSLATION: Readonly<Record<string, string>> = {};
