/**
 * Limits on one file; above them the rest of the file is not read, and a finding says so. `marks`: line breaks, brackets,
 * commas, quotes and the like, twice as many as in a plan of the most targets that a list may have, each with every key.
 */
export const FILE_BOUNDS = { length: 5_000_000, cells: 300, marks: 80_000 } as const;
