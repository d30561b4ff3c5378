import { mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import ical from "ical.js";
import { expect, test } from "vitest";
import { chapel, lodebook, samples } from "./run.ts";

const record = JSON.parse(lodebook("show", chapel, "--json").stdout);
const values = record.cells.flatMap((cell: { figures: unknown[] }) => cell.figures) as {
	id: string;
	of: string | null;
	value: number | string | null;
	unit: string;
	plusMinus: number | null;
	text: string;
	how: string;
}[];
const value = (id: string) => values.find((computed) => computed.id === id)?.value;

test("JSON in the contract's shape, with every id it names", () => {
	expect(Object.keys(record)).toEqual(expect.arrayContaining(["plan", "cells", "windows", "findings"]));
	expect(record.cells.map(({ kind }: { kind: string }) => kind)).toEqual([
		"plan",
		"site",
		"night",
		"lens",
		"tracker",
		"method",
		"method",
		"targets",
		"note",
	]);
	expect(record.cells[1]).toMatchObject({ kind: "site", name: "Roofless chapel", line: 6 });
	const ids =
		`site.pole-altitude site.pole-bearing site.magnetic-declination site.pole-compass-bearing site.landmark-bearing site.landmark-altitude
		night.sunset night.astronomical-dusk night.astronomical-dawn night.sunrise night.moonrise night.moonset night.moon-illumination
		lens.field-of-view-horizontal lens.field-of-view-vertical lens.pixel-scale lens.untracked-500 lens.untracked-npf lens.untracked-npf-full
		method.tilt method.bearing method.compass-bearing method.pan-offset method.aim-altitude method.aim-bearing method.star-altitude method.star-bearing method.star-miss
		method.axis-error-along method.axis-error-across method.axis-error-95
		target.altitude-start target.altitude-end target.azimuth-start target.azimuth-end target.untracked-limit target.tracked-limit target.trail target.axis-error-allowed target.minutes-usable`.split(
			/\s+/,
		);
	expect(ids.filter((id) => !values.some((computed) => computed.id === id))).toEqual([]);
	for (const computed of values)
		expect(Object.keys(computed)).toEqual(["id", "of", "value", "unit", "plusMinus", "text", "how"]);
	for (const window of record.windows) expect(window.from).toMatch(/^2027-06-0\dT\d\d:\d\d:\d\d-03:00$/);
});

test("figures that practice and the sky give", () => {
	expect(value("site.pole-altitude")).toBe(32.4123);
	expect(value("site.pole-bearing")).toBe(180);
	expect(value("method.aim-altitude")).toBeCloseTo(57.5877, 9);
	expect(value("method.aim-bearing")).toBe(0);
	expect(value("night.sunset")).toMatch(/^2027-06-05T17:3\d:\d\d-03:00$/);
	expect(value("method.star-altitude")).toBeCloseTo(58.42, 2);
});

test("text ends with what it should, and -o writes a file", () => {
	const { stdout, status } = lodebook("show", chapel);
	expect(status).toBe(0);
	expect(stdout).toMatch(/Core over the roofless chapel\n2027-06-05, America\/Montevideo/);
	expect(stdout).toContain("put the beam 0.31° to the left and 0.83° below eta Virginis, as");
	expect(stdout).toContain("Never point it at or near aircraft");
	const out = join(mkdtempSync(join(tmpdir(), "out-")), "x.json");
	expect(lodebook("show", chapel, "--json", "-o", out)).toMatchObject({ status: 0, stdout: "" });
	expect(lodebook("show", chapel, "-o", "/no/such/folder/x").status).toBe(2);
});

test("a plan with nothing but mistakes still shows", () => {
	expect(lodebook("show", join(samples, "mistakes.lode.yaml")).status).toBe(0);
	expect(lodebook("show", join(samples, "mistakes.lode.yaml"), "--json").status).toBe(0);
});

test("calendar: read back by another library, with the plan's instants, an alarm, and no coordinates", () => {
	const { stdout } = lodebook("show", chapel, "--calendar");
	const events = new ical.Component(ical.parse(stdout)).getAllSubcomponents("vevent").map((one) => new ical.Event(one));
	const shown = JSON.parse(lodebook("show", chapel, "--json").stdout);
	const computed = (id: string, of?: string) =>
		shown.cells
			.flatMap((cell: { figures: { id: string; of: string }[] }) => cell.figures)
			.find((one: { id: string; of: string }) => one.id === id && (of === undefined || one.of === of));
	const at = (uid: string) =>
		events
			.find((one) => one.uid.includes(uid))
			?.startDate.toJSDate()
			.getTime();
	const ids = events.map(({ uid }) => uid.replace(/^[\d-]{10}-|-[0-9a-f]{8}@lodebook$/g, ""));
	expect(ids).toEqual([
		"set-up",
		"focus",
		"test-frame-1",
		"sky-1",
		"check",
		"align",
		"re-aim-2",
		"test-frame-2",
		"sky-2",
		"foreground-2",
		"pack-up",
	]);
	// One for each step of the evening, at its time, waiting left out.
	const steps = shown.evening.filter(({ kind }: { kind: string }) => kind !== "wait");
	expect(events.map((one) => one.startDate.toJSDate().getTime())).toEqual(
		steps.map(({ from }: { from: string }) => Date.parse(from)),
	);
	expect(at("sky-2")).toBe(Date.parse(computed("target.start", "core over the gable").value));
	const alarms = (uid: string) => events.find((one) => one.uid.includes(uid))?.component.getAllSubcomponents("valarm");
	expect(alarms("align")?.map((one) => String(one.getFirstPropertyValue("trigger")))).toEqual(["-PT10M"]);
	expect(alarms("focus")).toHaveLength(0);
	expect(events.find(({ uid }) => uid.includes("align"))?.description).toMatch(/^Laser: |\nLaser: /);
	expect(stdout).not.toMatch(/32\.41|54\.36|GEO/);
	for (const line of stdout.split("\r\n")) expect(Buffer.byteLength(line)).toBeLessThanOrEqual(75);
});

test("calendar: a step that moves keeps its id, so that it is not in the calendar twice", () => {
	const path = join(mkdtempSync(join(tmpdir(), "lodebook-")), "plan.lode.yaml");
	// A plan is known by its file.
	const idsOf = (text: string): readonly string[] => {
		writeFileSync(path, text);
		const { stdout } = lodebook("show", path, "--calendar");
		return stdout.match(/^UID:.*$/gm)?.map((line) => line.trim()) ?? [];
	};
	const text = readFileSync(chapel, "utf8");
	const before = idsOf(text);
	expect(before.length).toBeGreaterThan(5);
	expect(idsOf(text.replace('from: "20:30"', 'from: "20:35"'))).toEqual(before);
	expect(new Set(before).size).toBe(before.length);
});

test("GeoJSON: the site, the landmark and the line between, longitude first", () => {
	const { type, features } = JSON.parse(lodebook("show", chapel, "--geojson").stdout);
	expect(type).toBe("FeatureCollection");
	const geometries = features.map(({ geometry }: { geometry: unknown }) => geometry);
	expect(geometries.slice(0, 3)).toEqual([
		{ type: "Point", coordinates: [-54.3622, -32.4123, 145] },
		{ type: "Point", coordinates: [-54.3951, -32.4391, 187] },
		{
			type: "LineString",
			coordinates: [
				[-54.3622, -32.4123, 145],
				[-54.3951, -32.4391, 187],
			],
		},
	]);
	const rays = features.slice(3).map(({ properties }: { properties: object }) => properties);
	expect(rays.length).toBeGreaterThan(2);
	expect(rays[0]).toMatchObject({ kind: "ray", of: "pole", bearing: 180 });
	for (const [from, to] of geometries.slice(3).map((each: { coordinates: number[][] }) => each.coordinates))
		expect([from, to.length]).toEqual([[-54.3622, -32.4123, 145], 2]);
});

test("Markdown and SVG: the numbers are there, two forms at once are refused", () => {
	const markdown = lodebook("show", chapel, "--markdown").stdout;
	expect(markdown).toContain("**No problems found.**");
	expect(markdown).toMatch(/\| core over the gable: usable \| .*19:39–02:00/);
	const svg = lodebook("show", chapel, "--svg", "panorama").stdout;
	expect(svg).toMatch(/^<\?xml[^>]*>\n<svg xmlns="http:\/\/www\.w3\.org\/2000\/svg" width="\d+" height="[\d.]+"/);
	expect(lodebook("show", chapel, "--json", "--html")).toMatchObject({
		status: 2,
		stderr: expect.stringContaining("cannot be given together"),
	});
	expect(lodebook("show", chapel, "--svg", "dial").status).toBe(2);
});
