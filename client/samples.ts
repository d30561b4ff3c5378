/** The plans of an invented workshop's week that come with the extension. */

import { l10n } from "vscode";

export const SAMPLES: readonly { readonly name: string; readonly title: string; readonly summary: string }[] = [
	{
		name: "roofless-chapel",
		title: l10n.t("Roofless chapel"),
		summary: l10n.t("South: the walls hide the pole. A right-angle laser, a landmark as the fallback."),
	},
	{
		name: "gannet-cave",
		title: l10n.t("Gannet Cave"),
		summary: l10n.t("North: a sea cave that faces the equator. A right-angle laser through the mouth."),
	},
	{
		name: "dry-gorge",
		title: l10n.t("Dry gorge"),
		summary: l10n.t("South: a gorge. A bearing from a star, a compass, a phone; a log with two drifts."),
	},
	{
		name: "larch-clearing",
		title: l10n.t("Larch clearing"),
		summary: l10n.t("North: the pole in view. The pole star, then a drift test."),
	},
	{
		name: "terrace-near-the-line",
		title: l10n.t("Terrace near the equator"),
		summary: l10n.t("Half a degree from the equator, where the laser fails. A sweep between two stars."),
	},
	{
		name: "midsummer-skerry",
		title: l10n.t("Midsummer skerry"),
		summary: l10n.t("A northern night without darkness. The Sun's shadow."),
	},
	{
		name: "mistakes",
		title: l10n.t("Mistakes"),
		summary: l10n.t("Everything that can go wrong, and what is said of it."),
	},
];
