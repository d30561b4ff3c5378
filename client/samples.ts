/** The plans of an invented workshop's week that come with the extension. */

import { l10n } from "vscode";

export const SAMPLES: readonly { readonly name: string; readonly title: string; readonly summary: string }[] = [
	{
		name: "roofless-chapel",
		title: l10n.t("Roofless chapel"),
		summary: l10n.t("South: the walls hide the pole. A right-angle laser, a landmark as the fallback."),
	},
	{
		name: "slate-quarry-arch",
		title: l10n.t("Slate quarry"),
		summary: l10n.t("North: the Milky Way's arch in two tracked rows over a row of the ground."),
	},
	{
		name: "dusk-comet",
		title: l10n.t("Comet at dusk"),
		summary: l10n.t("North: an invented comet over a wind pump, by a line of orbital elements."),
	},
	{
		name: "nebula-between-rocks",
		title: l10n.t("Nebula between rocks"),
		summary: l10n.t("North: the Orion Nebula at 135 mm in a gap, whenever it comes to a bearing."),
	},
	{
		name: "meteors-over-ruin",
		title: l10n.t("Meteors over a ruin"),
		summary: l10n.t("South: a meteor shower before dawn, untracked, framed away from its radiant."),
	},
	{
		name: "below-the-headwall",
		title: l10n.t("Below the headwall"),
		summary: l10n.t("North: a headwall hides the pole. A skyline from an elevation tile, a landmark from a map."),
	},
	{
		name: "lone-arch",
		title: l10n.t("Lone arch"),
		summary: l10n.t("North: the core in a free-standing arch, traced from a photo; a cliff from a survey."),
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
		summary: l10n.t("Everything that can go wrong, and what Lodebook says about it."),
	},
];
