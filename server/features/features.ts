/** The index of language features. A new feature is a file and a line here. */
import type { Feature } from "../session.ts";
import { diagnostics } from "./diagnostics.ts";
import { explanation } from "./explanation.ts";
import { hover } from "./hover.ts";

export const FEATURES: readonly Feature[] = [diagnostics, hover, explanation];
