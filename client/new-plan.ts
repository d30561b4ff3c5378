/** A new plan: asked for one thing at a time, from a sample, or from the user's kit. */
import {
	commands,
	type Disposable,
	l10n,
	QuickInputButtons,
	type QuickPickItem,
	SnippetString,
	Uri,
	window,
	workspace,
} from "vscode";
import type { BaseLanguageClient } from "vscode-languageclient";
import { COMMANDS } from "../shared/protocol/commands.ts";
import { PLAN_ENDING } from "../shared/protocol/language.ts";
import { ask } from "../shared/protocol/message.ts";
import {
	CHECK_VALUE,
	KIT_KEYS,
	KITS,
	type Kit,
	type KitKey,
	type LibraryKit,
	NEW_PLAN,
	PLACE,
	PLAN_TO_FILL,
	type PlaceAnswer,
	WORDS,
} from "../shared/protocol/new-plan.ts";
import { kitText, myKit, offerToKeep } from "./kit.ts";
import { SAMPLES } from "./samples.ts";
import { showPlan, untitled } from "./untitled.ts";

export function registerNewPlan(client: BaseLanguageClient, extension: Uri): readonly Disposable[] {
	return [
		commands.registerCommand(COMMANDS.newPlan, (into?: string) => newPlan(client, into)),
		commands.registerCommand(COMMANDS.openSample, (into?: string) => openSample(extension, into)),
		commands.registerCommand(COMMANDS.planFromKit, (into?: string) => planFromKit(client, into)),
	];
}

/** Opens a plan for there and then. */
async function newPlan(client: BaseLanguageClient, into?: string): Promise<void> {
	const plan = await askForPlan(client, into);
	if (plan) await showPlan(plan.text, plan.file, into);
}

/** Asks one thing after the other, and goes back where that is wished: the plan's text and a name for its file, unless something was not answered. */
export async function askForPlan(
	client: BaseLanguageClient,
	into?: string,
): Promise<{ readonly text: string; readonly file: string } | undefined> {
	const uri = client.code2ProtocolConverter.asUri(into === undefined ? await untitled("new-plan") : Uri.parse(into));
	let site = "";
	let place: PlaceAnswer | undefined;
	let date = "";
	let tracked = true;
	let brought: Brought | undefined;
	const isAnswered = await inTurn([
		async () => {
			const prompt = l10n.t("What is the site called?");
			return kept(
				await typed(client, { kind: "site", key: "name", prompt, title: titleOf(1), value: site }),
				(text) => {
					site = text;
				},
			);
		},
		async () =>
			kept(await askForPlace(client), (one) => {
				place = one;
			}),
		async () =>
			kept(place && (await askForDate(client, place)), (one) => {
				date = one;
			}),
		async () =>
			kept(await askWhetherTracked(), (one) => {
				tracked = one;
			}),
		async () =>
			kept(await askForKit(client, tracked, true, (await ask(client, KITS, { uri })) ?? []), (one) => {
				brought = one;
			}),
	]);
	if (!isAnswered || !place || !brought) return undefined;
	const { kit, taken } = brought as Brought;
	const { latitude, longitude } = place as PlaceAnswer;
	const plan = await ask(client, NEW_PLAN, {
		title: l10n.t("Night at {0}", site),
		site,
		latitude,
		longitude,
		date,
		kit,
		...(taken && { taken: { ...taken, uri } }),
		tracked,
	});
	if (!taken && kitText(kit) !== kitText(myKit() ?? {})) void offerToKeep(kit);
	return plan ?? undefined;
}

/** What is answered by going back to the question before. */
const BACK = Symbol("back");
type Answer<T> = T | typeof BACK | undefined;
type Outcome = "answered" | typeof BACK | undefined;

/** Keeps an answer. */
function kept<T>(answer: Answer<T>, keep: (answer: T) => void): Outcome {
	if (answer === undefined) return undefined;
	if (answer === BACK) return BACK;
	keep(answer);
	return "answered";
}

