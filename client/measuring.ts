/** *Measure Frames*: test frames of the night sky, measured against the plan in front. */
import { commands, type Disposable, l10n, TabInputWebview, Uri, window } from "vscode";
import type { BaseLanguageClient } from "vscode-languageclient";
import { COMMANDS } from "../shared/protocol/commands.ts";
import { PLAN_ENDING } from "../shared/protocol/language.ts";
import {
	FRAME,
	MEASURE,
	type MeasureAnswer,
	type MeasuredEntry,
	type MeasuredLens,
	type MeasuredSwing,
	type MeasureWishes,
	WRITE_MEASURED,
} from "../shared/protocol/measuring.ts";
import { answer, ask } from "../shared/protocol/message.ts";
import { applyTo } from "./applied.ts";
import { type PlanInFront, planInFront } from "./commands.ts";
import { inAnyCase, MEASURED_PHOTOS } from "./file-endings.ts";
import { MadePages } from "./made-pages.ts";
import { cellOfDocument } from "./notebook/plan-notebook.ts";
import { bytesFor, type Chosen, chosenFile, inOwnServer, nameOf, type StartServer } from "./own-server.ts";

const MEASURED_SCHEME = "lodebook-measured";

export interface Measuring {
	readonly registered: readonly Disposable[];
	/** Measures frames against a plan, and offers what follows. */
	readonly measure: (plan: PlanInFront, frames: readonly Chosen[]) => Promise<void>;
}

export function registerMeasuring(client: BaseLanguageClient, start: StartServer): Measuring {
	const pages = new MadePages(MEASURED_SCHEME);
	const show = async (name: string, page: string, plan: () => Promise<unknown>): Promise<void> => {
		const uri = pages.put(name, page);
		// One page a plan: what was measured before goes, and the next stands beside the plan again.
		const before = window.tabGroups.all
			.flatMap(({ tabs }) => tabs)
			.filter(({ input, label }) => input instanceof TabInputWebview && label.endsWith(` ${name}.md`));
		if (before.length > 0) await window.tabGroups.close(before);
		await plan();
		await commands.executeCommand("markdown.showPreviewToSide", uri);
	};
	const measure = (plan: PlanInFront, frames: readonly Chosen[]) => measureFrames(client, start, show, plan, frames);
	const choose = async (given: readonly Uri[] | undefined): Promise<void> => {
		const plan = planInFront();
		if (plan) await measure(plan, given?.map(chosenFile) ?? (await pickFrames()));
		else void window.showInformationMessage(l10n.t("Open the plan that the frames belong to."));
	};
	return {
		registered: [
			pages,
			// From the explorer: the file that was clicked, and all that are selected.
			commands.registerCommand(COMMANDS.measureFrames, (clicked?: Uri, selected?: readonly Uri[]) =>
				choose(selected ?? (clicked && [clicked])),
			),
		],
		measure,
	};
}

/** What is told beside the files, as it is corrected from one measurement to the next. */
type Corrections = Omit<MeasureWishes, "uri" | "plan" | "frames">;

async function measureFrames(
	client: BaseLanguageClient,
	start: StartServer,
	show: (name: string, page: string, plan: () => Promise<unknown>) => Promise<void>,
	front: PlanInFront,
	given: readonly Chosen[],
): Promise<void> {
	const uri = Uri.parse(front.uri, true);
	const notebook = cellOfDocument(uri)?.notebook;
	const file = notebook?.uri ?? uri;
	let frames = inOrder(given);
	if (frames.length === 0) return;
	const name = nameOf(file).replace(PLAN_ENDING, "");
	const viewColumn = window.tabGroups.activeTabGroup.viewColumn;
	const inFront = async (): Promise<unknown> =>
		notebook ? window.showNotebookDocument(notebook, { viewColumn }) : window.showTextDocument(uri, { viewColumn });
	let corrections: Corrections = {
		opened: frames.map(() => ""),
		exposure: "",
		clockAhead: "",
		facing: "",
		lens: "",
		target: "",
		untracked: false,
	};
	for (;;) {
		const wishes = { ...corrections, uri: file.toString(), plan: name, frames: frames.map(({ name }) => name) };
		const measured = await measuredBy(start, file, frames, wishes);
		if (!measured) return;
		if ("problem" in measured) {
			const corrected =
				measured.timeOf === undefined
					? await offerCorrections(measured.problem, corrections)
					: await askTime(measured.problem, measured.timeOf, corrections);
			if (!corrected) return;
			corrections = corrected;
			continue;
		}
		await show(name, measured.page, inFront);
		const next = await offerWhatFollows(client, front, measured, corrections);
		if (next === undefined) return;
		if (next === "more") {
			const more = (await pickFrames()).filter((one) => !frames.some(({ key }) => key === one.key));
			const opened = new Map(frames.map(({ key }, i) => [key, corrections.opened[i] ?? ""]));
			frames = inOrder([...frames, ...more]);
			corrections = { ...corrections, opened: frames.map(({ key }) => opened.get(key) ?? "") };
		} else corrections = next;
	}
}

