/** A line of a note: where it is indented by tabs, by blanks. */
export const untabbed = (line: string): string => line.replace(/\t/g, "    ");
