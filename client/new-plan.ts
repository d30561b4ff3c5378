/** A new plan: asked for one thing at a time, from a sample, or from the user's kit. */
import { commands, type Disposable, l10n, type QuickPickItem, SnippetString, Uri, window, workspace } from "vscode";
import type { BaseLanguageClient } from "vscode-languageclient";
import { COMMANDS } from "../shared/protocol/commands.ts";
import { PLAN_ENDING } from "../shared/protocol/language.ts";
import { ask } from "../shared/protocol/message.ts";
import {
	CHECK_VALUE,
	KIT_KEYS,
	type Kit,
	type KitKey,
	NEW_PLAN,
	PLACE,
	PLAN_TO_FILL,
	type PlaceAnswer,
} from "../shared/protocol/new-plan.ts";
import { kitText, myKit, offerToKeep } from "./kit.ts";
import { SAMPLES } from "./samples.ts";
import { showPlan } from "./untitled.ts";

export function registerNewPlan(client: BaseLanguageClient, extension: Uri): readonly Disposable[] {
	return [
		commands.registerCommand(COMMANDS.newPlan, (into?: string) => newPlan(client, into)),
		commands.registerCommand(COMMANDS.openSample, (into?: string) => openSample(extension, into)),
		commands.registerCommand(COMMANDS.planFromKit, (into?: string) => planFromKit(client, into)),
	];
}

/** Opens a plan for there and then. */
async function newPlan(client: BaseLanguageClient, into?: string): Promise<void> {
	const plan = await askForPlan(client);
	if (plan) await showPlan(plan.text, plan.file, into);
}

/** Asks one thing after the other: the plan's text and a name for its file, unless something was not answered. */
export async function askForPlan(
	client: BaseLanguageClient,
): Promise<{ readonly text: string; readonly file: string } | undefined> {
	const site = await typed(client, { kind: "site", key: "name", prompt: l10n.t("What is the site called?"), step: 1 });
	if (site === undefined) return undefined;
	const place = await askForPlace(client);
	if (!place) return undefined;
	const date = await askForDate(client, place);
	if (date === undefined) return undefined;
	const tracked = await askWhetherTracked();
	if (tracked === undefined) return undefined;
	const kit = await askForKit(client, tracked);
	if (!kit) return undefined;
	const { latitude, longitude } = place;
	const plan = await ask(client, NEW_PLAN, {
		title: l10n.t("Night at {0}", site),
		site,
		latitude,
		longitude,
		date,
		kit,
		tracked,
	});
	if (kit !== myKit() && kitText(kit) !== kitText(myKit() ?? {})) void offerToKeep(kit);
	return plan ?? undefined;
}

const STEPS = 5;
const titleOf = (step: number): string => l10n.t("New plan, {0} of {1}", step, STEPS);

interface Question {
	readonly kind: string;
	readonly key: string;
	readonly prompt: string;
	readonly step: number;
	readonly placeHolder?: string;
}

/** A value for a key of a plan; a wrong one is told at once, and can be put right. */
const typed = (
	client: BaseLanguageClient,
	{ kind, key, prompt, step, placeHolder = "" }: Question,
): Thenable<string | undefined> =>
	window.showInputBox({
		title: titleOf(step),
		prompt,
		placeHolder,
		ignoreFocusOut: true,
		validateInput: async (text) => (await ask(client, CHECK_VALUE, { kind, key, text })) ?? undefined,
	});

/** Coordinates as they are pasted from a map. */
async function askForPlace(client: BaseLanguageClient): Promise<PlaceAnswer | undefined> {
	let place: PlaceAnswer | null = null;
	const text = await window.showInputBox({
		title: titleOf(2),
		prompt: l10n.t("Where is it? Latitude and longitude, as a map copies them"),
		placeHolder: `47°06'28.1"N 8°40'55.2"E`,
		ignoreFocusOut: true,
		validateInput: async (text) => {
			place = text.trim() === "" ? null : await ask(client, PLACE, { text });
			return place
				? undefined
				: l10n.t(
						"Write a latitude of at most 90° and a longitude of at most 180°, such as 47.1078, 8.682 or 32.4123 S, 54.3622 W.",
					);
		},
	});
	return text === undefined ? undefined : ((await ask(client, PLACE, { text })) ?? undefined);
}

