import { describe, expect, test } from "vitest";
import type { TextEdit, WorkspaceEdit } from "vscode-languageserver";
import { parseAllDocuments } from "yaml";
import { fewerPoints } from "../../shared/photo/fewer-points.ts";
import type { PhotoAnswer, Trace, TraceAnswer, TracedLine, TracedPhoto } from "../../shared/protocol/tracing.ts";
import type { SkyPoint } from "../../shared/sky/outline.ts";
import { apparentDirection, findBody, type SkyBody } from "../../shared/sky/place.ts";
import { standardPressure } from "../../shared/sky/refraction.ts";
import { skylineOf } from "../../shared/sky/skyline.ts";
import {
	ARCH_PLAN,
	apartAtMost,
	archPhoto,
	CAIRN,
	fromLine,
	GROUND,
	groundEdge,
	OUTLINE,
	PHOTO,
	placeOf,
	rockEdge,
	TOWER,
	WINDOW,
	windowEdge,
} from "../photo/arch-photo.ts";
import { codesOf } from "../plan-text.ts";
import { Opened } from "./opened-notebook.ts";
import { applied, serve } from "./served.ts";

const { client, opened } = serve({ notebookDocument: { synchronization: {} } });

/** 21:30 of the zone, three hours behind UTC. */
const TIME = "2027-06-05 21:30:00";
const AT = Date.UTC(2027, 5, 6, 0, 30);
const spot = {
	latitude: -32.4,
	longitude: -54.3,
	elevation: 12,
	air: { pressure: standardPressure(12), temperature: 10 },
};
const star = (name: string): SkyPoint => {
	const { azimuth, altitude } = apparentDirection(findBody(name) as SkyBody, spot, AT);
	return [azimuth, altitude];
};

const photo: TracedPhoto = {
	name: "arch.png",
	width: PHOTO.width,
	height: PHOTO.height,
	time: TIME,
	projection: "rectilinear",
	focalLength: "24 mm",
	sensor: "full-frame",
};
const mark = (what: string, direction: SkyPoint) => ({ what, at: placeOf(direction) });
const marks = [mark("cairn", CAIRN), mark("far tower", TOWER)];
const trace = (lines: readonly TracedLine[], more: Partial<Trace> = {}): Trace => ({ photo, marks, lines, ...more });
const line = (part: TracedLine["part"], name: string, points: TracedLine["points"]): TracedLine => ({
	part,
	name,
	points,
});

const asked = async (given: Trace, text = ARCH_PLAN, at?: readonly [number, number]): Promise<TraceAnswer> =>
	client.request("lodebook/trace", { uri: await opened(text), trace: given, at });

async function written(given: Trace, text = ARCH_PLAN): Promise<{ readonly text: string; readonly problem: string }> {
	const answer = await client.request<{ edit: WorkspaceEdit | null; problem: string }>("lodebook/writeTrace", {
		uri: await opened(text),
		trace: given,
	});
	return {
		text: applied(text, (Object.values(answer.edit?.changes ?? {})[0] ?? []) as TextEdit[]),
		problem: answer.problem,
	};
}

interface Site {
	readonly skyline: SkyPoint[];
	readonly obstructions: { readonly name: string; readonly outline: SkyPoint[]; readonly window: SkyPoint[] }[];
	readonly openings: { readonly name: string; readonly outline: SkyPoint[] }[];
}
const siteIn = (text: string): Site =>
	(parseAllDocuments(text).map((one) => one.toJS()) as { readonly site?: Site }[]).find((one) => one.site)
		?.site as Site;

