/** Kinds of files by the endings of their names: what is asked for in a dialogue, and known when it is dropped. */

/** Of photos that the editor's pages can show: on one of these something can be traced. */
export const SHOWN_PHOTOS = ["jpg", "jpeg", "png"] as const;
/** Of photos that are measured. */
export const MEASURED_PHOTOS = [...SHOWN_PHOTOS, "tif", "tiff"] as const;
export const ELEVATION_TILES = ["hgt", "tif", "tiff"] as const;

/** The endings for a dialogue, which tells capitals from small letters on some systems. */
export const inAnyCase = (endings: readonly string[]): string[] => [
	...endings,
	...endings.map((one) => one.toUpperCase()),
];

/** Whether a file's name, or its path, has one of the endings. */
export const endsIn = (name: string, endings: readonly string[]): boolean =>
	endings.some((one) => name.toLowerCase().endsWith(`.${one}`));
