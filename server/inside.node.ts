/** Whether a path lies in a folder. Both are real paths: links and dots in them are followed before. */
import { isAbsolute, relative, sep } from "node:path";

export function isInside(folder: string, path: string): boolean {
	const way = relative(folder, path);
	return way !== ".." && !way.startsWith(`..${sep}`) && !isAbsolute(way);
}
