/** The least and the most that a plan may say: nothing throws, and no number is shown that says nothing. */
import { describe, expect, test } from "vitest";
import { check } from "../../shared/findings/check.ts";
import { EXAMPLE_CELLS } from "../../shared/findings/example-plan.ts";
import type { Example } from "../../shared/findings/finding.ts";
import type { Environment } from "../../shared/outputs/output.ts";
import { OUTPUTS } from "../../shared/outputs/outputs.ts";
import { PLAIN } from "../plain-environment.ts";
import { codesOf, evaluateText, planWith } from "../plan-text.ts";

const METHODS = [
	'kind: square-laser\nguide-star: eta Virginis\nat: "20:01"\nlocal-rules-checked: true',
	"kind: square-laser",
	"kind: compass",
	"kind: phone",
	"kind: pole-sighting",
	"kind: sky-bearing\nbody: Spica",
	"kind: landmark-bearing\nlandmark: water tower",
	"kind: star-sweep\nstars: [Spica, Vega]",
	"kind: drift",
];

type Kind = "site" | "night" | "lens" | "tracker";

/** The least and the most of what each key takes, and places where a formula has a pole. */
const EXTREMES: Readonly<Record<Kind, Readonly<Record<string, readonly string[]>>>> = {
	site: {
		latitude: ["0 N", "90 N", "90 S", "0.0001 S", "89.9999 N"],
		longitude: ["180 E", "180 W", "0 E"],
		elevation: ["-500 m", "9000 m"],
		temperature: ["-60 °C", "60 °C"],
		pressure: ["400 hPa", "1100 hPa"],
	},
	night: {
		date: ["0100-01-01", "9999-12-31"],
		"sun-below": ["0°", "30°"],
		"moon-allowed": ["0 %", "100 %"],
		leave: ['"17:00:01"'],
	},
	lens: {
		"focal-length": ["1 mm", "5000 mm"],
		"f-number": ["0.5", "128"],
		sensor: ["1 x 1 mm", "200 x 200 mm", "1 x 200 mm"],
		pixels: ["10 x 10", "100000 x 100000"],
		"pixel-pitch": ["0.301 µm", "100 µm"],
		projection: ["equisolid", "equidistant"],
	},
	tracker: {
		"tilt-scale": ["± 0°", "± 45°"],
		level: ["± 0°", "± 45°"],
		"turn-limit": ["1 s", "86400 s"],
		"tilt-zero": ["45°", "-45°"],
		"periodic-error": ["{ amplitude: 5°, period: 1 s }", "{ amplitude: 0°, period: 86400 s }"],
	},
};

const UNCERTAINTIES = [
	"{ aim: ± 45°, squareness: ± 45°, roll: ± 45°, level: ± 45°, compass: ± 45° }",
	"{ aim: ± 0°, squareness: ± 0°, roll: ± 0°, level: ± 0° }",
];

const TARGETS = [
	"frames: 100000",
	"trail: 0.01 px",
	"trail: 1000 px",
	"extent: 180°",
	"extent: 0.001°",
	"gap: 86400 s",
	"tracked: false",
];

/** Numbers that are none, exponents, and angles, pixels and lengths of a million and more. */
const SENSELESS = /Infinity|NaN|undefined|\de\+\d|\d{7,}(?:\.\d+)?\s?(?:°|px|mm)/;

const ENVIRONMENT: Environment = { ...PLAIN, version: "1", explanation: (code: string) => `explained:${code}` };

/** Everything that is said of a plan: findings, and each output of it. */
function said(text: string): readonly (readonly [string, string])[] {
	const evaluation = evaluateText(text);
	const findings = check(evaluation);
	const plan = { path: "a.lode.yaml", text, findings, evaluation };
	return [
		...findings.map(({ code, message }) => [code, message] as const),
		...OUTPUTS.flatMap((output) =>
			(output.choice?.among ?? [""]).flatMap((choice) => {
				const made = output.of.plan?.make(plan, ENVIRONMENT, choice);
				return typeof made === "string" ? [[`${output.name} ${choice}`.trim(), made] as const] : [];
			}),
		),
	];
}

function expectSense(changes: Example): void {
	for (const [what, text] of said(planWith(changes))) {
		// A style may well say `1e9px`.
		const shown = text.replace(/<style[\s\S]*?<\/style>/g, "");
		const found = SENSELESS.exec(shown);
		expect(found && shown.slice(Math.max(0, found.index - 80), found.index + 40), what).toBeNull();
	}
}

const withKey = (kind: Kind, key: string, value: string): string =>
	[...(EXAMPLE_CELLS[kind] ?? "").split("\n").filter((line) => !line.startsWith(`${key}:`)), `${key}: ${value}`].join(
		"\n",
	);

const KEYS = (Object.keys(EXTREMES) as Kind[]).flatMap((kind) =>
	Object.keys(EXTREMES[kind]).map((key) => [kind, key] as const),
);

describe.each(METHODS)("%s", (method) => {
	test.each(KEYS)("%s %s", (kind, key) => {
		for (const value of EXTREMES[kind][key] ?? []) expectSense({ [kind]: withKey(kind, key, value), method });
	});

	test("spreads of nothing and of half the sky, at the equator and at a pole", () => {
		for (const latitude of ["0 N", "0.001 S", "90 N"])
			for (const uncertainty of UNCERTAINTIES)
				expectSense({ site: withKey("site", "latitude", latitude), method: `${method}\nuncertainty: ${uncertainty}` });
	});
});

test.each(TARGETS)("a target with %s, of the shortest and the longest exposure", (key) => {
	for (const exposure of ["0.00001 s", "86400 s"])
		for (const latitude of ["0 N", "90 S", "32 S"])
			expectSense({
				site: withKey("site", "latitude", latitude),
				targets: `- name: core\n  aim: galactic-centre\n  from: "21:30"\n  exposure: ${exposure}\n  ${key}`,
			});
});

test("what is shorter than anything there is, is refused", () => {
	const LENS = "f-number: 2\nsensor: full-frame\npixels: 6000 x 4000";
	const CODE = "structure/out-of-range";
	expect(codesOf(planWith({ lens: `focal-length: 1e-9 mm\n${LENS}` }))).toContain(CODE);
	expect(codesOf(planWith({ lens: `focal-length: 24 mm\n${LENS.replace("2", "1e-9")}` }))).toContain(CODE);
	for (const key of ["exposure: 1e-9 s", "exposure: 60 s\n  trail: 1e-9 px", "exposure: 60 s\n  extent: 1e-9°"])
		expect(codesOf(planWith({ targets: `- name: core\n  aim: Spica\n  ${key}` })), key).toContain(CODE);
});

test("an axis error beyond half a turn is any direction, and not a number", () => {
	const text = planWith({ site: withKey("site", "latitude", "0 N"), method: "kind: square-laser" });
	const evaluation = evaluateText(text);
	const values = evaluation.plan.cells.flatMap((cell) => evaluation.valuesOf(cell));
	expect(values.find(({ id }) => id === "method.axis-error-95")).toMatchObject({ value: null, text: "any direction" });
	expect(values.find(({ id }) => id === "target.trail-95")?.value).toBeNull();
	const outputs = Object.fromEntries(said(text));
	expect(outputs.json).toContain("any direction");
	expect(outputs["svg error-ellipse"]).toBeUndefined();
	expect(outputs.page).not.toContain("Axis error: 95 %");
});