describe("an arch traced from a picture that our camera rendered", () => {
	const picture = archPhoto([star("Regor")]);
	const traced = trace([
		line("obstruction", "arch", fewerPoints(rockEdge(picture), 1)),
		line("window", "arch", fewerPoints(windowEdge(picture), 1)),
		line("skyline", "", fewerPoints(groundEdge(picture, 40, 700), 1)),
		line("skyline", "", fewerPoints(groundEdge(picture, 2400, 2990), 1)),
	]);

	test("to 0.1°: outline, window and skyline; where it was not traced the skyline stays; the comment says where it is from", async () => {
		const { text, problem } = await written(traced);
		expect(problem).toBe("");
		const { obstructions, skyline } = siteIn(text);
		expect(obstructions.map(({ name }) => name)).toEqual(["arch"]);
		expect(apartAtMost(obstructions[0]?.outline ?? [], OUTLINE)).toBeLessThan(0.1);
		expect(apartAtMost(obstructions[0]?.window ?? [], WINDOW)).toBeLessThan(0.1);
		const [is, was, truth] = [
			skylineOf(skyline),
			skylineOf([
				[0, 5],
				[90, 3],
				[270, 6],
			]),
			skylineOf(GROUND),
		];
		for (const bearing of [176, 178, 179.5, 181, 182, 227, 228, 230, 233, 236, 238, 238.5])
			expect(Math.abs(is.skylineAt(bearing) - truth.skylineAt(bearing)), String(bearing)).toBeLessThan(0.1);
		for (const bearing of [0, 60, 120, 150, 200, 250, 300])
			expect(Math.abs(is.skylineAt(bearing) - was.skylineAt(bearing)), String(bearing)).toBeLessThan(0.02);
		expect(text).toMatch(
			/\n {2}# arch: traced on the photo arch\.png, taken 2027-06-05 21:30:00; 2 marks, off by 0\.01° at most; within 0\.\d\d° \(95 %\)\.\n/,
		);
		expect(text).toMatch(/\n {2}# Skyline, bearing 17\d\.\d° to 18\d\.\d°: traced on the photo arch\.png/);
		expect(codesOf(text).filter((code) => /^(?:structure|site)\//.test(code))).toEqual([]);
		// Nothing else of the plan is touched.
		for (const kept of ["# A free-standing arch", "    - { name: cairn", "method: { kind: square-laser"])
			expect(text).toContain(kept);
	});

	test("three marks tell the focal length, one of them a star at the photo's time", async () => {
		const three = trace(traced.lines, {
			photo: { ...photo, focalLength: "" },
			marks: [...marks, mark("Regor", star("Regor"))],
		});
		const answer = await asked(three);
		expect(answer.camera).toMatch(
			/^The camera looked at bearing 205\.0°, altitude 28\.0°; 73\.7° across\. Focal length from the marks: 24\.0 mm/,
		);
		expect(answer.notes).toEqual([]);
		expect(answer.ready).toBe(true);
		const { text } = await written(three);
		expect(apartAtMost(siteIn(text).obstructions[0]?.outline ?? [], OUTLINE)).toBeLessThan(0.1);
	});

	test("traced again, it takes the place of what the plan has under its name", async () => {
		const once = (await written(traced)).text;
		const smaller = trace([
			line(
				"obstruction",
				"arch",
				OUTLINE.map(([b, a]) => placeOf([b, a - 1])),
			),
		]);
		expect((await asked(smaller, once)).lines[0]?.text).toContain("it replaces the plan's");
		const { text } = await written(smaller, once);
		const [arch, ...more] = siteIn(text).obstructions;
		expect(more).toEqual([]);
		for (const [bearing, altitude] of OUTLINE)
			expect(fromLine([bearing, altitude - 1], arch?.outline ?? [], true)).toBeLessThan(0.1);
		expect(apartAtMost(arch?.window ?? [], WINDOW)).toBeLessThan(0.1);
		expect(codesOf(text).filter((code) => /^structure\//.test(code))).toEqual([]);
	});

	test("in a notebook the edits go to the site's cell", async () => {
		const notebook = await Opened.open(client, ARCH_PLAN);
		const { edit } = await client.request<{ edit: WorkspaceEdit }>("lodebook/writeTrace", {
			uri: notebook.cell(0),
			trace: traced,
		});
		expect(Object.keys(edit.changes ?? {})).toEqual([notebook.cell(1)]);
	});
});

describe("what is said while one traces", () => {
	test("residuals at the marks, ± at the place under the cursor, tonight's sky where the photo has it", async () => {
		const answer = await asked(trace([line("opening", "gap", WINDOW.map(placeOf))]), ARCH_PLAN, placeOf([205, 30]));
		expect(answer.marks.map(({ text }) => text)).toEqual([
			"bearing 178.0°, altitude 9.0°; the photo is 0.01° off",
			"bearing 233.0°, altitude 12.0°; the photo is 0.01° off",
		]);
		expect(answer.at).toMatch(/^bearing 205\.0°, altitude 30\.0° ± 0\.\d\d°$/);
		expect(answer.lines[0]?.text).toMatch(/^6 points, bearing 192\.0° to 219\.0°, highest 33\.\d°, ± 0\.\d\d°$/);
		const pole = answer.sky.find(({ kind }) => kind === "pole");
		const [x = 0, y = 0] = placeOf([180, 32.4 + 0.025]);
		expect(Math.hypot((pole?.labels[0]?.at[0] ?? 0) - x, (pole?.labels[0]?.at[1] ?? 0) - y)).toBeLessThan(1.5);
		const kinds = new Set(answer.sky.map(({ kind }) => kind));
		for (const kind of ["pole", "horizon", "skyline"] as const) expect(kinds).toContain(kind);
		const horizon = answer.sky.find(({ kind, labels }) => kind === "horizon" && labels.length > 0);
		const at200 = horizon?.labels.find(({ text }) => text === "230°");
		const [hx = 0, hy = 0] = placeOf([230, 0]);
		expect(Math.hypot((at200?.at[0] ?? 0) - hx, (at200?.at[1] ?? 0) - hy)).toBeLessThan(0.2);
		expect(answer.offers.slice(0, 5)).toEqual(["cairn", "far tower", "chimney", "level horizon", "celestial pole"]);
		expect(answer.offers).toContain("Regor");
		expect(answer.offers).not.toContain("Vega");
	});

	test("a landmark whose height the plan does not know gives its bearing alone; two attitudes that fit are told", async () => {
		const two = await asked(trace([], { marks: [marks[0] as Trace["marks"][0], mark("chimney", [233, 12])] }));
		expect(two.marks[1]?.text).toBe("bearing 233.0°; the photo is 0.01° off");
		expect(two.notes).toEqual([{ text: expect.stringMatching(/^Two camera attitudes fit/), wrong: true }]);
		const three = await asked(trace([], { marks: [...marks, mark("chimney", [233, 12])] }));
		expect(three.notes).toEqual([]);
	});

	test("a target's way is in the photo, its hours told, and the guide star where it is at its time", async () => {
		const text = ARCH_PLAN.replace("aim: galactic-centre", "aim: Achernar")
			.replace('at: "23:00"', 'at: "18:00"')
			.replace("guide-star: eta Virginis", "guide-star: Miaplacidus");
		const { sky } = await asked(trace([]), text);
		const way = sky.filter(({ kind }) => kind === "target");
		expect(way.flatMap(({ labels }) => labels.map((label) => label.text))).toEqual(["core, 17 h", "18 h"]);
		// 18:00, three hours behind UTC.
		const { azimuth, altitude } = apparentDirection(findBody("Achernar") as SkyBody, spot, Date.UTC(2027, 5, 5, 21));
		const [x = 0, y = 0] = placeOf([azimuth, altitude]);
		const at18 = way.flatMap(({ labels }) => labels).find((label) => label.text === "18 h");
		expect(Math.hypot((at18?.at[0] ?? 0) - x, (at18?.at[1] ?? 0) - y)).toBeLessThan(1);
		const [gx = 0, gy = 0] = placeOf(
			((): SkyPoint => {
				const seen = apparentDirection(findBody("Miaplacidus") as SkyBody, spot, Date.UTC(2027, 5, 5, 23, 1));
				return [seen.azimuth, seen.altitude];
			})(),
		);
		const guide = sky.find(({ kind }) => kind === "guide")?.labels[0];
		expect(guide?.text).toBe("Miaplacidus, 20:01");
		expect(Math.hypot((guide?.at[0] ?? 0) - gx, (guide?.at[1] ?? 0) - gy)).toBeLessThan(1);
	});

	test("a mark that disagrees is named", async () => {
		const answer = await asked(
			trace([], { marks: [...marks, mark("Regor", star("Regor")), mark("180, 30", [183, 30])] }),
		);
		expect(answer.notes).toEqual([
			{ text: expect.stringMatching(/^Mark 4, 180, 30, disagrees with the others by \d\.\d°/), wrong: true },
		]);
		expect(answer.marks.map(({ wrong }) => wrong)).toEqual([false, false, false, true]);
	});

	test.each([
		[{ marks: [] }, "Mark two things of known direction"],
		[{ marks: marks.slice(0, 1) }, "1 marked with a known direction: two are needed"],
		[{ photo: { ...photo, focalLength: "" } }, "without a focal length three are needed"],
		[{ photo: { ...photo, focalLength: "parsec" } }, "`parsec` is not a focal length"],
		[{ photo: { ...photo, sensor: "" } }, "needs the size of the sensor too"],
		[{ photo: { ...photo, sensor: "big" } }, "`big` is not a sensor size"],
		[{ photo: { ...photo, time: "yesterday" } }, "`yesterday` is not a date and a clock time"],
		[{ marks: [marks[0], marks[0]] }, "too near to each other"],
		[{ marks: [marks[0], { ...marks[1], at: [9000, 10] }] }, "Mark 2 is outside the photo"],
	] as const)("%#: what is missing or wrong, with what to do", async (more, why) => {
		const answer = await asked({
			...trace([
				line("skyline", "", [
					[1, 1],
					[9, 9],
				]),
			]),
			...(more as Partial<Trace>),
		});
		expect(answer.notes.map(({ text }) => text).join("\n")).toContain(why);
	});

	test.each([
		["", "Say what it is."],
		["watr tower", "`watr tower` is not a landmark of the plan"],
		["carn", "Did you mean `cairn`?"],
		["milky-way-arch", "is not a landmark of the plan"],
		["Vega", "At that time Vega was below the horizon."],
		["134, 95", "between −90° and 90°"],
		["134°M, 2.5°", "bearing 119."],
		["level horizon", "on the horizon"],
		["celestial pole", "bearing 180.0°, altitude 32.4°"],
		["Moon", "Moon was below the horizon"],
		["<img src=x>", "`<img src=x>` is not a landmark"],
	])("a mark that is called %j", async (what, told) => {
		expect((await asked(trace([], { marks: [...marks, { what, at: [100, 100] }] }))).marks[2]?.text).toContain(told);
	});

	test("a body needs the photo's time", async () => {
		const answer = await asked(
			trace([], { photo: { ...photo, time: "" }, marks: [...marks, mark("regor", star("Regor"))] }),
		);
		expect(answer.marks[2]).toMatchObject({ text: "Regor moves: it needs the photo's date and time.", wrong: true });
	});
});

describe("nothing is written", () => {
	const gap = line("opening", "gap", WINDOW.map(placeOf));
	test.each([
		[trace([]), ARCH_PLAN, "nothing is traced"],
		[trace([gap], { marks: [] }), ARCH_PLAN, "where the camera looked is not known yet. Mark two"],
		[trace([{ ...gap, name: " " }]), ARCH_PLAN, "needs a name"],
		[trace([{ ...gap, points: gap.points.slice(0, 2) }]), ARCH_PLAN, "`gap` has 2 points"],
		[trace([{ ...gap, part: "window" }]), ARCH_PLAN, "belongs to no obstruction"],
		[
			trace([{ ...gap, points: [0, 3, 1, 4, 2, 5].map((i) => gap.points[i] as readonly [number, number]) }]),
			ARCH_PLAN,
			"crosses itself",
		],
		[trace([gap]), "plan:\n  title: A\n", "no site cell"],
	])("%#, and it is said why", async (given, text, why) => {
		const answer = await written(given, text);
		expect(answer.problem).toContain(why);
		expect(answer.text).toBe(text);
	});

	test("to what is not as it was promised, and nothing falls over", async () => {
		const uri = await opened(ARCH_PLAN);
		for (const given of [
			null,
			3,
			"x",
			[],
			{ photo: 1, marks: "a", lines: [{ part: "tree" }] },
			{ marks: [{ at: [1] }, null] },
		]) {
			const answer = await client.request<{ edit: null; problem: string }>("lodebook/writeTrace", {
				uri,
				trace: given,
			});
			expect(answer).toMatchObject({ edit: null, problem: expect.stringContaining("Nothing was written") });
			expect(await client.request("lodebook/trace", { uri, trace: given, at: "here" })).toMatchObject({ ready: false });
		}
		expect(await client.request("lodebook/trace", { uri: "file:///none.lode.yaml", trace: {} })).toBeNull();
	});
});

test("names of plans and photos come out as text", async () => {
	const hostile = 'a"]} # <script>alert(1)</script>';
	const given = trace([line("opening", hostile, WINDOW.map(placeOf))], { photo: { ...photo, name: "x\n- y: [1" } });
	const { text, problem } = await written(given);
	expect(problem).toBe("");
	expect(siteIn(text).openings.map(({ name }) => name)).toEqual([hostile]);
	expect(codesOf(text).filter((code) => /^structure\//.test(code))).toEqual([]);
});

describe("a photo's first bytes", () => {
	const offered = async (bytes: Uint8Array, text = ARCH_PLAN): Promise<PhotoAnswer> =>
		client.request("lodebook/tracePhoto", {
			uri: await opened(text),
			name: "a.jpg",
			head: Buffer.from(bytes).toString("base64"),
		});
	/** A JPEG's head: Exif with what a camera writes, and a frame's header. */
	const jpeg = (
		width: number,
		height: number,
		tags: readonly (readonly [number, number, number | string])[],
	): Uint8Array => {
		const entries = tags.length;
		const tiff = Buffer.alloc(8 + 2 + 12 + 4 + 2 + 12 * entries + 4 + 32 * entries);
		tiff.write("MM\0*", "latin1");
		tiff.writeUInt32BE(8, 4);
		tiff.writeUInt16BE(1, 8);
		tiff.set([0x87, 0x69, 0, 4, 0, 0, 0, 1], 10);
		tiff.writeUInt32BE(26, 18);
		tiff.writeUInt16BE(entries, 26);
		let data = 28 + 12 * entries + 4;
		tags.forEach(([tag, type, value], i) => {
			const at = 28 + 12 * i;
			tiff.writeUInt16BE(tag, at);
			tiff.writeUInt16BE(type, at + 2);
			tiff.writeUInt32BE(typeof value === "string" ? value.length + 1 : 1, at + 4);
			if (type === 3) tiff.writeUInt16BE(Number(value), at + 8);
			else {
				tiff.writeUInt32BE(data, at + 8);
				if (typeof value === "string") tiff.write(value, data, "latin1");
				else {
					tiff.writeUInt32BE(value * 10, data);
					tiff.writeUInt32BE(10, data + 4);
				}
				data += 32;
			}
		});
		const exif = Buffer.concat([Buffer.from("Exif\0\0", "latin1"), tiff]);
		const length = (body: number): number[] => [(body + 2) >> 8, (body + 2) & 255];
		const frame = [8, height >> 8, height & 255, width >> 8, width & 255, 1, 1, 0x11, 0];
		return Buffer.from([
			0xff,
			0xd8,
			0xff,
			0xe1,
			...length(exif.length),
			...exif,
			0xff,
			0xc0,
			...length(frame.length),
			...frame,
		]);
	};

	test("tell size, time and lens; the sensor is the plan's lens's", async () => {
		const bytes = jpeg(6000, 4000, [
			[0x9003, 2, "2027:06:05 21:30:00"],
			[0x920a, 5, 24],
		]);
		expect(await offered(bytes)).toEqual({
			photo: {
				name: "a.jpg",
				width: 6000,
				height: 4000,
				time: TIME,
				projection: "rectilinear",
				focalLength: "24 mm",
				sensor: "36 x 24 mm",
			},
		});
	});

	test("a clock with its offset is told by the site's; another lens by what it would be on full frame", async () => {
		const bytes = jpeg(4000, 3000, [
			[0x9003, 2, "2027:06:06 02:30:00"],
			[0x9011, 2, "+02:00"],
			[0x920a, 5, 4.2],
			[0xa405, 3, 28],
		]);
		expect(await offered(bytes)).toMatchObject({
			photo: { time: TIME, focalLength: "4.2 mm", sensor: "5.4 x 3.6 mm" },
		});
	});

	test.each([
		[new Uint8Array([1, 2, 3]), "a.jpg is not a JPEG or PNG file."],
		[new Uint8Array(), "is not a JPEG or PNG file."],
		[jpeg(20_000, 20_000, []), "20000 × 20000 pixels; at most 61 megapixels"],
		[jpeg(100, 100, []).slice(0, 12), "its size is not where it should be"],
		[new Uint8Array([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0]), "its size is not where it should be"],
	])("%#: what cannot be opened is told", async (bytes, why) => {
		expect(await offered(bytes)).toEqual({ problem: expect.stringContaining(why) });
	});
});

test("the panel escapes what the plan says, and offers no remote thing", async () => {
	const { html, style } = await client.request<{ html: string; style: string }>("lodebook/tracePage", {
		uri: await opened(ARCH_PLAN.replace("Sandpiper arch", '"<img src=x onerror=alert(1)>"')),
	});
	expect(html).toContain("&lt;img src=x");
	expect((html.match(/<[^>]*>/g) ?? []).join("")).not.toMatch(/<img|\son\w+=|\bsrc=|href=|style=/);
	expect(style).not.toMatch(/url\(|@import/);
});
