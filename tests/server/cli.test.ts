import { spawnSync } from "node:child_process";
import { mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";
import { CLI } from "./client.ts";

const samples = fileURLToPath(new URL("../../samples/", import.meta.url));
const lodebook = (...args: string[]) => {
	const { status, stdout, stderr } = spawnSync(process.execPath, [CLI, ...args], { encoding: "utf8", env: { ...process.env, NO_COLOR: "1" } });
	return { status, stdout, stderr };
};
const chapel = join(samples, "roofless-chapel.lode.yaml");

describe("check", () => {
	test("a clean plan: status 0, and JSON in the contract's shape", () => {
		const { status, stdout } = lodebook("check", chapel, "--json");
		expect(status).toBe(0);
		expect(JSON.parse(stdout)).toEqual({ files: [{ path: chapel, findings: [] }], summary: { errors: 0, warnings: 0, infos: 0 } });
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
			expect(Object.keys(finding)).toEqual(["code", "severity", "cell", "line", "column", "endLine", "endColumn", "message", "fixes", "help"]);
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
			return JSON.parse(lodebook("check", join(folder, name), "--json").stdout).files[0].findings.map(({ code }: { code: string }) => code);
		};
		expect(codes("latin.lode.yaml", Uint8Array.from([...Buffer.from("plan:\n  title: Caf"), 0xe9, 0x0a]))).toContain("structure/not-text");
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
	const figures = record.cells.flatMap((cell: { figures: unknown[] }) => cell.figures) as {
		id: string;
		of: string | null;
		value: number | string | null;
		unit: string;
		plusMinus: number | null;
		text: string;
		how: string;
	}[];
	const value = (id: string) => figures.find((figure) => figure.id === id)?.value;

	test("JSON in the contract's shape, with every id it names", () => {
		expect(Object.keys(record)).toEqual(expect.arrayContaining(["plan", "cells", "windows", "findings"]));
		expect(record.cells.map(({ kind }: { kind: string }) => kind)).toEqual(["plan", "site", "night", "lens", "tracker", "method", "method", "targets", "note"]);
		expect(record.cells[1]).toMatchObject({ kind: "site", name: "Roofless chapel", line: 6 });
		const ids = `site.pole-altitude site.pole-bearing site.magnetic-declination site.pole-compass-bearing site.landmark-bearing site.landmark-altitude
			night.sunset night.astronomical-dusk night.astronomical-dawn night.sunrise night.moonrise night.moonset night.moon-illumination
			lens.field-of-view-horizontal lens.field-of-view-vertical lens.pixel-scale lens.untracked-500 lens.untracked-npf lens.untracked-npf-full
			method.tilt method.bearing method.compass-bearing method.pan-offset method.aim-altitude method.aim-bearing method.star-altitude method.star-bearing method.star-miss
			method.axis-error-along method.axis-error-across method.axis-error-95
			target.altitude-start target.altitude-end target.azimuth-start target.azimuth-end target.untracked-limit target.tracked-limit target.trail target.axis-error-allowed target.minutes-usable`.split(
			/\s+/,
		);
		expect(ids.filter((id) => !figures.some((figure) => figure.id === id))).toEqual([]);
		for (const figure of figures) expect(Object.keys(figure)).toEqual(["id", "of", "value", "unit", "plusMinus", "text", "how"]);
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
		expect(stars.map(({ name }: { name: string }) => name)).toEqual(["zeta Virginis", "eta Virginis", "upsilon Leonis"]);
		for (const star of stars) {
			expect(Object.keys(star)).toEqual(expect.arrayContaining(["name", "hip", "magnitude", "best", "from", "until", "altitude", "bearing", "miss"]));
			expect(star.miss).toBeLessThan(1);
			expect(star.from <= star.best && star.best <= star.until).toBe(true);
		}
	});

	test("locate in the contract's shape; names, coordinates and instants in many forms", () => {
		const record = JSON.parse(
			lodebook("locate", "eta Virginis", "--latitude", "-32.4123", "--longitude", "20.8431", "--at", "2027-06-05T20:01:00+02:00", "--json").stdout,
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
			expect(lodebook("locate", body, "--latitude", "0", "--longitude", "0", "--at", "2027-01-01T00:00:00Z").status, body).toBe(0);
	});

	test("what locate cannot do it says, with the way out", () => {
		const where = ["--latitude", "0", "--longitude", "0"];
		expect(lodebook("locate", "Betelgose", ...where, "--at", "2027-01-01T00:00:00Z").stderr).toContain("did you mean Betelgeuse?");
		expect(lodebook("locate", "sun", ...where, "--at", "2027-01-01 20:00").stderr).toContain("ISO 8601");
		expect(lodebook("locate", "sun", ...where, "--at", "1850-01-01T00:00:00Z").stderr).toContain("outside the tables");
		expect(lodebook("locate", "sun", "--latitude", "95", "--longitude", "0", "--at", "2027-01-01T00:00:00Z").status).toBe(2);
	});

	test("explain tells a code, lists all, and helps with a mistyped one", () => {
		expect(lodebook("explain", "method/low-latitude").stdout).toContain("The square laser fails near the equator");
		expect(lodebook("explain").stdout.trim().split("\n").length).toBeGreaterThan(60);
		expect(lodebook("explain", "method/low-lattitude")).toMatchObject({ status: 2, stderr: expect.stringContaining("did you mean method/low-latitude?") });
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
