import { spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import ical from "ical.js";
import { describe, expect, test } from "vitest";
import { CLI } from "./client.ts";

const samples = fileURLToPath(new URL("../../samples/", import.meta.url));
const lodebook = (...args: string[]) => {
	const { status, stdout, stderr } = spawnSync(process.execPath, [CLI, ...args], {
		encoding: "utf8",
		env: { ...process.env, NO_COLOR: "1" },
	});
	return { status, stdout, stderr };
};
const chapel = join(samples, "roofless-chapel.lode.yaml");

describe("check", () => {
	test("a clean plan: status 0, and JSON in the contract's shape", () => {
		const { status, stdout } = lodebook("check", chapel, "--json");
		expect(status).toBe(0);
		expect(JSON.parse(stdout)).toEqual({
			files: [{ path: chapel, findings: [] }],
			summary: { errors: 0, warnings: 0, infos: 0 },
		});
	});

	test("a folder: every plan below it, status 1, places from 1", () => {
		const { status, stdout } = lodebook("check", samples, "--json");
		expect(status).toBe(1);
		const { files, summary } = JSON.parse(stdout);
		expect(files.map(({ path }: { path: string }) => path.replace(samples, ""))).toEqual(
			expect.arrayContaining([
				"dry-gorge.lode.yaml",
				"gannet-cave.lode.yaml",
				"larch-clearing.lode.yaml",
				"midsummer-skerry.lode.yaml",
				"mistakes.lode.yaml",
				"roofless-chapel.lode.yaml",
				"terrace-near-the-line.lode.yaml",
			]),
		);
		const all = files.flatMap(({ findings }: { findings: Record<string, unknown>[] }) => findings);
		expect(summary).toEqual({
			errors: all.filter((f: { severity: string }) => f.severity === "error").length,
			warnings: all.filter((f: { severity: string }) => f.severity === "warning").length,
			infos: all.filter((f: { severity: string }) => f.severity === "info").length,
		});
		for (const finding of all) {
			expect(Object.keys(finding)).toEqual([
				"code",
				"severity",
				"cell",
				"line",
				"column",
				"endLine",
				"endColumn",
				"message",
				"fixes",
				"help",
			]);
			expect(finding.line).toBeGreaterThan(0);
			expect(finding.endLine).toBe(finding.line);
			expect(finding.endColumn as number).toBeGreaterThan(finding.column as number);
		}
	});

	test("what each sample has, by code", () => {
		const { stdout } = lodebook("check", samples, "--json");
		const codes = Object.fromEntries(
			JSON.parse(stdout).files.map(({ path, findings }: { path: string; findings: { code: string }[] }) => [
				path.replace(samples, ""),
				findings.map(({ code }) => code),
			]),
		);
		expect(codes["roofless-chapel.lode.yaml"]).toEqual([]);
		expect(codes["gannet-cave.lode.yaml"]).toEqual([]);
		expect(codes["dry-gorge.lode.yaml"]).toEqual([]);
		expect(codes["larch-clearing.lode.yaml"]).toEqual([]);
		expect(codes["terrace-near-the-line.lode.yaml"]).toEqual(["method/low-latitude", "method/fall-back-better"]);
		expect(codes["midsummer-skerry.lode.yaml"]).toEqual(["night/no-darkness", "method/sun-by-shadow"]);
		expect(codes["mistakes.lode.yaml"].length).toBeGreaterThan(25);
	});

	test("--fail-on, --annotations, and what cannot be run", () => {
		const skerry = join(samples, "midsummer-skerry.lode.yaml");
		expect(lodebook("check", skerry).status).toBe(0);
		expect(lodebook("check", skerry, "--fail-on", "warning").status).toBe(1);
		expect(lodebook("check", skerry, "--annotations").stdout).toMatch(
			/^::warning file=.*,line=14,endLine=14,col=9,endColumn=19,title=night\/no-darkness::The Sun/,
		);
		for (const args of [
			["check"],
			["check", "/no/such.lode.yaml"],
			["nonsense"],
			["check", chapel, "--fail-on", "never"],
			["check", mkdtempSync(join(tmpdir(), "empty-"))],
		]) {
			const { status, stdout, stderr } = lodebook(...args);
			expect(status, args.join(" ")).toBe(2);
			expect(stdout).toBe("");
			expect(stderr).not.toBe("");
		}
	});

	test("a workflow command cannot be broken out of by a plan's text", () => {
		const folder = mkdtempSync(join(tmpdir(), "plan-"));
		const path = join(folder, "a,b::c.lode.yaml");
		writeFileSync(path, 'plan:\n  title: a\n  "x\\n::error::owned": 1\n');
		for (const line of lodebook("check", path, "--annotations").stdout.trim().split("\n"))
			expect(line).toMatch(/^::(error|warning|notice) file=[^:]*%2Cb%3A%3Ac\.lode\.yaml,line=\d+/);
	});

	test("bytes that are no UTF-8, a picture, an empty file", () => {
		const folder = mkdtempSync(join(tmpdir(), "plan-"));
		const codes = (name: string, bytes: Uint8Array) => {
			writeFileSync(join(folder, name), bytes);
			return JSON.parse(lodebook("check", join(folder, name), "--json").stdout).files[0].findings.map(
				({ code }: { code: string }) => code,
			);
		};
		expect(codes("latin.lode.yaml", Uint8Array.from([...Buffer.from("plan:\n  title: Caf"), 0xe9, 0x0a]))).toContain(
			"structure/not-text",
		);
		expect(codes("utf16.lode.yaml", Buffer.from("\ufeffplan:\n", "utf16le"))).toEqual(["structure/not-text"]);
		expect(
			codes(
				"picture.lode.yaml",
				Uint8Array.from({ length: 5000 }, (_, i) => (i * 7919) % 256),
			),
		).toEqual(["structure/not-text"]);
		expect(codes("empty.lode.yaml", new Uint8Array())).toEqual(Array(6).fill("structure/missing-cell"));
	});
});

describe("show", () => {
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
		for (const window of record.windows) expect(window.from).toMatch(/^2027-06-0\dT\d\d:\d\d:\d\d\+02:00$/);
	});

	test("figures that practice and the sky give", () => {
		expect(value("site.pole-altitude")).toBe(32.4123);
		expect(value("site.pole-bearing")).toBe(180);
		expect(value("method.aim-altitude")).toBeCloseTo(57.5877, 9);
		expect(value("method.aim-bearing")).toBe(0);
		expect(value("night.sunset")).toMatch(/^2027-06-05T17:3\d:\d\d\+02:00$/);
		expect(value("method.star-altitude")).toBeCloseTo(58.42, 2);
	});

	test("text ends with what it should, and -o writes a file", () => {
		const { stdout, status } = lodebook("show", chapel);
		expect(status).toBe(0);
		expect(stdout).toMatch(/Core over the roofless chapel\n2027-06-05, Africa\/Johannesburg/);
		expect(stdout).toContain("put the beam 0.30° to the left and 0.83° below eta Virginis.");
		expect(stdout).toContain("Laser: never at or near aircraft");
		const out = join(mkdtempSync(join(tmpdir(), "out-")), "x.json");
		expect(lodebook("show", chapel, "--json", "-o", out)).toMatchObject({ status: 0, stdout: "" });
		expect(lodebook("show", chapel, "-o", "/no/such/folder/x").status).toBe(2);
	});

	test("a plan with nothing but mistakes still shows", () => {
		expect(lodebook("show", join(samples, "mistakes.lode.yaml")).status).toBe(0);
		expect(lodebook("show", join(samples, "mistakes.lode.yaml"), "--json").status).toBe(0);
	});
});

