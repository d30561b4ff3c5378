import { expect, test } from "vitest";
import type { Diagnostic } from "vscode-languageserver";
import { positionOf, TestClient } from "./client.ts";
import { sample, serve } from "./served.ts";

const { client, fresh } = serve();

test("a clean sample has no diagnostics; an edit brings one with its place, code and link, and undoing it takes it away", async () => {
	const uri = fresh();
	await client.open(uri, sample);
	expect(await client.diagnostics(uri)).toEqual([]);
	const from = sample.indexOf("eta Virginis\n");
	const version = await client.change(uri, [
		{ range: { start: positionOf(sample, from), end: positionOf(sample, from + 12) }, text: "Sabik" },
	]);
	const [first, ...others] = await client.diagnostics(uri, version);
	// The second way of the plan works where the first one does not any more.
	expect(others.map(({ code }) => code)).toEqual(["method/fall-back-better"]);
	expect(first).toMatchObject({
		code: "method/guide-star-never-near",
		source: "lodebook",
		severity: 1,
		range: { start: positionOf(sample, from), end: positionOf(sample, from + 5) },
	});
	// The link to the explanation is opened by the extension and by nobody else.
	expect(first).not.toHaveProperty("codeDescription");
	const back = await client.change(uri, [
		{ range: { start: positionOf(sample, from), end: positionOf(sample, from + 5) }, text: "eta Virginis" },
	]);
	expect(await client.diagnostics(uri, back)).toEqual([]);
});

test("the extension's diagnostics link to their explanation", async () => {
	const extension = await new TestClient().start({ textDocument: { diagnostic: {} } }, null, { readsFiles: true });
	const uri = fresh();
	await extension.open(uri, sample.replace("eta Virginis\n", "Sabik\n"));
	const { items } = await extension.request<{ items: Diagnostic[] }>("textDocument/diagnostic", {
		textDocument: { uri },
	});
	expect(items[0]?.codeDescription).toEqual({ href: "lodebook-finding:/method/guide-star-never-near.md" });
	expect(extension.pushed(uri)).toEqual([]);
	await extension.stop();
});

test("a client that says it pulls is pushed to until it does; then what was pushed is taken back", async () => {
	const client = await new TestClient().start({ textDocument: { diagnostic: {} } });
	const uri = fresh();
	await client.open(uri, sample.replace("eta Virginis\n", "Sabik\n"));
	expect(await client.diagnostics(uri)).toHaveLength(2);
	const { items } = await client.request<{ items: Diagnostic[] }>("textDocument/diagnostic", { textDocument: { uri } });
	expect(items).toHaveLength(2);
	await expect.poll(() => client.pushed(uri)).toEqual([]);
	await client.change(uri, [{ text: sample.replace("eta Virginis\n", "Sabi\n") }]);
	await client.request("textDocument/diagnostic", { textDocument: { uri } });
	expect(client.pushed(uri)).toEqual([]);
	await client.stop();
});

test("a client that pulls gets a report with a result id, and `unchanged` for it", async () => {
	const puller = await new TestClient().start({ textDocument: { diagnostic: {} } });
	const uri = fresh();
	await puller.open(uri, sample.replace("eta Virginis\n", "Sabik\n"));
	const report = await puller.request<{ kind: string; resultId: string; items: unknown[] }>("textDocument/diagnostic", {
		textDocument: { uri },
	});
	expect(report.kind).toBe("full");
	expect(report.items).toHaveLength(2);
	expect(
		await puller.request("textDocument/diagnostic", { textDocument: { uri }, previousResultId: report.resultId }),
	).toEqual({
		kind: "unchanged",
		resultId: report.resultId,
	});
	await puller.stop();
});

interface Report {
	readonly items: readonly { uri: string; kind: string; resultId: string; items?: readonly Diagnostic[] }[];
}

test("a client that asks for the workspace is told that a closed plan has none, until it has said that it took it", async () => {
	const client = await new TestClient().start({ textDocument: { diagnostic: {} } });
	const uri = fresh();
	await client.open(uri, sample.replace("eta Virginis\n", "Sabik\n"));
	const ask = async (value?: string) =>
		(
			await client.request<Report>("workspace/diagnostic", {
				previousResultIds: value === undefined ? [] : [{ uri, value }],
			})
		).items;
	const [open] = await ask();
	expect(open?.items).toHaveLength(2);
	await client.connection.sendNotification("textDocument/didClose", { textDocument: { uri } });
	// It may have forgotten what it knew, and may be unable to take what it is told.
	for (const known of [undefined, open?.resultId, undefined])
		expect((await ask(known))[0]).toMatchObject({ uri, kind: "full", items: [] });
	const [closing] = await ask();
	const [closed] = await ask(closing?.resultId);
	expect(closed).toMatchObject({ uri, kind: "full", items: [] });
	expect(await ask(closed?.resultId)).toEqual([]);
	expect(await ask()).toEqual([]);
	await client.stop();
});

test("a plan that is opened again is told as it is", async () => {
	const client = await new TestClient().start({ textDocument: { diagnostic: {} } });
	const uri = fresh();
	const wrong = sample.replace("eta Virginis\n", "Sabik\n");
	const ask = () => client.request<Report>("workspace/diagnostic", { previousResultIds: [] });
	await client.open(uri, wrong);
	await ask();
	await client.connection.sendNotification("textDocument/didClose", { textDocument: { uri } });
	expect((await ask()).items).toMatchObject([{ uri, items: [] }]);
	await client.open(uri, wrong);
	const { items } = await ask();
	expect(items).toHaveLength(1);
	expect(items[0]?.items).toHaveLength(2);
	await client.stop();
});
