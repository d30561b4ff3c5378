/** Commands: the extension registers its own, the server names them in lenses, package.json shows them. */

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
	writeEvening: "lodebook.writeEvening",
	restartServer: "lodebook.restartServer",
	openNotebook: "lodebook.openNotebook",
	openText: "lodebook.openText",
	addCell: "lodebook.addCell",
	newNotebook: "lodebook.newNotebook",
	exportPlan: "lodebook.export",
	compareWithHead: "lodebook.compareWithHead",
	takeNewer: "lodebook.takeNewer",
} as const;

/** The editor's own command that shows all findings. Other clients show the titles of lenses and no more. */
export const SHOW_FINDINGS = "workbench.actions.view.problems";
