import { expect, test } from "vitest";
import { exampleText } from "../../shared/findings/example-plan.ts";
import type { ExportChoice } from "../../shared/protocol/exports.ts";
import { sample, serve } from "./served.ts";

const { client, opened } = serve();

test("everything that is made of a plan for people can be written from the editor", async () => {
	const choices = await client.request<readonly ExportChoice[]>("lodebook/exports", {});
	expect(new Set(choices.map(({ extension }) => extension))).toEqual(
		new Set(["txt", "json", "html", "md", "svg", "ics", "geojson"]),
	);
	expect(choices.map(({ description }) => description)).toContain("all sky figures");
	const uri = await opened(sample);
	for (const { output, choice, extension } of choices) {
		const made = await client.request<{ text?: string; problem?: string }>("lodebook/export", {
			uri,
			output,
			choice,
			pageScript: "const page = 1;",
		});
		if (choice === "") expect(made.problem, output).toBe(undefined);
		else expect(made.text ?? made.problem).not.toBe("");
		if (extension === "html") expect(made.text).toContain("<script>const page = 1;</script>");
		if (extension === "ics") expect(made.text).toMatch(/^BEGIN:VCALENDAR/);
		if (extension === "geojson") expect(JSON.parse(made.text ?? "").type).toBe("FeatureCollection");
		if (extension === "svg" && made.text) expect(made.text).toMatch(/^<\?xml[^>]*>\s*<svg/);
	}
});

test("what is taken along or shown comes first, then what is printed, last what programs read", async () => {
	const choices = await client.request<readonly ExportChoice[]>("lodebook/exports", {});
	const order = choices.map(({ output, prints }) => (prints ? `print ${output}` : output));
	expect([...new Set(order)]).toEqual([
		"card",
		"page",
		"calendar",
		"geojson",
		"markdown",
		"svg",
		"print page",
		"print card",
		"text",
		"json",
	]);
});

test("of a group there is a card and a calendar for each of it", async () => {
	const kit = await opened(`${exampleText({ site: null, night: null })}\n`);
	const name = kit.split("/").pop() ?? "";
	const none = { lens: null, tracker: null, method: null, targets: null } as const;
	const group = await opened(
		exampleText({
			...none,
			plan: "title: Two\nkind: group",
			group: `- { name: Nia, from: ${name}, local-rules-checked: true }\n- { name: Tom, from: ${name} }`,
		}),
	);
	const choices = await client.request<readonly ExportChoice[]>("lodebook/exports", { uri: group });
	const cards = choices.filter(({ output }) => output === "card");
	expect(cards.map(({ description, member, prints = false }) => [description, member, prints])).toEqual([
		["", undefined, false],
		["", undefined, true],
		["Nia", 0, false],
		["Nia", 0, true],
		["Tom", 1, false],
		["Tom", 1, true],
	]);
	expect(choices.slice(-2).map(({ output }) => output)).toEqual(["text", "json"]);
	const made = (member: number, output = "card") =>
		client.request<{ text?: string } | null>("lodebook/export", {
			uri: group,
			output,
			choice: "",
			member,
			pageScript: "",
		});
	expect((await made(1))?.text).toContain("<h1>Two: Tom</h1>");
	expect(await made(2)).toBe(null);
	expect(await made(0, "page")).toBe(null);
	expect(await made(-1)).toBe(null);
});

test("what cannot be made says why; what there is not is nothing", async () => {
	const uri = await opened("plan:\n  title: A\n");
	const request = (output: string): Promise<unknown> =>
		client.request("lodebook/export", { uri, output, choice: "", pageScript: "" });
	expect(await request("calendar")).toEqual({
		problem: "a calendar needs the site's coordinates and the night's date",
	});
	expect(await request("sarif")).toBe(null);
	expect(await request("constructor")).toBe(null);
});