describe("stars, locate, explain", () => {
	test("stars in the contract's shape, best first, within their reach and in the dark", () => {
		const { aim, stars } = JSON.parse(lodebook("stars", join(samples, "gannet-cave.lode.yaml"), "--json").stdout);
		expect(aim.altitude).toBeCloseTo(53.07, 2);
		expect(aim.bearing).toBe(180);
		expect(stars.map(({ name }: { name: string }) => name)).toEqual([
			"zeta Virginis",
			"eta Virginis",
			"upsilon Leonis",
		]);
		for (const star of stars) {
			expect(Object.keys(star)).toEqual(
				expect.arrayContaining(["name", "hip", "magnitude", "best", "from", "until", "altitude", "bearing", "miss"]),
			);
			expect(star.miss).toBeLessThan(1);
			expect(star.from <= star.best && star.best <= star.until).toBe(true);
		}
	});

	test("locate in the contract's shape; names, coordinates and instants in many forms", () => {
		const record = JSON.parse(
			lodebook(
				"locate",
				"eta Virginis",
				"--latitude",
				"-32.4123",
				"--longitude",
				"20.8431",
				"--at",
				"2027-06-05T20:01:00+02:00",
				"--json",
			).stdout,
		);
		expect(Object.keys(record)).toEqual([
			"body",
			"at",
			"azimuth",
			"altitude",
			"apparentAltitude",
			"compassBearing",
			"hourAngle",
			"rightAscension",
			"declination",
			"magnitude",
		]);
		const other = JSON.parse(
			lodebook(
				"locate",
				"η Vir",
				"--latitude",
				"32 24 44.28 S",
				"--longitude",
				"20° 50′ 35.16″ E",
				"--elevation",
				"0 m",
				"--at",
				"2027-06-05T18:01:00Z",
				"--json",
			).stdout,
		);
		expect(other).toEqual({
			...record,
			azimuth: expect.closeTo(record.azimuth, 9),
			altitude: expect.closeTo(record.altitude, 9),
			apparentAltitude: expect.closeTo(record.apparentAltitude, 9),
			compassBearing: expect.closeTo(record.compassBearing, 9),
			hourAngle: expect.closeTo(record.hourAngle, 9),
		});
		for (const body of ["sun", "moon", "Jupiter", "galactic-centre", "HIP 60129", "15 Vir"])
			expect(
				lodebook("locate", body, "--latitude", "0", "--longitude", "0", "--at", "2027-01-01T00:00:00Z").status,
				body,
			).toBe(0);
	});

	test("what locate cannot do it says, with the way out", () => {
		const where = ["--latitude", "0", "--longitude", "0"];
		expect(lodebook("locate", "Betelgose", ...where, "--at", "2027-01-01T00:00:00Z").stderr).toContain(
			"did you mean Betelgeuse?",
		);
		expect(lodebook("locate", "sun", ...where, "--at", "2027-01-01 20:00").stderr).toContain("ISO 8601");
		expect(lodebook("locate", "sun", ...where, "--at", "1850-01-01T00:00:00Z").stderr).toContain("outside the tables");
		expect(
			lodebook("locate", "sun", "--latitude", "95", "--longitude", "0", "--at", "2027-01-01T00:00:00Z").status,
		).toBe(2);
	});

	test("explain tells a code, lists all, and helps with a mistyped one", () => {
		expect(lodebook("explain", "method/low-latitude").stdout).toContain("The square laser fails near the equator");
		expect(lodebook("explain").stdout.trim().split("\n").length).toBeGreaterThan(60);
		expect(lodebook("explain", "method/low-lattitude")).toMatchObject({
			status: 2,
			stderr: expect.stringContaining("did you mean method/low-latitude?"),
		});
	});

	test("every command has help with an example", () => {
		for (const command of ["check", "show", "stars", "locate", "explain", "lsp"]) {
			const { status, stdout } = lodebook(command, "--help");
			expect(status).toBe(0);
			expect(stdout).toMatch(/Example/);
		}
		expect(lodebook("--version").stdout.trim()).toMatch(/^\d+\.\d+\.\d+$/);
	});
});

