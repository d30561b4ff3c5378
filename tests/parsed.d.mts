import type { Program } from "acorn";

/** `path`: from the project's root. */
export function parsedModule(path: string): Program;
