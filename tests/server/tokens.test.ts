import { expect, test } from "vitest";
import type { SemanticTokens } from "vscode-languageserver";
import { sample, serve } from "./served.ts";

const { client, opened } = serve();

test("semantic tokens do not overlap and lie in their lines", async () => {
	const uri = await opened(sample);
	const { data } = await client.request<SemanticTokens>("textDocument/semanticTokens/full", {
		textDocument: { uri },
	});
	const words: string[] = [];
	let [line, character] = [0, 0];
	for (let i = 0; i < data.length; i += 5) {
		const [deltaLine = 0, delta = 0, length = 0] = data.slice(i, i + 3);
		line += deltaLine;
		character = deltaLine === 0 ? character + delta : delta;
		words.push(sample.split("\n")[line]?.slice(character, character + length) ?? "");
	}
	expect(words).toEqual(
		expect.arrayContaining(["32.4123 S", "eta Virginis", '"20:01"', "24 mm", "wide", "galactic-centre", "2027-06-05"]),
	);
});
