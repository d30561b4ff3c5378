/** Commands: the extension registers its own, the server names them in lenses, package.json shows them. */
import type { Location, Position } from "vscode-languageserver-types";

/** The extension's commands. */
export const COMMANDS = {
	openPreview: "lodebook.openPreview",
	openPreviewHere: "lodebook.openPreviewHere",
	lockPreview: "lodebook.lockPreview",
	showSource: "lodebook.showSource",
	newPlan: "lodebook.newPlan",
	openSample: "lodebook.openSample",
	planFromKit: "lodebook.planFromKit",
	chooseGuideStar: "lodebook.chooseGuideStar",
	chooseNight: "lodebook.chooseNight",
	showYear: "lodebook.showYear",
	writeEvening: "lodebook.writeEvening",
	tracePhoto: "lodebook.tracePhoto",
	surveyGround: "lodebook.surveyGround",
	restartServer: "lodebook.restartServer",
	openNotebook: "lodebook.openNotebook",
	openText: "lodebook.openText",
	addCell: "lodebook.addCell",
	newNotebook: "lodebook.newNotebook",
	exportPlan: "lodebook.export",
	exportCard: "lodebook.exportCard",
	measureFrames: "lodebook.measureFrames",
	compareWithHead: "lodebook.compareWithHead",
	takeNewer: "lodebook.takeNewer",
} as const;

/** The editor's own command that shows all findings. Other clients show the titles of lenses and no more. */
export const SHOW_FINDINGS = "workbench.actions.view.problems";

/** Behind a lens only, in no list of commands: it shows the places that the lens counts. */
export const SHOW_USERS = "lodebook.showUsers";

/** What it is given: where the lens is, and the places it counts. */
export type ShownUsers = [uri: string, at: Position, places: Location[]];