describe("nights", () => {
	const nights = (...args: string[]) => JSON.parse(lodebook("nights", chapel, "--json", ...args).stdout).nights;

	test("the plan's own night: what show says of the target, and what stars lists", () => {
		const [night, ...more] = nights("--from", "2027-06-05", "--until", "2027-06-05");
		expect(more).toEqual([]);
		const shown = JSON.parse(lodebook("show", chapel, "--json").stdout);
		const usable = shown.windows.filter(({ what }: { what: string }) => what === "target: core over the gable");
		expect(night.windows).toEqual(usable.map(({ from, until }: { from: string; until: string }) => ({ from, until })));
		const { stars } = JSON.parse(lodebook("stars", chapel, "--json").stdout);
		expect(night.guideStars.map(({ name, at }: { name: string; at: string }) => [name, at])).toEqual(
			stars.slice(0, 5).map(({ name, best }: { name: string; best: string }) => [name, best]),
		);
		expect(night).toMatchObject({ date: "2027-06-05", method: "square-laser", aligns: true, rank: 1 });
	});

	test("a lunar month: every night once, in order, dark around new Moon only", () => {
		// New Moon on 2027-06-04, full on 2027-06-19 (USNO, Phases of the Moon).
		const month = nights("--from", "2027-06-05", "--until", "2027-07-03");
		expect(month.map(({ date }: { date: string }) => date.slice(8))).toEqual(
			[...Array.from({ length: 26 }, (_, i) => i + 5), 1, 2, 3].map((day) => String(day).padStart(2, "0")),
		);
		const minutes = new Map<string, number>(
			month.map(({ date, minutes: n }: { date: string; minutes: number }) => [date, n]),
		);
		expect(minutes.get("2027-06-18")).toBe(0);
		expect(minutes.get("2027-07-03")).toBeGreaterThan(390);
		for (const { windows, minutes: sum } of month) {
			const total = windows.reduce(
				(n: number, { from, until }: { from: string; until: string }) =>
					n + (Date.parse(until) - Date.parse(from)) / 60_000,
				0,
			);
			if (sum > 0) expect(Math.abs(total - sum)).toBeLessThan(0.05);
		}
		expect([...month].map(({ rank }: { rank: number }) => rank).sort((a, b) => a - b)).toEqual(
			month.map((_: unknown, i: number) => i + 1),
		);
	});

	test("--write puts a night into a copy, which then checks clean and keeps every other line", () => {
		const copy = join(mkdtempSync(join(tmpdir(), "lodebook-")), "copy.lode.yaml");
		const before = readFileSync(chapel, "utf8");
		writeFileSync(copy, before);
		expect(lodebook("nights", copy, "--write", "2027-07-04")).toMatchObject({ status: 0, stdout: "" });
		const after = readFileSync(copy, "utf8");
		const changed = after.split("\n").filter((line, i) => line !== before.split("\n")[i]);
		expect(changed).toEqual(["  date: 2027-07-04", "  guide-star: zeta Virginis", '  at: "19:23"']);
		expect(lodebook("check", copy).status).toBe(0);
	});

	test("--write moves the time of a target that is given by right ascension and declination, and not that of the ground", () => {
		const copy = join(mkdtempSync(join(tmpdir(), "lodebook-")), "copy.lode.yaml");
		const text = readFileSync(chapel, "utf8").replace(
			"aim: galactic-centre",
			"aim: { right-ascension: 17h 45m 40s, declination: -29° }",
		);
		writeFileSync(copy, text.replace('from: "20:30"', 'from: "17:05"'));
		expect(lodebook("nights", copy, "--write", "2027-07-04").status).toBe(0);
		const after = readFileSync(copy, "utf8");
		expect(after).not.toContain('from: "17:05"');
		expect(after).toMatch(/from: "19:1\d"/);
		expect(after).toContain('at: "18:10"');
	});

	test("ranges that cannot be searched are refused with the reason", () => {
		expect(lodebook("nights", chapel, "--from", "2027-06-05", "--until", "2027-06-04")).toMatchObject({
			status: 2,
			stderr: expect.stringContaining("before the first"),
		});
		expect(lodebook("nights", chapel, "--from", "2027-02-30")).toMatchObject({
			status: 2,
			stderr: expect.stringContaining("2027-06-05"),
		});
		expect(lodebook("nights", chapel, "--from", "2090-01-01", "--until", "2110-01-01")).toMatchObject({
			status: 2,
			stderr: expect.stringContaining("too many"),
		});
	});
});

