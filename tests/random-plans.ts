/** Plans at random, by number: sites on both halves of the Earth, nights of all seasons, every method. */

/**
 * The first number of a run's random cases: another one in each run. Tests that use it have it in their names, and
 * LODEBOOK_SEED repeats a run.
 */
export const SEED = Number(process.env.LODEBOOK_SEED ?? Math.floor(Math.random() * 1_000_000));

/**
 * The first number of a run's random plans: the same ones in every run, since a whole evaluation of some hundred plans takes
 * minutes; LODEBOOK_SEED tries others.
 */
export const FIRST_PLAN = Number(process.env.LODEBOOK_SEED ?? 0);

/** Numbers from 0 on below another (Park and Miller): always the same of one seed. */
export function random(seed: number): (below: number) => number {
	let state = (seed * 7919 + 1) % 2_147_483_647;
	return (below) => {
		state = (state * 48_271) % 2_147_483_647;
		return state % below;
	};
}

type Below = ReturnType<typeof random>;

const one = <T>(below: Below, list: readonly T[]): T => list[below(list.length)] as T;
const clock = (minutes: number): string =>
	`"${String(Math.floor(minutes / 60) % 24).padStart(2, "0")}:${String(minutes % 60).padStart(2, "0")}"`;

/** Zones that fit the longitudes below. */
const SITES = [
	{ latitude: "33.10 S", longitude: "21.40 E", zone: "Africa/Johannesburg" },
	{ latitude: "24.29 S", longitude: "132.44 E", zone: "Australia/Darwin" },
	{ latitude: "41.62 N", longitude: "1.84 E", zone: "Europe/Madrid" },
	{ latitude: "52.30 N", longitude: "7.90 E", zone: "Europe/Berlin" },
	{ latitude: "64.10 N", longitude: "-18.90", zone: "Atlantic/Reykjavik" },
	{ latitude: "2.05 S", longitude: "-78.60", zone: "America/Guayaquil" },
	{ latitude: "36.93 N", longitude: "28.17 E", zone: "Europe/Istanbul" },
	{ latitude: "43.80 S", longitude: "170.10 E", zone: "Pacific/Auckland" },
] as const;

const SKYLINES = [
	"",
	"\n  skyline: [[0, 12], [90, 8], [180, 20], [270, 6]]",
	"\n  skyline: [[0, 48], [60, 10], [150, 12], [180, 52], [240, 10], [320, 14]]",
] as const;

const BODIES = ["Arcturus", "Vega", "Sirius", "Jupiter", "Canopus", "Antares"] as const;
const GUIDES = ["eta Virginis", "zeta Virginis", "Mintaka", "theta Aquilae", "Sadalmelik"] as const;
const AIMS = [
	"galactic-centre",
	"Antares",
	"Acrux",
	"Deneb",
	"Betelgeuse",
	"Vega",
	"{ azimuth: 120, altitude: 30 }",
] as const;

function method(below: Below, evening: number): string {
	const at = below(3) === 0 ? `\n  at: ${clock(evening + below(300))}` : "";
	switch (below(7)) {
		case 0:
			return `kind: square-laser\n  guide-star: ${one(below, GUIDES)}\n  local-rules-checked: true${at}`;
		case 1:
			return `kind: sky-bearing\n  body: ${one(below, BODIES)}${at}`;
		case 2:
			return `kind: star-sweep\n  stars: [Mintaka, zeta Virginis]\n  local-rules-checked: true${at}`;
		case 3:
			return `kind: pole-sighting${at}`;
		case 4:
			return "kind: landmark-bearing\n  landmark: mast";
		case 5:
			return `kind: compass${at}`;
		default:
			return "kind: phone\n  reads: magnetic";
	}
}

function target(below: Below, index: number, evening: number): string {
	const tracked = below(4) > 0;
	const lines = [
		`- name: target ${index + 1}`,
		`aim: ${one(below, AIMS)}`,
		`exposure: ${20 + below(8) * 20} s`,
		`frames: ${1 + below(40)}`,
		`gap: ${below(4) * 2} s`,
		"trail: 6 px",
		...(below(2) === 0 ? [`from: ${clock(evening + 60 + below(360))}`] : []),
		...(tracked ? [] : ["tracked: false"]),
		...(below(3) === 0 ? ["foreground: true"] : []),
		...(below(5) === 0 ? ["darks: 5"] : []),
		...(index > 0 && below(8) === 0 ? ["tripod: moved"] : []),
	];
	return `  ${lines.join("\n    ")}`;
}

/** The text of the plan of a number. */
export function randomPlan(seed: number): string {
	const below = random(seed);
	const { latitude, longitude, zone } = one(below, SITES);
	const evening = 17 * 60 + below(180);
	const times = below(3) === 0 ? "" : `\n  arrive: ${clock(evening)}\n  leave: ${clock(evening + 240 + below(360))}`;
	const cells = [
		`plan:\n  title: Plan ${seed}`,
		`site:\n  name: Spot ${seed}\n  latitude: ${latitude}\n  longitude: ${longitude}\n  elevation: ${below(15) * 100} m\n  timezone: ${zone}${one(below, SKYLINES)}\n  landmarks:\n    - { name: mast, bearing: 231.4, altitude: 0.4°, lit: true }`,
		`night:\n  date: 2027-${String(1 + below(12)).padStart(2, "0")}-${String(1 + below(28)).padStart(2, "0")}${times}`,
		`lens:\n  focal-length: ${one(below, [14, 20, 24, 35, 85])} mm\n  f-number: 2\n  sensor: 36 x 24 mm\n  pixels: 6000 x 4000`,
		`tracker:\n  head: ${one(below, ["geared", "wedge", "ball"])}${below(3) === 0 ? "\n  turn-limit: 60 min" : ""}`,
		...Array.from({ length: 1 + below(3) }, () => `method:\n  ${method(below, evening)}`),
		`targets:\n${Array.from({ length: 1 + below(4) }, (_, i) => target(below, i, evening)).join("\n")}`,
	];
	return `${cells.join("\n---\n")}\n`;
}
