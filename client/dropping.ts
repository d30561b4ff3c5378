/**
 * Photos dropped on a plan, its text or one of its notebook's cells: nothing is inserted. Several are frames of a run; of one
 * that can be traced on too the user says which it is. Whatever else is dropped is left to the editor.
 */
import { type DataTransfer, type Disposable, DocumentDropEdit, l10n, languages, Uri, window } from "vscode";
import { LANGUAGE } from "../shared/protocol/language.ts";
import { type PlanInFront, planOf } from "./commands.ts";
import { endsIn, MEASURED_PHOTOS, SHOWN_PHOTOS } from "./file-endings.ts";
import type { Measuring } from "./measuring.ts";
import { type Chosen, chosenFile } from "./own-server.ts";
import type { Tracing } from "./tracing.ts";

export function registerDropping(
	{ measure }: Pick<Measuring, "measure">,
	{ trace }: Pick<Tracing, "trace">,
): Disposable {
	return languages.registerDocumentDropEditProvider(
		{ language: LANGUAGE },
		{
			async provideDocumentDropEdits(document, { line }, dropped, token) {
				const photos = await photosOf(dropped);
				if (photos.length === 0 || token.isCancellationRequested) return undefined;
				void use(planOf(document, line), photos);
				// Beside it the editor offers to insert the names. A title has no type yet in the oldest editor that is supported.
				return Object.assign(new DocumentDropEdit(""), { title: l10n.t("Measure Frames or Trace on a Photo") });
			},
		},
	);

	async function use(plan: PlanInFront, photos: readonly Chosen[]): Promise<void> {
		const [photo] = photos;
		if (!photo) return;
		if (photos.length > 1 || !endsIn(photo.name, SHOWN_PHOTOS)) return measure(plan, photos);
		const frame = l10n.t("Measure Frames");
		const outline = l10n.t("Trace on a Photo");
		// No list: the editor keeps the focus after a drop, and what is typed then would go into the plan.
		const chosen = await window.showInformationMessage(
			l10n.t("{0}: a test frame of the night, or taken from the spot to trace what hides the sky there?", photo.name),
			frame,
			outline,
		);
		if (chosen === frame) await measure(plan, photos);
		if (chosen === outline) trace(plan, photo);
	}
}

/** The photos that were dropped; none where anything else was dropped too. */
async function photosOf(dropped: DataTransfer): Promise<readonly Chosen[]> {
	const photos: Chosen[] = [];
	for (const [, item] of dropped) {
		const file = item.asFile();
		if (!file) continue;
		if (!endsIn(file.name, MEASURED_PHOTOS)) return [];
		if (file.uri?.scheme === "file") photos.push(chosenFile(file.uri));
		else {
			// No file that could be read later: a browser has only its bytes, and they only during the drop.
			const bytes = await file.data();
			const { name } = file;
			photos.push({ name, key: name, size: async () => bytes.length, read: async () => bytes });
		}
	}
	if (photos.length > 0) return photos;
	const list = (await dropped.get("text/uri-list")?.asString()) ?? "";
	const files = list
		.split(/\r?\n/)
		.filter((line) => line !== "" && !line.startsWith("#"))
		.map((line) => Uri.parse(line));
	return files.every(({ path }) => endsIn(path, MEASURED_PHOTOS)) ? files.map(chosenFile) : [];
}