/** Writes what is chosen into the plan, one after the other; then more frames, or corrections, are to be measured. */
async function offerWhatFollows(
	client: BaseLanguageClient,
	front: PlanInFront,
	{ entry, periodic, lens }: Extract<MeasureAnswer, { readonly page: string }>,
	corrections: Corrections,
): Promise<Corrections | "more" | undefined> {
	const toLog = l10n.t("Write to the Log");
	const toTracker = l10n.t("Write the Periodic Error");
	const toLens = l10n.t("Write the Lens");
	const add = l10n.t("Add Frames");
	const correct = l10n.t("Correct and Measure Again");
	const { uri } = front;
	const left = new Map<string, MeasuredEntry | MeasuredSwing | MeasuredLens>([
		...(entry ? [[toLog, entry] as const] : []),
		...(periodic ? [[toTracker, periodic] as const] : []),
		...(lens ? [[toLens, lens] as const] : []),
	]);
	for (;;) {
		const chosen = await window.showInformationMessage(
			entry
				? l10n.t("The frames are measured, and the axis error is known. Keep it in the log?")
				: l10n.t("The frames are measured. To find the axis, add a frame after the camera has turned."),
			...left.keys(),
			...(entry ? [] : [add]),
			correct,
		);
		if (chosen === add) return "more";
		if (chosen === correct) return chooseCorrection(corrections);
		const written = chosen === undefined ? undefined : left.get(chosen);
		if (chosen === undefined || !written) return undefined;
		await applyTo(client, front, front.version(), await ask(client, WRITE_MEASURED, { uri, measured: written }));
		left.delete(chosen);
		if (left.size === 0) return undefined;
	}
}

/** Cameras name their files in the order in which they took them. */
const inOrder = (frames: readonly Chosen[]): readonly Chosen[] => [...frames].sort((a, b) => (a.key < b.key ? -1 : 1));

async function pickFrames(): Promise<readonly Chosen[]> {
	const files = await window.showOpenDialog({
		canSelectMany: true,
		openLabel: l10n.t("Measure"),
		title: l10n.t("Frames of one camera and lens, not cropped and not rotated"),
		filters: { [l10n.t("Photos")]: inAnyCase(MEASURED_PHOTOS) },
	});
	return files?.map(chosenFile) ?? [];
}

/** What a server of its own measures; undefined where that was stopped. */
const measuredBy = (
	start: StartServer,
	plan: Uri,
	frames: readonly Chosen[],
	wishes: MeasureWishes,
): Promise<MeasureAnswer | undefined> =>
	inOwnServer<MeasureAnswer>(start, {
		title: l10n.t("Measuring frames"),
		plan,
		ask(client, progress) {
			answer(client, FRAME, async ({ index }) => {
				const frame = frames[index];
				if (!frame) return { problem: l10n.t("There is no such frame.") };
				progress.report({ message: l10n.t("{0}: finding its stars…", frame.name) });
				return bytesFor(frame);
			});
			return ask(client, MEASURE, wishes);
		},
	});

/** Asks for the time of a frame whose file does not say it. */
async function askTime(problem: string, frame: number, before: Corrections): Promise<Corrections | undefined> {
	const text = await window.showInputBox({
		title: problem,
		prompt: l10n.t("The clock time at which its shutter opened, such as 21:30:15"),
		value: before.opened[frame] ?? "",
		ignoreFocusOut: true,
	});
	if (!text?.trim()) return undefined;
	return { ...before, opened: before.opened.map((one, i) => (i === frame ? text : one)) };
}

/** Says why nothing was measured, and offers to correct what it may hang on. */
async function offerCorrections(problem: string, before: Corrections): Promise<Corrections | undefined> {
	const correct = l10n.t("Correct and Measure Again");
	const chosen = await window.showWarningMessage(problem, correct);
	return chosen === correct ? chooseCorrection(before) : undefined;
}

/** One of the things that files do not say, or say wrongly. */
async function chooseCorrection(before: Corrections): Promise<Corrections | undefined> {
	const texts: readonly {
		readonly key: "clockAhead" | "facing" | "exposure" | "lens" | "target";
		readonly label: string;
		readonly prompt: string;
	}[] = [
		{
			key: "clockAhead",
			label: l10n.t("The camera's clock"),
			prompt: l10n.t("By how much it is ahead of the true time, such as 90 s; behind is negative"),
		},
		{
			key: "facing",
			label: l10n.t("Where the first frame looked"),
			prompt: l10n.t("The bearing of its middle, such as 143.5 or 143°M: it tells how far the camera's clock is off"),
		},
		{ key: "exposure", label: l10n.t("The exposure"), prompt: l10n.t("Of each frame, such as 60 s") },
		{ key: "lens", label: l10n.t("The lens"), prompt: l10n.t("Its name in the plan") },
		{ key: "target", label: l10n.t("The target"), prompt: l10n.t("Its name in the plan") },
	];
	const untracked = before.untracked
		? l10n.t("The camera was on the running tracker")
		: l10n.t("The camera stood still, without a tracker");
	const chosen = await window.showQuickPick(
		[
			...texts.map(({ key, label }) => ({ label, description: before[key], key })),
			{ label: untracked, key: undefined },
		],
		{ title: l10n.t("What should be corrected?") },
	);
	if (!chosen) return undefined;
	const asked = texts.find(({ key }) => key === chosen.key);
	if (!asked) return { ...before, untracked: !before.untracked };
	const text = await window.showInputBox({
		title: asked.label,
		prompt: asked.prompt,
		value: before[asked.key],
		ignoreFocusOut: true,
	});
	return text === undefined ? undefined : { ...before, [asked.key]: text };
}
