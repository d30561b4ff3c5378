/** A skyline from elevation tiles: files that the user picks are read one at a time, and the plan's site is given the key. */
import { commands, type Disposable, l10n, Uri, window, workspace } from "vscode";
import type { BaseLanguageClient } from "vscode-languageclient";
import { COMMANDS } from "../shared/protocol/commands.ts";
import { type GroundAnswer, LARGEST_TILE, SURVEY_GROUND, TILE, WRITE_GROUND } from "../shared/protocol/ground.ts";
import { answer, ask } from "../shared/protocol/message.ts";
import { applyTo, versionOf } from "./applied.ts";
import { planInFront } from "./commands.ts";
import { ELEVATION_TILES, inAnyCase } from "./file-endings.ts";
import { fileOf, openedDocument } from "./notebook/plan-notebook.ts";
import { bytesFor, chosenFile, inOwnServer, nameOf, type StartServer } from "./own-server.ts";

/** `several`: tiles can be taken together; in a browser, whose memory is small, one at a time. */
export const registerGround = (client: BaseLanguageClient, start: StartServer, several: boolean): Disposable =>
	commands.registerCommand(COMMANDS.surveyGround, (uri?: string) => surveyGround(client, start, several, uri));

async function surveyGround(
	client: BaseLanguageClient,
	start: StartServer,
	several: boolean,
	given: string | undefined,
): Promise<void> {
	const uri = given ?? planInFront()?.uri;
	if (uri === undefined) return;
	const plan = fileOf(Uri.parse(uri, true));
	const tiles = await window.showOpenDialog({
		canSelectMany: several,
		title: several
			? l10n.t("Elevation tiles around the site, as far as its horizon")
			: l10n.t("The elevation tile that holds the site"),
		openLabel: l10n.t("Open"),
		defaultUri: Uri.joinPath(plan, ".."),
		filters: { [l10n.t("Elevation tiles")]: inAnyCase(ELEVATION_TILES) },
	});
	if (!tiles || tiles.length === 0) return;
	for (const tile of tiles) {
		const { size } = await workspace.fs.stat(tile);
		if (size <= LARGEST_TILE) continue;
		const [has, most] = [Math.ceil(size / 1e6), LARGEST_TILE / 1e6];
		void window.showErrorMessage(
			l10n.t("{0} has {1} MB; a tile may have {2} MB. Cut out the part you need.", nameOf(tile), has, most),
		);
		return;
	}
	const document = (await openedDocument(plan)).toString();
	const version = versionOf(document);
	const found = await surveyedBy(start, plan, tiles);
	if (!found) return;
	if ("problem" in found) {
		void window.showErrorMessage(found.problem);
		return;
	}
	if (found.doubts.length > 0) {
		const write = l10n.t("Write It All the Same");
		if ((await window.showWarningMessage(found.doubts.join(" "), { modal: true }, write)) !== write) return;
	}
	const written = await ask(client, WRITE_GROUND, { uri: document, found: found.found });
	if (!(await applyTo(client, { version: () => versionOf(document) }, version, written))) return;
	void window.showInformationMessage(
		[
			l10n.t("The skyline is written. It shows the ground only: add walls, trees and arches by hand, or from a photo."),
			...found.notes,
		].join(" "),
	);
}

/** What a server of its own finds; undefined where that was stopped. */
const surveyedBy = (start: StartServer, plan: Uri, tiles: readonly Uri[]): Promise<GroundAnswer | undefined> =>
	inOwnServer<GroundAnswer>(start, {
		title: l10n.t("Computing the horizon"),
		plan,
		ask(client, progress) {
			const begun = new Set<number>();
			answer(client, TILE, async ({ index }) => {
				const tile = tiles[index];
				if (!tile) return { problem: l10n.t("There is no such tile.") };
				// The one under the site is asked for twice.
				progress.report({ message: nameOf(tile), increment: begun.has(index) ? 0 : 100 / tiles.length });
				begun.add(index);
				return bytesFor(chosenFile(tile));
			});
			return ask(client, SURVEY_GROUND, { uri: plan.toString(), tiles: tiles.map(nameOf) });
		},
	});