/** Questions one after the other: whether all were answered, or whether one went back from the first. */
async function inTurn(questions: readonly (() => Promise<Outcome>)[]): Promise<Outcome> {
	let at = 0;
	while (at < questions.length) {
		const outcome = await questions[at]?.();
		if (outcome === undefined) return undefined;
		at += outcome === BACK ? -1 : 1;
		if (at < 0) return BACK;
	}
	return "answered";
}

const STEPS = 5;
const titleOf = (step: number): string => l10n.t("New plan, {0} of {1}", step, STEPS);

interface Question {
	readonly kind: string;
	readonly key: string;
	readonly prompt: string;
	readonly title: string;
	readonly placeHolder?: string;
	/** What was answered before. */
	readonly value?: string;
	/** Nothing was asked before it. */
	readonly isFirst?: boolean;
}

/** A value for a key of a plan; a wrong one is told at once, and can be put right. */
const typed = (client: BaseLanguageClient, { kind, key, ...question }: Question): Promise<Answer<string>> =>
	input({ ...question, isFirst: question.isFirst ?? key === "name", validate: problemIn(client, kind, key) });

/** What is wrong with a text as the value of a key. */
const problemIn =
	(client: BaseLanguageClient, kind: string, key: string) =>
	async (text: string): Promise<string | undefined> =>
		(await ask(client, CHECK_VALUE, { kind, key, text })) ?? undefined;

interface Input extends Omit<Question, "kind" | "key"> {
	/** What is wrong with a text, or what is told of a right one. */
	readonly validate: (text: string) => Promise<string | undefined>;
}

/** A line that is typed, with a button that goes back. */
function input({ title, prompt, placeHolder = "", value = "", isFirst, validate }: Input): Promise<Answer<string>> {
	const box = window.createInputBox();
	Object.assign(box, { title, prompt, placeholder: placeHolder, value, ignoreFocusOut: true });
	// One goes on typing behind what was typed.
	box.valueSelection = [value.length, value.length];
	if (!isFirst) box.buttons = [QuickInputButtons.Back];
	const look = async (text: string): Promise<void> => {
		const problem = await validate(text);
		if (box.value === text) box.validationMessage = problem;
	};
	box.onDidChangeValue(look);
	if (value !== "") void look(value);
	return new Promise((resolve) => {
		box.onDidTriggerButton(() => resolve(BACK));
		box.onDidAccept(async () => {
			const text = box.value;
			const problem = await validate(text);
			if (box.value !== text) return;
			box.validationMessage = problem;
			if (problem === undefined) resolve(text);
		});
		box.onDidHide(() => resolve(undefined));
		box.show();
	}).finally(() => box.dispose()) as Promise<Answer<string>>;
}

interface Row<T> extends QuickPickItem {
	readonly answer?: T;
}

interface List<T> {
	readonly title: string;
	readonly placeHolder: string;
	readonly rows: readonly Row<T>[];
	readonly isFirst?: boolean;
	/** The rows for a text, the likeliest first, where one may be typed instead of choosing. */
	readonly rowsFor?: (text: string) => Promise<readonly Row<T>[]>;
}

/** One of a list, with a button that goes back. */
function choice<T>({ title, placeHolder, rows, isFirst, rowsFor }: List<T>): Promise<Answer<T>> {
	const pick = window.createQuickPick<Row<T>>();
	Object.assign(pick, { title, placeholder: placeHolder, ignoreFocusOut: true });
	pick.items = rows;
	if (!isFirst) pick.buttons = [QuickInputButtons.Back];
	/** The text that the rows are for. */
	let shownFor = "";
	pick.onDidChangeValue(async (text) => {
		const found = await rowsFor?.(text.trim());
		if (!found || pick.value !== text) return;
		pick.items = found;
		shownFor = text;
	});
	return new Promise((resolve) => {
		pick.onDidTriggerButton(() => resolve(BACK));
		pick.onDidAccept(async () => {
			const text = pick.value;
			const { selectedItems } = pick;
			// Enter right behind what is typed comes before its rows, or before one of them is chosen.
			const isShown = shownFor === text && selectedItems.length > 0;
			const [chosen] = rowsFor && !isShown ? await rowsFor(text.trim()) : selectedItems;
			if (chosen?.answer !== undefined && pick.value === text) resolve(chosen.answer);
		});
		pick.onDidHide(() => resolve(undefined));
		pick.show();
	}).finally(() => pick.dispose()) as Promise<Answer<T>>;
}

