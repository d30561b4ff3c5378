/** What the photographer brings, kept in the user's settings. */
import { ConfigurationTarget, l10n, window, workspace } from "vscode";
import { LANGUAGE } from "../shared/protocol/language.ts";
import { KIT_KEYS, type Kit, type KitKey } from "../shared/protocol/new-plan.ts";

const KEYS = Object.keys(KIT_KEYS) as readonly KitKey[];

/** The kit of the settings; undefined where nothing of it is set. */
export function myKit(): Kit | undefined {
	const set: unknown = workspace.getConfiguration(LANGUAGE).get("kit");
	const values = KEYS.flatMap((key) => {
		const value = (set as Record<string, unknown> | null | undefined)?.[key];
		return typeof value === "string" || typeof value === "number" ? [[key, String(value)]] : [];
	});
	return values.length === 0 ? undefined : Object.fromEntries(values);
}

/** In a line: `24 mm, f/2, full-frame, geared`. */
export const kitText = (kit: Kit): string =>
	KEYS.flatMap((key) => (kit[key] === undefined ? [] : [key === "f-number" ? `f/${kit[key]}` : kit[key]])).join(", ");

/** Asks whether a kit shall be the user's. */
export async function offerToKeep(kit: Kit): Promise<void> {
	const keep = l10n.t("Keep as My Kit");
	const chosen = await window.showInformationMessage(
		l10n.t("Use this kit for the next plans too? {0}", kitText(kit)),
		keep,
	);
	if (chosen === keep) await workspace.getConfiguration(LANGUAGE).update("kit", kit, ConfigurationTarget.Global);
}
