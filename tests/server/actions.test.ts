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

test("what is written otherwise is offered as plans write it", async () => {
	const FIXES = [
		["night", "date: 2027-06-31", "date: 2027-06-30"],
		["night", "date: 5.6.2027", "date: 2027-06-05"],
		["night", "date: 2027/06/05", "date: 2027-06-05"],
		["night", "date: 2027-06-05\n  arrive: 2:00am", 'date: 2027-06-05\n  arrive: "02:00"'],
		["night", "date: 2027-06-05\n  arrive: 7 pm", 'date: 2027-06-05\n  arrive: "19:00"'],
		["night", "date: 2027-06-05\n  arrive: 12:30 am", 'date: 2027-06-05\n  arrive: "00:30"'],
		["targets", "- aim: { azimuth: 370, altitude: 95 }", "- aim: { azimuth: 10, altitude: 95 }"],
		["targets", "- aim: { azimuth: 70, altitude: 95 }", "- aim: { azimuth: 70, altitude: 90° }"],
		["targets", "- exposure: -30 s", "- exposure: 30 s"],
		["site", "skyline: [[-20, 4], [90, 92]]", "skyline: [[340, 4], [90, 92]]"],
		["site", `latitude: 47°06'28.1"N 8°40'55.2"E`, "latitude: 47.107806 N\n  longitude: 8.682 E"],
		["site", "longitude: 47.1, 8.6\n  latitude: 3", "longitude: 8.6 E\n  latitude: 47.1 N"],
	] as const;
	for (const [kind, wrong, right] of FIXES) {
		const text = `${kind}:\n  ${wrong}\n`;
		const uri = await opened(text);
		const found = await client.request<CodeAction[]>("textDocument/codeAction", {
			textDocument: { uri },
			range: { start: { line: 0, character: 0 }, end: { line: 9, character: 0 } },
			context: { diagnostics: [], only: ["quickfix"] },
		});
		const results = found
			.filter(({ title }) => title.startsWith("Change to"))
			.map(({ edit }) => applied(text, Object.values(edit?.changes ?? {})[0] ?? []));
		const keys = (one: string): readonly string[] => one.trimEnd().split("\n").sort();
		expect(results.map(keys), wrong).toContainEqual(keys(`${kind}:\n  ${right}\n`));
	}
});

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
});

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
	expect(magnetic?.title).toMatch(/^Convert to magnetic: 109\.7°M$/);
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