interface ListOrLine {
	readonly title: string;
	/** What is asked over the list, and over the line. */
	readonly prompts: readonly [list: string, line: string];
	readonly placeHolder: string;
	readonly rows: readonly Row<string>[];
	/** The row that leads to the line. */
	readonly other: string;
	readonly problemOf: (text: string) => Promise<string | undefined>;
}

/** One of a list, or a text: a right one is taken as it is typed over the list, a wrong one is put right on a line of its own. */
async function chosenOrTyped({
	title,
	prompts,
	placeHolder,
	rows,
	other,
	problemOf,
}: ListOrLine): Promise<Answer<string>> {
	const line = (text: string, detail = ""): Row<string | { readonly text: string }> => ({
		label: other,
		detail,
		alwaysShow: true,
		answer: { text },
	});
	for (;;) {
		const chosen = await choice({
			title,
			placeHolder: prompts[0],
			rows: [...rows, line("")],
			rowsFor: async (text) => {
				if (text === "") return [...rows, line("")];
				// With the other row among them, the editor may hold that one for chosen.
				const meant = rows.filter(({ label }) => label.includes(text));
				if (meant.length > 0) return meant;
				const problem = await problemOf(text);
				return problem === undefined ? [{ label: text, answer: text, alwaysShow: true }] : [line(text, problem)];
			},
		});
		if (typeof chosen !== "object") return chosen;
		const typed = await input({ title, prompt: prompts[1], placeHolder, value: chosen.text, validate: problemOf });
		if (typed !== BACK) return typed;
	}
}

/** Coordinates as they are pasted from a map. */
async function askForPlace(client: BaseLanguageClient): Promise<Answer<PlaceAnswer>> {
	const text = await input({
		title: titleOf(2),
		prompt: l10n.t("Where is it? Latitude and longitude, as copied from a map"),
		placeHolder: `47°06'28.1"N 8°40'55.2"E`,
		validate: async (text) =>
			text.trim() !== "" && (await ask(client, PLACE, { text }))
				? undefined
				: l10n.t(
						"Write a latitude of at most 90° and a longitude of at most 180°, such as 47.1078, 8.682 or 32.4123 S, 54.3622 W.",
					),
	});
	return text === undefined || text === BACK ? text : ((await ask(client, PLACE, { text })) ?? undefined);
}

/** One of the next good nights, or a date that is typed. */
const askForDate = (client: BaseLanguageClient, { told, nights }: PlaceAnswer): Promise<Answer<string>> =>
	chosenOrTyped({
		title: `${titleOf(3)}: ${told}`,
		prompts: [
			l10n.t("Which evening? One of the next good ones, or type a date"),
			l10n.t("Which evening? The date on which it begins"),
		],
		placeHolder: "2027-06-05",
		rows: nights.map(({ date, about }) => ({ label: date, description: about, answer: date })),
		other: l10n.t("Another date"),
		problemOf: problemIn(client, "night", "date"),
	});

const askWhetherTracked = (): Promise<Answer<boolean>> =>
	choice({
		title: titleOf(4),
		placeHolder: l10n.t("Does a tracker follow the stars?"),
		rows: [
			{
				label: l10n.t("With a tracker"),
				detail: l10n.t("The tracker follows the stars: the plan has a method of alignment."),
				answer: true,
			},
			{
				label: l10n.t("Without a tracker"),
				detail: l10n.t("The camera does not turn: short exposures, nothing to align."),
				answer: false,
			},
		],
	});

interface Brought {
	readonly kit: Kit;
	/** Where the plan takes it from. */
	readonly taken?: LibraryKit;
}

