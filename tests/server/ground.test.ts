import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import type { CodeAction, TextEdit, WorkspaceEdit } from "vscode-languageserver";
import { parse } from "yaml";
import type { GroundAnswer } from "../../shared/protocol/ground.ts";
import { positionOf } from "./client.ts";
import { applied, serve } from "./served.ts";

const { client, opened } = serve({}, { readsFiles: true });

const PLAN = `site:
  name: plain
  latitude: 46.5 N
  longitude: 8.5 E
  elevation: 620 m
  skyline: [[0, 1], [180, 2]]
`;

/** A plain of 500 m with a wall of 1,500 m along the parallel 5 km to the north of 46.5° N. */
const heights = Buffer.alloc(2 * 1201 * 1201);
for (let row = 0; row < 1201; row++)
	for (let column = 0; column < 1201; column++) heights.writeInt16BE(row < 546 ? 1500 : 500, 2 * (row * 1201 + column));

async function survey(
	tiles: readonly (readonly [name: string, bytes: Uint8Array | string])[],
	text = PLAN,
): Promise<{ readonly answer: GroundAnswer; readonly asked: readonly number[] }> {
	const asked: number[] = [];
	const listening = client.connection.onRequest("lodebook/tile", ({ index }: { index: number }): object => {
		asked.push(index);
		const bytes = tiles[index]?.[1] ?? "";
		return typeof bytes === "string" ? { problem: bytes } : { bytes: Buffer.from(bytes).toString("base64") };
	});
	const uri = await opened(text);
	const answer = await client.request<GroundAnswer>("lodebook/surveyGround", {
		uri,
		tiles: tiles.map(([name]) => name),
	});
	listening.dispose();
	return { answer, asked };
}

describe("a skyline from elevation tiles", () => {
	test("is found from tiles that are asked for when it is their turn, those far away never; doubts are told", async () => {
		const { answer, asked } = await survey([
			["N10E020.hgt", heights],
			["N46E008.hgt", heights],
		]);
		expect(new Set(asked)).toEqual(new Set([1]));
		if (!("found" in answer)) throw new Error(answer.problem);
		const { points, comments } = answer.found;
		expect(Math.max(...points.map(([, altitude]) => altitude))).toBeGreaterThan(9);
		expect(comments[0]).toMatch(/^Ground from elevation tiles, seen from 622 m/);
		expect(answer.doubts).toEqual([
			expect.stringContaining("620 m, and that of the tiles, 500 m"),
			expect.stringContaining("replaces the site's skyline of 2 points"),
		]);
		expect(answer.notes[0]).toMatch(
			/^The elevation given, 620 m, and that of the tiles, 500 m, differ by more than 50 m/,
		);
		const uri = await opened(PLAN);
		const { edit } = await client.request<{ edit: WorkspaceEdit }>("lodebook/writeGround", {
			uri,
			found: answer.found,
		});
		const text = applied(PLAN, Object.values(edit.changes ?? {})[0] as TextEdit[]);
		const { skyline, elevation } = parse(text).site;
		expect(skyline.length).toBe(points.length);
		expect(elevation).toBe("620 m");
		expect(text).toMatch(
			/\n {2}# Ground from elevation tiles.*\n {2}# It has no trees, walls, arches or roofs.*\n {2}skyline: \[\[/,
		);
	});

	test("one tile that cannot be read is named, and the others go on", async () => {
		const { answer } = await survey([
			["N45E008.hgt", heights.subarray(0, 999)],
			["N46E008.hgt", heights],
			["N46E009.hgt", "N46E009.hgt cannot be read: gone"],
		]);
		if (!("found" in answer)) throw new Error(answer.problem);
		expect(answer.found.points.length).toBeGreaterThan(3);
		// The nearer one first.
		expect(answer.notes.filter((note) => note.startsWith("Left out, as it cannot be used: "))).toEqual([
			expect.stringContaining("N46E009.hgt cannot be read: gone"),
			expect.stringContaining("N45E008.hgt: 999 bytes are not a .hgt tile"),
		]);
	});

	test("a GeoTIFF that is packed in a way nobody reads, a half file, one that cannot be read: each is told", async () => {
		const zstd = readFileSync(new URL("../terrain/tiles/zstd.tif", import.meta.url));
		expect((await survey([["a.tif", zstd]])).answer).toEqual({ problem: expect.stringContaining("packed as zstd") });
		expect((await survey([["N46E008.hgt", heights.subarray(0, 999)]])).answer).toEqual({
			problem: expect.stringContaining("N46E008.hgt: 999 bytes are not a .hgt tile"),
		});
		expect((await survey([["N46E008.hgt", "N46E008.hgt cannot be read: gone"]])).answer).toEqual({
			problem: "N46E008.hgt cannot be read: gone",
		});
		expect((await survey([["N10E020.hgt", heights]])).answer).toEqual({
			problem: "None of these tiles is within 100 km of the site.",
		});
		expect((await survey([["N46E008.hgt", heights]], "plan:\n  title: A\n")).answer).toEqual({
			problem: "The plan has no site with coordinates that can be read.",
		});
		expect((await survey([["N45E008.hgt", heights]])).answer).toEqual({
			problem: expect.stringContaining("N46E008.hgt"),
		});
	});

	test("the extension is offered both on the skyline, and openings and obstructions their photo", async () => {
		const text = `${PLAN}  openings: [{ name: mouth, outline: [[0, 0], [9, 0], [5, 9]] }]\n`;
		const uri = await opened(text);
		const titles = async (words: string): Promise<readonly (readonly [string, unknown])[]> => {
			const at = positionOf(text, text.indexOf(words));
			const found = await client.request<CodeAction[]>("textDocument/codeAction", {
				textDocument: { uri },
				range: { start: at, end: at },
				context: { diagnostics: [], only: ["refactor"] },
			});
			return found.map(({ title, command }) => [title, command?.arguments]);
		};
		expect(await titles("skyline")).toEqual([
			["Trace the skyline on a photo", [uri, "skyline", ""]],
			["Make the skyline from elevation tiles", [uri]],
		]);
		expect(await titles("mouth")).toEqual([["Trace mouth on a photo", [uri, "opening", "mouth"]]]);
		expect(await titles("elevation")).toEqual([]);
	});
});
