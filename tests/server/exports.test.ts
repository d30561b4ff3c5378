import { expect, test } from "vitest";
import type { ExportChoice } from "../../shared/protocol/exports.ts";
import { sample, serve } from "./served.ts";

const { client, opened } = serve();

test("everything that is made of a plan for people can be written from the editor", async () => {
	const choices = await client.request<readonly ExportChoice[]>("lodebook/exports", {});
	expect(new Set(choices.map(({ extension }) => extension))).toEqual(
		new Set(["txt", "json", "html", "md", "svg", "ics", "geojson"]),
	);
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