/** One of the next good nights, or a date that is typed. */
function askForDate(client: BaseLanguageClient, { told, nights }: PlaceAnswer): Promise<string | undefined> {
	const pick = window.createQuickPick<QuickPickItem & { readonly date?: string }>();
	const good = nights.map(({ date, about }) => ({ label: date, description: about, date }));
	pick.title = `${titleOf(3)}: ${told}`;
	pick.placeholder = l10n.t("Which evening? One of the next good ones, or type a date");
	pick.ignoreFocusOut = true;
	pick.items = good;
	pick.onDidChangeValue(async (value) => {
		const date = value.trim();
		if (date === "" || good.some(({ label }) => label.startsWith(date))) {
			pick.items = good;
			return;
		}
		const problem = await ask(client, CHECK_VALUE, { kind: "night", key: "date", text: date });
		if (pick.value !== value) return;
		pick.items = problem === null ? [{ label: date, date }] : [{ label: problem, alwaysShow: true }, ...good];
	});
	return new Promise((resolve) => {
		pick.onDidAccept(() => {
			const [chosen] = pick.selectedItems;
			if (chosen?.date === undefined) return;
			resolve(chosen.date);
			pick.dispose();
		});
		pick.onDidHide(() => {
			resolve(undefined);
			pick.dispose();
		});
		pick.show();
	});
}

async function askWhetherTracked(): Promise<boolean | undefined> {
	const chosen = await window.showQuickPick(
		[
			{
				label: l10n.t("With a tracker"),
				detail: l10n.t("The tracker follows the stars: the plan has a method of alignment."),
				tracked: true,
			},
			{
				label: l10n.t("Without a tracker"),
				detail: l10n.t("The camera does not turn: short exposures, nothing to align."),
				tracked: false,
			},
		],
		{ title: titleOf(4), placeHolder: l10n.t("Does a tracker follow the stars?"), ignoreFocusOut: true },
	);
	return chosen?.tracked;
}

/** The user's kit, or one that is typed. */
async function askForKit(client: BaseLanguageClient, tracked: boolean): Promise<Kit | undefined> {
	const mine = myKit();
	if (mine) {
		const own = { label: l10n.t("My kit"), description: kitText(mine) };
		const other = { label: l10n.t("Another lens and camera") };
		const chosen = await window.showQuickPick([own, other], {
			title: titleOf(5),
			placeHolder: l10n.t("With which lens and camera?"),
			ignoreFocusOut: true,
		});
		if (!chosen) return undefined;
		if (chosen === own) return mine;
	}
	const questions: readonly (readonly [KitKey, string, string])[] = [
		["focal-length", l10n.t("Focal length, as it is written on the lens"), "24 mm"],
		["f-number", l10n.t("F-number that you photograph at"), "2.8"],
		["sensor", l10n.t("Sensor: its format, or width and height"), "full-frame"],
		["pixels", l10n.t("Width and height of a frame in pixels"), "6000 x 4000"],
		...(tracked
			? ([["head", l10n.t("Head under the tracker: geared, pan-tilt, wedge or ball"), "geared"]] as const)
			: []),
	];
	const kit: { [K in KitKey]?: string } = {};
	for (const [key, prompt, placeHolder] of questions) {
		const value = await typed(client, { kind: KIT_KEYS[key], key, prompt, placeHolder, step: 5 });
		if (value === undefined) return undefined;
		kit[key] = value.trim();
	}
	return kit;
}

/** A sample to try things on: a copy, which belongs to nobody. */
async function openSample(extension: Uri, into?: string): Promise<void> {
	const chosen = await window.showQuickPick(
		SAMPLES.map(({ name, title, summary }) => ({ label: title, detail: summary, name })),
		{ title: l10n.t("Open a sample"), placeHolder: l10n.t("Invented plans, each of another kind of place") },
	);
	if (!chosen) return;
	const file = Uri.joinPath(extension, "samples", `${chosen.name}${PLAN_ENDING}`);
	const text = new TextDecoder().decode(await workspace.fs.readFile(file));
	await showPlan(text, chosen.name, into);
}

/** A whole plan to fill in, with the user's lens, camera and head in it; the kit is asked for where none is kept. */
async function planFromKit(client: BaseLanguageClient, into?: string): Promise<void> {
	const mine = myKit();
	const kit = mine ?? (await askForKit(client, true));
	if (!kit) return;
	if (!mine) void offerToKeep(kit);
	const snippet = await ask(client, PLAN_TO_FILL, { kit });
	const document = await showPlan("", "new-plan", into);
	const editor = await window.showTextDocument(document);
	await editor.insertSnippet(new SnippetString(snippet));
}
