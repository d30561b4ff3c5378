import { expect, test } from "vitest";
import type { DocumentLink, Location } from "vscode-languageserver";
import { positionOf } from "./client.ts";
import { serveWorkspace, siteBody, taking } from "./taking.ts";

const { client, uriOf } = serveWorkspace();

test("the path of another plan is a link to it, and its cell is the definition there", async () => {
	const uri = uriOf("plans/a.lode.yaml");
	await client.open(uri, taking);
	const spot = uriOf("stands/fold.lode.yaml");
	await client.open(spot, siteBody);
	const links = await client.request<DocumentLink[]>("textDocument/documentLink", { textDocument: { uri } });
	expect(links.map(({ target }) => target)).toEqual([spot, uriOf("stands/kit.lode.yaml")]);
	const definition = await client.request<Location>("textDocument/definition", {
		textDocument: { uri },
		position: positionOf(taking, taking.indexOf("../stands/fold") + 3),
	});
	expect(definition).toMatchObject({ uri: spot, range: { start: { line: 0, character: 0 } } });
});