describe("compare", () => {
	const folder = mkdtempSync(join(tmpdir(), "lodebook-"));
	const git = (...args: string[]) =>
		spawnSync("git", ["-c", "user.name=t", "-c", "user.email=t@example.org", ...args], {
			cwd: folder,
			encoding: "utf8",
		});
	const inFolder = (...args: string[]) =>
		spawnSync(process.execPath, [CLI, ...args], {
			cwd: folder,
			encoding: "utf8",
			env: { ...process.env, NO_COLOR: "1" },
		});

	test("a plan changed on a branch: the text, what follows from it, findings gained; the same plan: nothing", () => {
		const text = readFileSync(chapel, "utf8");
		git("init", "-q");
		writeFileSync(join(folder, "chapel.lode.yaml"), text);
		git("add", ".");
		git("commit", "-qm", "plan");
		writeFileSync(join(folder, "chapel.lode.yaml"), text.replace('at: "20:01"', 'at: "20:20"'));
		const { stdout, status } = inFolder("compare", "HEAD:chapel.lode.yaml", "chapel.lode.yaml", "--json");
		expect(status).toBe(0);
		const { text: keys, figures: values, findings } = JSON.parse(stdout);
		expect(keys).toEqual([{ cell: "method 1", key: "at", before: "20:01", after: "20:20" }]);
		expect(findings.gained.map(({ code }: { code: string }) => code)).toContain("method/guide-star-not-there");
		expect(findings.lost).toEqual([]);
		expect(values.find(({ id }: { id: string }) => id === "method.star-miss")).toMatchObject({
			cell: "method 1",
			before: { text: "0.88°" },
			after: { text: "4.54°" },
		});
		expect(values.some(({ id }: { id: string }) => id.startsWith("site."))).toBe(false);
		expect(inFolder("compare", "HEAD:chapel.lode.yaml", "HEAD:chapel.lode.yaml").stdout).toBe(
			"Nothing changed in the plan or in what follows from it.\n",
		);
	});

	test("a revision that is not there, or would be an option of git, is refused", () => {
		expect(inFolder("compare", "nowhere:chapel.lode.yaml", "chapel.lode.yaml")).toMatchObject({
			status: 2,
			stderr: expect.stringContaining("cannot be read from git"),
		});
		expect(inFolder("compare", "--", "--batch:chapel.lode.yaml", "chapel.lode.yaml")).toMatchObject({
			status: 2,
			stderr: expect.stringContaining("no such file"),
		});
	});

	test("Markdown: a plan's text cannot become markup", () => {
		const evil = "<img src=x onerror=alert(1)> | [a](javascript:x) `b` @someone";
		writeFileSync(
			join(folder, "evil.lode.yaml"),
			readFileSync(chapel, "utf8").replace("Core over the roofless chapel", JSON.stringify(evil)),
		);
		const { stdout } = inFolder("compare", "HEAD:chapel.lode.yaml", "evil.lode.yaml", "--markdown");
		expect(stdout).toContain("&lt;img");
		expect(stdout).not.toMatch(/<img|[^\\]\[a\]|[^\\]@someone/);
	});
});

