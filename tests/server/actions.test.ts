import { expect, test } from "vitest";
import type { CodeAction, TextEdit, WorkspaceEdit } from "vscode-languageserver";
import { exampleText } from "../../shared/findings/example-plan.ts";
import { RULES } from "../../shared/findings/rules.ts";
import { checkText, codesOf, planWith } from "../plan-text.ts";
import { positionOf } from "./client.ts";
import { Opened, pushed, sampleText } from "./opened-notebook.ts";
import { applied, sample, serve } from "./served.ts";

const { client, opened } = serve({ notebookDocument: { synchronization: {} } });

const actions = async (text: string, from: number, to = from, only?: readonly string[]): Promise<CodeAction[]> => {
	const uri = await opened(text);
	const range = { start: positionOf(text, from), end: positionOf(text, to) };
	return client.request("textDocument/codeAction", {
		textDocument: { uri },
		range,
		context: { diagnostics: [], ...(only ? { only } : {}) },
	});
};
const result = (text: string, action: CodeAction): string =>
	applied(text, Object.values((action.edit as WorkspaceEdit).changes ?? {})[0] as TextEdit[]);

test("every finding with a fix has its action, and taking it fixes it", async () => {
	let seen = 0;
	for (const rule of RULES) {
		const text = exampleText(rule.wrong);
		for (const finding of checkText(text).filter(({ code, fixes }) => code === rule.code && fixes.length > 0)) {
			const found = await actions(text, finding.from, finding.to, ["quickfix"]);
			for (const { title } of finding.fixes) {
				const action = found.find((one) => one.title === title);
				expect(action, `${rule.code}: ${title}`).toBeDefined();
				seen++;
			}
		}
	}
	expect(seen).toBeGreaterThan(35);
}, 60_000);

test("a star that works; the time at which this star works; comments and style stay", async () => {
	const text = sample.replace('at: "20:01"', 'at: "21:30"   # by the watch');
	const found = await actions(text, text.indexOf("21:30"));
	const titles = found.map(({ title }) => title);
	expect(titles[0]).toMatch(/^Change the time to 20:0\d$/);
	const fixed = result(text, found[0] as CodeAction);
	expect(fixed).toMatch(/at: "20:0\d" {3}# by the watch/);
	expect(codesOf(fixed)).toEqual([]);
});

test("all that is safe, at once", async () => {
	const text = planWith({ night: "date: 2027-06-05\nariive: 17:00\nleave: 02:00" });
	const [all] = await actions(text, 0, 0, ["source.fixAll"]);
	expect(all?.kind).toBe("source.fixAll.lodebook");
	expect(codesOf(result(text, all as CodeAction)).filter((code) => code !== "structure/unquoted-clock")).toEqual([]);
});

test("refactorings: true and magnetic, decimal and minutes, more and shorter frames", async () => {
	const rewrite = async (text: string, at: string) => {
		const found = await actions(text, text.indexOf(at) + 1, text.indexOf(at) + 1, ["refactor.rewrite"]);
		return found.map((action) => ({ title: action.title, text: result(text, action) }));
	};
	const coordinates = await rewrite(planWith({}), "32.4123 S");
	expect(coordinates[0]?.title).toBe("Convert to 32° 24′ 44.3″ S");
	expect(await rewrite(coordinates[0]?.text as string, "32° 24′ 44.3″ S")).toEqual([
		expect.objectContaining({ title: "Convert to 32.412306 S" }),
	]);
	const [magnetic] = await rewrite(sample, "95, altitude");
	expect(magnetic?.title).toMatch(/^Convert to magnetic: 121\.6°M$/);
	const [halves] = await rewrite(planWith({}), "60 s");
	expect(halves?.title).toBe("Split into 40 frames of 30 s");
	expect(halves?.text).toContain("exposure: 30 s\n    frames: 40");
});

test("a fix of a finding is an edit of the cell where it belongs", async () => {
	const opened = await Opened.open(
		client,
		sampleText("roofless-chapel.lode.yaml").replace("eta Virginis\n", "Sabik\n"),
	);
	const [uri, list] = (await pushed(client, opened)).find(([, all]) => all.length > 0) ?? ["", []];
	const actions = await client.request<CodeAction[]>("textDocument/codeAction", {
		textDocument: { uri },
		range: list[0]?.range,
		context: { diagnostics: list },
	});
	expect(actions.length).toBeGreaterThan(0);
	for (const { edit } of actions) expect(Object.keys(edit?.changes ?? {})).toEqual([uri]);
});
