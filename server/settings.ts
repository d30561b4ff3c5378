/** The settings a client may give; each has a sane default. */
export interface Settings {
	readonly hints: {
		readonly site: boolean;
		readonly night: boolean;
		readonly lens: boolean;
		readonly method: boolean;
		readonly targets: boolean;
	};
	readonly lenses: boolean;
}

export const DEFAULT_SETTINGS: Settings = {
	hints: { site: true, night: true, lens: true, method: true, targets: true },
	lenses: true,
};

/** Settings from whatever a client sent. What is not a boolean is left at its default. */
export function readSettings(sent: unknown): Settings {
	const section: { readonly hints?: unknown; readonly lenses?: unknown } =
		typeof sent === "object" && sent !== null ? (sent as { readonly hints?: unknown; readonly lenses?: unknown }) : {};
	const hints =
		typeof section.hints === "object" && section.hints !== null ? (section.hints as Record<string, unknown>) : {};
	const flag = (value: unknown, otherwise: boolean): boolean => (typeof value === "boolean" ? value : otherwise);
	return {
		hints: Object.fromEntries(
			Object.entries(DEFAULT_SETTINGS.hints).map(([key, otherwise]) => [key, flag(hints[key], otherwise)]),
		) as unknown as Settings["hints"],
		lenses: flag(section.lenses, DEFAULT_SETTINGS.lenses),
	};
}