/** The user's kit, one of the workspace's libraries, or one that is typed. `isPlan`: it is the last question of a new plan. */
async function askForKit(
	client: BaseLanguageClient,
	tracked: boolean,
	isPlan: boolean,
	libraries: readonly (LibraryKit & { readonly kit: Kit })[] = [],
): Promise<Answer<Brought>> {
	const mine = myKit();
	const known: readonly Row<Brought>[] = [
		...(mine ? [{ label: l10n.t("My kit"), description: kitText(mine), answer: { kit: mine } }] : []),
		...libraries.map(({ kit, ...taken }) => ({
			label: taken.lens ?? taken.from,
			description: kitText(kit),
			detail: l10n.t("from {0}", taken.from),
			answer: { kit, taken },
		})),
	];
	const other: Brought = { kit: {} };
	for (;;) {
		if (known.length > 0) {
			const chosen = await choice({
				title: titleOf(5),
				placeHolder: l10n.t("With which lens and camera?"),
				rows: [...known, { label: l10n.t("Another lens and camera"), answer: other }],
				isFirst: !isPlan,
			});
			if (chosen !== other) return chosen;
		}
		const kit = await askForOtherKit(client, tracked, isPlan, isPlan || known.length > 0);
		if (kit === undefined) return undefined;
		if (kit !== BACK) return { kit };
		if (known.length === 0) return BACK;
	}
}

/** A kit that is typed, one thing at a time. */
async function askForOtherKit(
	client: BaseLanguageClient,
	tracked: boolean,
	isPlan: boolean,
	canGoBack: boolean,
): Promise<Answer<Kit>> {
	const questions: readonly (readonly [KitKey, string, string])[] = [
		["focal-length", l10n.t("Focal length, as written on the lens"), "24 mm"],
		["f-number", l10n.t("F-number you photograph at"), "2.8"],
		["sensor", l10n.t("Sensor: choose its format, or type width and height"), "36 x 24 mm"],
		["pixels", l10n.t("Width and height of a frame in pixels"), "6000 x 4000"],
		...(tracked ? ([["head", l10n.t("Which head is under the tracker?"), ""]] as const) : []),
	];
	const kit: { [K in KitKey]?: string } = {};
	const outcome = await inTurn(
		questions.map(([key, prompt, placeHolder], i) => async () => {
			const own = l10n.t("lens and camera, {0} of {1}", i + 1, questions.length);
			const title = isPlan ? `${titleOf(5)}: ${own}` : l10n.t("New plan: {0}", own);
			const isFirst = i === 0 && !canGoBack;
			const words = (await ask(client, WORDS, { key })) ?? [];
			const kind = KIT_KEYS[key];
			const rows = words.map(({ word, about }) => ({ label: word, description: about, answer: word }));
			const answer = await (key === "sensor"
				? chosenOrTyped({
						title,
						prompts: [prompt, l10n.t("Width and height of the sensor")],
						placeHolder,
						rows,
						other: l10n.t("Another size"),
						problemOf: problemIn(client, kind, key),
					})
				: rows.length > 0
					? choice({ title, placeHolder: prompt, rows })
					: typed(client, { kind, key, prompt, placeHolder, title, value: kit[key] ?? "", isFirst }));
			return kept(answer, (text) => {
				kit[key] = text.trim();
			});
		}),
	);
	return outcome === "answered" ? kit : outcome;
}

/** A sample to try things on: a copy, which belongs to nobody. */
async function openSample(extension: Uri, into?: string): Promise<void> {
	const chosen = await window.showQuickPick(
		SAMPLES.map(({ name, title, summary }) => ({ label: title, detail: summary, name })),
		{ title: l10n.t("Open a sample"), placeHolder: l10n.t("Invented plans, each for a different kind of place") },
	);
	if (!chosen) return;
	const file = Uri.joinPath(extension, "samples", `${chosen.name}${PLAN_ENDING}`);
	const text = new TextDecoder().decode(await workspace.fs.readFile(file));
	await showPlan(text, chosen.name, into);
}

/** A whole plan to fill in, with the user's lens, camera and head in it; the kit is asked for where none is kept. */
async function planFromKit(client: BaseLanguageClient, into?: string): Promise<void> {
	const mine = myKit();
	const brought = mine ? { kit: mine } : await askForKit(client, true, false);
	if (!brought || brought === BACK) return;
	const { kit } = brought;
	if (!mine) void offerToKeep(kit);
	const snippet = await ask(client, PLAN_TO_FILL, { kit });
	const document = await showPlan("", "new-plan", into);
	const editor = await window.showTextDocument(document);
	await editor.insertSnippet(new SnippetString(snippet));
}
