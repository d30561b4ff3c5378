import type { AnyNode } from "acorn";

/** The extension's own modules, from the project's root. */
export function clientModules(): readonly string[];
/** Whether a node is a call that gives the editor a text to translate. */
export function isTranslated(node: AnyNode): boolean;
/** Every text as its own translation, sorted: the form the editor reads. */
export function clientTexts(): Readonly<Record<string, string>>;