describe("format and new", () => {
	test("format: --check tells, format mends, and then --check is content", () => {
		const path = join(mkdtempSync(join(tmpdir(), "lodebook-")), "loose.lode.yaml");
		writeFileSync(path, readFileSync(chapel, "utf8").replace('at: "20:01"', "at: 20:01   "));
		expect(lodebook("format", path, "--check")).toMatchObject({ status: 1, stdout: `${path}\n` });
		expect(lodebook("format", path).status).toBe(0);
		expect(readFileSync(path, "utf8").trimEnd()).toBe(readFileSync(chapel, "utf8").trimEnd());
		expect(lodebook("format", path, "--check")).toMatchObject({ status: 0, stdout: "" });
	});

	test("format leaves bytes that are no UTF-8 as they are", () => {
		const path = join(mkdtempSync(join(tmpdir(), "lodebook-")), "latin.lode.yaml");
		const bytes = Buffer.from([0x70, 0x6c, 0x61, 0x6e, 0x3a, 0x20, 0xe9, 0x20, 0x0a]);
		writeFileSync(path, bytes);
		expect(lodebook("format", path).stderr).toContain("UTF-8");
		expect(readFileSync(path).equals(bytes)).toBe(true);
	});

	test("new: a plan that checks clean; from another, with a new date; never over a file", () => {
		const folder = mkdtempSync(join(tmpdir(), "lodebook-"));
		const out = join(folder, "knoll.lode.yaml");
		const place = ["--site", "Windy knoll", "--latitude", "51.2 N", "--longitude", "3.4 W", "--date", "2027-10-02"];
		expect(lodebook("new", ...place, "-o", out).status).toBe(0);
		expect(lodebook("check", out)).toMatchObject({ status: 0, stdout: "1 plan checked: nothing to mend.\n" });
		expect(lodebook("new", ...place, "-o", out)).toMatchObject({
			status: 2,
			stderr: expect.stringContaining("not written over"),
		});
		expect(lodebook("new", "--from", out, "--date", "2027-11-05").stdout).toContain("date: 2027-11-05");
		expect(lodebook("new", "--site", "Nowhere")).toMatchObject({
			status: 2,
			stderr: expect.stringContaining("--latitude"),
		});
	});
});

