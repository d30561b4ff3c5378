import { expect, test } from "vitest";
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
	expect(others.map(({ code }) => code)).toEqual(["method/fall-back-better", "target/tracked-too-long"]);
	expect(first).toMatchObject({
		code: "method/guide-star-never-near",
		source: "lodebook",
		severity: 1,
		range: { start: positionOf(sample, from), end: positionOf(sample, from + 5) },
		codeDescription: { href: "lodebook-finding:/method/guide-star-never-near.md" },
	});
	const back = await client.change(uri, [
		{ range: { start: positionOf(sample, from), end: positionOf(sample, from + 5) }, text: "eta Virginis" },
	]);
	expect(await client.diagnostics(uri, back)).toEqual([]);
});

test("a client that pulls gets a report with a result id, and `unchanged` for it", async () => {
	const puller = await new TestClient().start({ textDocument: { diagnostic: {} } });
	const uri = fresh();
	await puller.open(uri, sample.replace("eta Virginis\n", "Sabik\n"));
	const report = await puller.request<{ kind: string; resultId: string; items: unknown[] }>("textDocument/diagnostic", {
		textDocument: { uri },
	});
	expect(report.kind).toBe("full");
	expect(report.items).toHaveLength(3);
	expect(
		await puller.request("textDocument/diagnostic", { textDocument: { uri }, previousResultId: report.resultId }),
	).toEqual({
		kind: "unchanged",
		resultId: report.resultId,
	});
	await puller.stop();
});
