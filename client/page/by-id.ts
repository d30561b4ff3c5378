export const byId = (id: string): HTMLElement | null => document.getElementById(id);