describe("forms of show", () => {
	test("calendar: read back by another library, with the plan's instants, an alarm, and no coordinates", () => {
		const { stdout } = lodebook("show", chapel, "--calendar");
		const events = new ical.Component(ical.parse(stdout))
			.getAllSubcomponents("vevent")
			.map((one) => new ical.Event(one));
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
		expect(events.map(({ uid }) => uid.replace(/^[\d-]{10}-|-[0-9a-f]{8}@lodebook$/g, ""))).toEqual([
			"arrive",
			"align-1",
			"mark",
			"frames-1",
			"frames-2",
			"leave",
		]);
		expect(at("arrive")).toBe(Date.parse("2027-06-05T17:00:00+02:00"));
		expect(at("mark")).toBe(Date.parse(computed("method.time", "square-laser").value));
		expect(at("frames-2")).toBe(Date.parse(computed("target.start", "core over the gable").value));
		expect(events.find(({ uid }) => uid.includes("mark"))?.component.getAllSubcomponents("valarm")).toHaveLength(1);
		expect(stdout).not.toMatch(/32\.41|20\.84|GEO/);
		for (const line of stdout.split("\r\n")) expect(Buffer.byteLength(line)).toBeLessThanOrEqual(75);
	});

	test("GeoJSON: the stand, the landmark and the line between, longitude first", () => {
		const { type, features } = JSON.parse(lodebook("show", chapel, "--geojson").stdout);
		expect(type).toBe("FeatureCollection");
		expect(features.map(({ geometry }: { geometry: unknown }) => geometry)).toEqual([
			{ type: "Point", coordinates: [20.8431, -32.4123, 1450] },
			{ type: "Point", coordinates: [20.8102, -32.4391, 1492] },
			{
				type: "LineString",
				coordinates: [
					[20.8431, -32.4123, 1450],
					[20.8102, -32.4391, 1492],
				],
			},
		]);
	});

	test("Markdown and SVG: the numbers are there, two forms at once are refused", () => {
		const markdown = lodebook("show", chapel, "--markdown").stdout;
		expect(markdown).toContain("**The plan holds.**");
		expect(markdown).toMatch(/\| core over the gable: usable \| .*19:39–02:00/);
		const svg = lodebook("show", chapel, "--svg", "panorama").stdout;
		expect(svg).toMatch(/^<\?xml[^>]*>\n<svg xmlns="http:\/\/www\.w3\.org\/2000\/svg" width="\d+" height="[\d.]+"/);
		expect(lodebook("show", chapel, "--json", "--html")).toMatchObject({
			status: 2,
			stderr: expect.stringContaining("at once"),
		});
		expect(lodebook("show", chapel, "--svg", "dial").status).toBe(2);
	});

	test("SARIF: every finding once, with its rule, its level and its place", () => {
		const { version, runs } = JSON.parse(lodebook("check", join(samples, "mistakes.lode.yaml"), "--sarif").stdout);
		const { files } = JSON.parse(lodebook("check", join(samples, "mistakes.lode.yaml"), "--json").stdout);
		expect(version).toBe("2.1.0");
		const [{ results, tool }] = runs;
		expect(
			results.map(
				({ ruleId, locations }: { ruleId: string; locations: { physicalLocation: { region: object } }[] }) => [
					ruleId,
					locations[0]?.physicalLocation.region,
				],
			),
		).toEqual(
			files[0].findings.map(({ code, line, column, endLine, endColumn }: Record<string, number>) => [
				code,
				{ startLine: line, startColumn: column, endLine, endColumn },
			]),
		);
		for (const { ruleId, ruleIndex, level } of results) {
			expect(tool.driver.rules[ruleIndex].id).toBe(ruleId);
			expect(["error", "warning", "note"]).toContain(level);
		}
	});
});

