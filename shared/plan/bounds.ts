/** Limits on one file; above them the rest of the file is not read, and a finding says so. */
export const FILE_BOUNDS = { length: 5_000_000, cells: 300 } as const;
