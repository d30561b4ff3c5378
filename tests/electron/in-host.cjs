// Runs inside the extension host of a desktop VS Code: opens a sample, waits for the diagnostic and the hover.
const assert = require("node:assert");
const path = require("node:path");
const vscode = require("vscode");

exports.run = async () => {
	const uri = vscode.Uri.file(path.join(__dirname, "../../samples/terrace-near-the-line.lode.yaml"));
	const document = await vscode.workspace.openTextDocument(uri);
	await vscode.window.showTextDocument(document);
	assert.strictEqual(document.languageId, "lodebook");
	const codes = () =>
		vscode.languages.getDiagnostics(uri).map(({ code }) => (typeof code === "object" ? code.value : code));
	for (let i = 0; i < 200 && codes().length === 0; i++) await new Promise((wait) => setTimeout(wait, 100));
	assert.ok(codes().includes("method/low-latitude"), codes().join(", "));
	const at = document.positionAt(document.getText().indexOf("0.5240") + 2);
	const hovers = await vscode.commands.executeCommand("vscode.executeHoverProvider", uri, at);
	assert.match(hovers.map(({ contents }) => contents.map(({ value }) => value).join()).join(), /Pole altitude/);
};