describe("pull requests", () => {
	test("the action's script on a branch: annotates changed plans only, compares the old and shows the new, and no name of a file runs", () => {
		const folder = mkdtempSync(join(tmpdir(), "lodebook-"));
		const run = (command: string, args: readonly string[], env: Record<string, string> = {}) =>
			spawnSync(command, args, { cwd: folder, encoding: "utf8", env: { ...process.env, ...env, NO_COLOR: "1" } });
		const git = (...args: string[]) =>
			run("git", ["-c", "user.name=t", "-c", "user.email=t@example.org", ...args]).stdout.trim();
		const text = readFileSync(chapel, "utf8");
		git("init", "-q");
		writeFileSync(join(folder, "kept.lode.yaml"), text);
		writeFileSync(join(folder, "changed.lode.yaml"), text);
		git("add", ".");
		git("commit", "-qm", "plans");
		const base = git("rev-parse", "HEAD");
		writeFileSync(join(folder, "changed.lode.yaml"), text.replace('at: "20:01"', 'at: "20:20"'));
		writeFileSync(join(folder, "-$(touch ran)`touch ran`.lode.yaml"), text);
		git("add", ".");
		git("commit", "-qm", "change");
		const { status, stdout } = run(
			"bash",
			[fileURLToPath(new URL("../../.github/actions/check-plans/check.sh", import.meta.url))],
			{
				BASE: base,
				CLI,
				RUNNER_TEMP: folder,
				GITHUB_OUTPUT: join(folder, "output"),
				GITHUB_STEP_SUMMARY: join(folder, "step"),
			},
		);
		expect(status).toBe(1);
		expect(stdout).toMatch(/^::error file=changed\.lode\.yaml,line=39,.*title=method\/guide-star-not-there::/m);
		expect(stdout).not.toContain("kept");
		const summary = readFileSync(join(folder, "lodebook-summary.md"), "utf8");
		expect(summary).toContain("| method 1 | at | 20:01 | 20:20 |");
		expect(summary).toContain("## Core over the roofless chapel");
		expect(readFileSync(join(folder, "output"), "utf8")).toBe(`summary=${join(folder, "lodebook-summary.md")}\n`);
		expect(existsSync(join(folder, "ran"))).toBe(false);
	});

	test("the problem matcher reads what check prints", () => {
		const matcher = JSON.parse(readFileSync(new URL("../../.github/problem-matcher.json", import.meta.url), "utf8"));
		const [{ regexp }] = matcher.problemMatcher[0].pattern;
		const printed = lodebook("check", join(samples, "mistakes.lode.yaml")).stdout.split("\n");
		const { files } = JSON.parse(lodebook("check", join(samples, "mistakes.lode.yaml"), "--json").stdout);
		expect(printed.filter((line) => new RegExp(regexp).test(line))).toHaveLength(files[0].findings.length);
	});
});

describe("skyline and completions", () => {
	const table = (text: string): string => {
		const path = join(mkdtempSync(join(tmpdir(), "lodebook-")), "walls.csv");
		writeFileSync(path, text);
		return path;
	};

	test("a compass survey becomes true bearings, sorted; a bad line is named", () => {
		const survey = table("# walls\nbearing;altitude\n120;18,5\n350;4\n10;5\n");
		expect(lodebook("skyline", survey).stdout).toBe("skyline: [[10, 5], [120, 18.5], [350, 4]]\n");
		expect(lodebook("skyline", survey, "--declination", "12.5").stdout).toBe(
			"skyline: [[2.5, 4], [22.5, 5], [132.5, 18.5]]\n",
		);
		expect(lodebook("skyline", table("10, 5\n370, 4\n"))).toMatchObject({
			status: 2,
			stderr: expect.stringContaining("line 2: the bearing 370°"),
		});
		expect(lodebook("skyline", table("10, 5, 6\n")).status).toBe(2);
		expect(lodebook("skyline", table("\n")).status).toBe(2);
	});

	test("bash completes commands and options", () => {
		const script = `${lodebook("completions", "bash").stdout}\nCOMP_WORDS=(lodebook ni); COMP_CWORD=1; _lodebook; echo "\${COMPREPLY[@]}"\nCOMP_WORDS=(lodebook show --ge); COMP_CWORD=2; _lodebook; echo "\${COMPREPLY[@]}"\n`;
		expect(spawnSync("bash", ["-c", script], { encoding: "utf8" }).stdout).toBe("nights\n--geojson\n");
	});
});
