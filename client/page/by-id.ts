/** An element of the page by its id. */
export const byId = (id: string): HTMLElement | null => document.getElementById(id);
