import { expect, test } from "vitest";
import { lodebook } from "./run.ts";

test("locate in the contract's shape; names, coordinates and instants in many forms", () => {
	const record = JSON.parse(
		lodebook(
			"locate",
			"eta Virginis",
			"--latitude",
			"-32.4123",
			"--longitude",
			"-54.3622",
			"--at",
			"2027-06-05T20:01:00-03:00",
			"--json",
		).stdout,
	);
	expect(Object.keys(record)).toEqual([
		"version",
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
			"54° 21′ 43.92″ W",
			"--elevation",
			"0 m",
			"--at",
			"2027-06-05T23:01:00Z",
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

test("what locate cannot do it says, with what to write instead", () => {
	const where = ["--latitude", "0", "--longitude", "0"];
	expect(lodebook("locate", "Betelgose", ...where, "--at", "2027-01-01T00:00:00Z").stderr).toContain(
		"did you mean Betelgeuse?",
	);
	expect(lodebook("locate", "sun", ...where, "--at", "2027-01-01 20:00").stderr).toContain("ISO 8601");
	expect(lodebook("locate", "sun", ...where, "--at", "1850-01-01T00:00:00Z").stderr).toContain("outside the years");
	expect(lodebook("locate", "sun", "--latitude", "95", "--longitude", "0", "--at", "2027-01-01T00:00:00Z").status).toBe(
		2,
	);
});

test("locates a comet by its line of elements, and names the column of a wrong one", () => {
	const line =
		"    CK27X010  2027 05 20.4000  0.412000  0.999800   80.0000  230.0000   60.0000  20270601   6.0  4.0  C/2027 X1 (invented)";
	const where = ["--latitude", "-32", "--longitude", "-54", "--at", "2027-06-05T21:00:00Z"];
	const record = JSON.parse(lodebook("locate", line, ...where, "--json").stdout);
	expect(record).toMatchObject({ body: "C/2027 X1 (invented)", kind: "comet", elementsAge: expect.closeTo(4.875, 6) });
	// A comet 16 days after its perihelion at 0.41 au.
	expect(record.sunDistance).toBeGreaterThan(0.412);
	expect(record.sunDistance).toBeLessThan(0.8);
	// m = H + 5 log Δ + 10 log r.
	expect(record.magnitude).toBeCloseTo(
		6 + 5 * Math.log10(record.earthDistance) + 10 * Math.log10(record.sunDistance),
		9,
	);
	expect(lodebook("locate", line, ...where).stdout).toContain("comet, ");
	const wrong = lodebook("locate", line.replace("0.999800", "0.99x800"), ...where);
	expect(wrong.status).toBe(2);
	expect(wrong.stderr).toContain("Columns 42–49, eccentricity");
});

test("without a place: what it is and where among the stars; the Moon's needs one, and half a place is none", () => {
	for (const [name, is, rightAscension, declination] of [
		// J2000 83.82, −5.39 and 201.70, −47.48 (SIMBAD), precessed to 2027 by 26.4 years of 0.01281 and −0.0056° cos α.
		["M42", "Orion Nebula (M42)", 84.15, -5.37],
		["omega Centauri", "Omega Centauri (NGC 5139)", 202.1, -47.62],
	] as const) {
		const record = JSON.parse(lodebook("locate", name, "--at", "2027-06-05T23:01:00Z", "--json").stdout);
		expect(record).toMatchObject({ body: is, azimuth: null, altitude: null, hourAngle: null, compassBearing: null });
		expect(record.rightAscension).toBeCloseTo(rightAscension, 1);
		expect(record.declination).toBeCloseTo(declination, 1);
		const { stdout } = lodebook("locate", name);
		expect(stdout).toContain("For bearing and altitude add --latitude and --longitude");
		expect(stdout).not.toMatch(/bearing, true|hour angle/);
	}
	expect(lodebook("locate", "moon")).toMatchObject({
		status: 2,
		stderr: expect.stringContaining("depends on the place"),
	});
	expect(lodebook("locate", "milky-way-arch")).toMatchObject({ status: 2 });
	expect(lodebook("locate", "M42", "--latitude", "41")).toMatchObject({
		status: 2,
		stderr: expect.stringContaining("belong together"),
	});
});
