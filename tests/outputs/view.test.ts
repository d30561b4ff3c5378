import { readdirSync, readFileSync } from "node:fs";
import { h } from "preact";
import { renderToString } from "preact-render-to-string";
import { describe, expect, test } from "vitest";
import { check } from "../../shared/findings/check.ts";
import { newPlanText } from "../../shared/outputs/draft/new-plan.ts";
import { SideView } from "../../shared/outputs/page/alignment-pictures.tsx";
import { AllSky } from "../../shared/outputs/page/all-sky.tsx";
import { chartMarksAt, onChart, turnOnChart } from "../../shared/outputs/page/chart-paths.ts";
import { finderView } from "../../shared/outputs/page/finder.ts";
import { FinderChart } from "../../shared/outputs/page/finder-chart.tsx";
import { pageBody } from "../../shared/outputs/page/page.tsx";
import { Panorama } from "../../shared/outputs/page/panorama.tsx";
import { onRing, PoleDial } from "../../shared/outputs/page/pole-dial.tsx";
import { celestialEquator, litSide } from "../../shared/outputs/page/real-sky.ts";
import {
	areaAt,
	markAt,
	moonShape,
	outlineOf,
	seenAt,
	starsAt,
	xOf,
	yOf,
} from "../../shared/outputs/page/sky-paths.ts";
import { pageView } from "../../shared/outputs/page/view.ts";
import { hiddenBy } from "../../shared/sky/cover.ts";
import { fromGalactic } from "../../shared/sky/galactic.ts";
import { toDirection, toVector } from "../../shared/sky/horizontal.ts";
import { apparentDirection, equatorialPlace, findBody } from "../../shared/sky/place.ts";
import { halfTurn, plus, separation, type Vector } from "../../shared/sky/vector.ts";
import { checkText, codesOf, evaluateText, planWith } from "../plan-text.ts";

const sample = readFileSync(new URL("../../samples/roofless-chapel.lode.yaml", import.meta.url), "utf8");
const viewOf = (text: string) => {
	const evaluation = evaluateText(text);
	return pageView(evaluation, check(evaluation));
};

const moonsetSoon = newPlanText({
	title: "a",
	site: "b",
	latitude: 44.5,
	longitude: 5.5,
	date: "2027-07-03",
}).replace(/date: .*/, 'date: 2027-07-03\n  arrive: "21:00"\n  leave: "02:30"');

describe("the view model", () => {
	const view = viewOf(sample);

	test("is plain data, and says what the evaluation says", () => {
		expect(JSON.parse(JSON.stringify(view))).toEqual(JSON.parse(JSON.stringify(viewOf(sample))));
		expect(view.verdict).toEqual({
			text: "No problems found.",
			worst: undefined,
			sentence: "Ready: no problems found.",
		});
		expect(view.next.map(({ text }) => text).slice(0, 2)).toEqual(["Next: 17:00 Set up", "Next: 17:15 Focus"]);
		expect(view.methodLine).toBe(
			"Align: right-angle laser, 19:56–20:06. Axis within 2.1° of the pole, 19 times in 20, if your ± are right.",
		);
		expect(view.where).toBe("Roofless chapel · 2027-06-05 · America/Montevideo");
		expect(view.methods.map(({ name, works, error }) => `${name} ${works} ${error}`)).toEqual([
			"right-angle laser true 2.1°",
			"bearing from a landmark true 2.3°",
		]);
		expect(view.timeline?.moments.map(({ clock, label }) => `${clock} ${label}`)).toEqual([
			"17:00 arrive",
			"17:39 sunset",
			"18:10 gable by last light",
			"18:24 moonset",
			"19:06 dark",
			"20:01 right-angle laser",
			"20:30 core over the gable",
			"02:00 (+1) leave",
		]);
		expect(view.panorama?.says.view).toContain(
			"The pole: altitude 32.4°, due south, hidden. The aim point: altitude 57.6°, bearing 000.0°.",
		);
	});

	test("the Moon is up until the minute at which it is told to set", () => {
		// It sets at 21:17:30 or later in that minute: the nearest minute is the one behind.
		const { timeline } = viewOf(moonsetSoon);
		const set = timeline?.moments.find(({ label }) => label === "moonset")?.clock;
		expect(set).toBe("21:18");
		expect(timeline?.rows.find(({ kind }) => kind === "moon")?.text).toBe(`21:00–${set}`);
	});

	test("the timeline is of the time on site, and has the evening's steps after what they are placed in, in their order", () => {
		const { timeline, evening } = view;
		const site = evaluateText(sample);
		expect([timeline?.from, timeline?.until]).toEqual([site.night?.onSite.from, site.night?.onSite.until]);
		const kinds = timeline?.rows.map(({ kind }) => kind) ?? [];
		const first = kinds.findIndex((kind) => ["step", "align", "frames"].includes(kind));
		expect(kinds.slice(0, first)).toEqual(["dark", "moon", "method", "method", "target", "target"]);
		const steps = timeline?.rows.slice(first) ?? [];
		expect(steps.map(({ label, text }) => `${text} ${label}`)).toEqual(
			evening.filter(({ kind }) => kind !== "wait").map(({ times, say }) => `${times} ${say}`),
		);
		const begins = steps.map(({ intervals }) => intervals[0]?.from ?? 0);
		expect(begins).toEqual([...begins].sort((a, b) => a - b));
		expect(steps.filter(({ kind }) => kind === "align")).toHaveLength(1);
		expect(timeline?.at).toBe(view.panorama?.at);
	});

	test("every picture of the page has a title and says its result, and no two of a page are called the same", () => {
		for (const name of ["roofless-chapel", "dry-gorge", "larch-clearing", "terrace-near-the-line"]) {
			const text = readFileSync(new URL(`../../samples/${name}.lode.yaml`, import.meta.url), "utf8");
			const html = pageBody(viewOf(text));
			const pictures = [
				...html.matchAll(/<svg ((?:[^>"]|"[^"]*")*)>(?:<title>([^<]+)<\/title><desc>([^<]+)<\/desc>)?/g),
			];
			const shown = pictures.filter(([, attributes]) => !attributes?.includes("aria-hidden"));
			expect(shown.length).toBeGreaterThan(5);
			for (const [tag, , title, says] of shown) {
				expect(title, tag).toBeTruthy();
				expect(says, tag).toMatch(/[\d.]+(?:°|:| px)/);
			}
			const titles = shown.map(([, , title]) => title);
			expect(new Set(titles).size, titles.join()).toBe(titles.length);
			expect(html.split("<figcaption>").length - 1, name).toBe(html.split("<figure").length - 1);
		}
	});

	test("the axis is drawn inside of its picture at every latitude", () => {
		for (const latitude of ["0.2 N", "0.2 S", "12 N", "45 S", "70 N", "85 N", "89.5 S"]) {
			const { alignment } = viewOf(
				planWith({ site: `latitude: ${latitude}\nlongitude: 54.3622 W`, method: "kind: compass" }),
			);
			if (!alignment) throw new Error(latitude);
			const html = renderToString(h(SideView, { view: alignment }));
			const [, , , width = 0, height = 0] = (/viewBox="(\d+) (\d+) (\d+) (\d+)"/.exec(html) ?? []).map((one, i) =>
				i === 0 ? 0 : Number(one),
			);
			for (const [, x, y] of html.matchAll(/<text x="([\d.-]+)" y="([\d.-]+)"/g)) {
				expect(Number(x)).toBeGreaterThanOrEqual(0);
				expect(Number(x)).toBeLessThanOrEqual(width);
				expect(Number(y)).toBeGreaterThanOrEqual(11);
				expect(Number(y)).toBeLessThanOrEqual(height - 4);
				// Nor through the ground, which is at 170.
				expect(Number(y) < 168 || Number(y) > 182, `${latitude} ${y}`).toBe(true);
			}
		}
	});

	test.each([
		["hidden", sample, true],
		["in view", readFileSync(new URL("../../samples/larch-clearing.lode.yaml", import.meta.url), "utf8"), false],
	])("the pole is marked alike in every picture that has it: %s", (_, text, isHidden) => {
		const { panorama, methods } = viewOf(text);
		const alignment = methods[0]?.alignment;
		if (!panorama || !alignment) throw new Error("no picture");
		const marks = [
			renderToString(h(Panorama, { view: panorama, still: true })),
			renderToString(h(AllSky, { view: panorama, still: true })),
			renderToString(h(SideView, { view: alignment })),
		].map((html) => {
			const [, ring, dash, dot] =
				/<g class="pole" transform="[^"]+"><circle r="([\d.]+)" fill="none" stroke="var\(--ink\)" stroke-width="1.4"( stroke-dasharray="3 3")?><\/circle><circle r="([\d.]+)"/.exec(
					html,
				) ?? [];
			return { share: Number(dot) / Number(ring), isHidden: dash !== undefined };
		});
		for (const mark of marks) {
			expect(mark.share).toBeCloseTo(0.22, 1);
			expect(mark.isHidden).toBe(isHidden);
		}
	});

	test("an outline over the seam goes on at both ends, what goes over the zenith goes up to it", () => {
		const frame = view.panorama?.frame;
		if (!frame) throw new Error("no picture");
		const { width } = frame;
		const seam = (frame.centre + 180) % 360;
		const box = [-21, 20, 20, -21].map((by, i) => ({ azimuth: (seam + by + 360) % 360, altitude: i < 2 ? 40 : 10 }));
		const path = outlineOf(frame, box);
		const xs = [...path.matchAll(/[ML](-?[\d.]+) /g)].map(([, x]) => Number(x));
		// Each of its two sides over the seam leaves at one end and comes in at the other.
		expect(xs.filter((x) => x < 0)).toHaveLength(2);
		expect(xs.filter((x) => x > width)).toHaveLength(2);
		const lengths = path
			.split("M")
			.slice(1)
			.map((part) => part.split("L").length);
		expect(Math.min(...lengths)).toBeGreaterThan(1);
		const over = outlineOf(frame, [
			{ azimuth: frame.centre - 90, altitude: 80 },
			{ azimuth: frame.centre + 90, altitude: 80 },
		]);
		const places = [...over.matchAll(/([ML])(-?[\d.]+) (-?[\d.]+)/g)].map(([, , x, y]) => [Number(x), Number(y)]);
		expect(places.some(([, y = 0]) => y < yOf(frame, 89))).toBe(true);
		for (const [x = 0, y = 0] of places)
			if (y > yOf(frame, 89)) expect([xOf(frame, frame.centre - 90), xOf(frame, frame.centre + 90)]).toContain(x);
	});

	test("on the all-sky chart no name covers the mark of a neighbour, and on a page a long one on the timeline is whole", () => {
		const text = readFileSync(new URL("../../samples/dusk-comet.lode.yaml", import.meta.url), "utf8");
		const evaluation = evaluateText(text);
		const page = pageView(evaluation, check(evaluation));
		const { panorama } = page;
		if (!panorama) throw new Error("no picture");
		const { labels, bodies } = chartMarksAt(panorama, "pole", panorama.at);
		const [mars, jupiter] = ["Mars", "Jupiter"].map((name) => {
			const label = labels.find((one) => one?.name === name);
			const direction = bodies[panorama.bodies.findIndex((one) => one.name === name)];
			if (!label || !direction) throw new Error(name);
			return { label, mark: onChart(panorama.frame.centre, direction) };
		});
		if (!mars || !jupiter) throw new Error("no planets");
		// They are so near that on one side each would have the other's name.
		expect(Math.hypot(mars.mark[0] - jupiter.mark[0], mars.mark[1] - jupiter.mark[1])).toBeLessThan(15);
		for (const [one, other] of [
			[mars, jupiter],
			[jupiter, mars],
		] as const) {
			const wide = one.label.name.length * 7;
			const [left, right] = one.label.isRight ? [one.label.x - wide, one.label.x] : [one.label.x, one.label.x + wide];
			const isBeside = other.mark[0] < left || other.mark[0] > right || Math.abs(other.mark[1] - one.label.y) > 9;
			expect(isBeside, one.label.name).toBe(true);
		}
		expect(pageBody(page)).toContain(">Foreground: comet over the wind pump</tspan>");
		expect(pageBody(page)).toContain(">comet over the wind pump: usable</tspan>");
	});

	test("a shower's radiant is among the marks, where it is seen", () => {
		const text = readFileSync(new URL("../../samples/meteors-over-ruin.lode.yaml", import.meta.url), "utf8");
		const evaluation = evaluateText(text);
		const { panorama } = pageView(evaluation, check(evaluation));
		const radiant = panorama?.places.find(({ kind }) => kind === "radiant");
		const shower = evaluation.targets?.value?.[0]?.shower;
		if (!panorama || !radiant || !shower) throw new Error("no radiant");
		expect(radiant.name).toBe("radiant: eta Aquariids");
		const { azimuth, altitude } = seenAt(panorama.frame, radiant.place, panorama.at);
		const seen = shower.radiantAt(panorama.at);
		expect(altitude).toBeCloseTo(seen.altitude, 1);
		expect(Math.abs(((azimuth - seen.azimuth + 540) % 360) - 180)).toBeLessThan(0.1);
	});

	test("the sky of the picture turns as the sky does: a star is drawn where it is computed, hours later too", () => {
		const frame = view.panorama?.frame;
		const guide = view.panorama?.places.find(({ kind }) => kind === "guide");
		const body = findBody("eta Virginis");
		const site = evaluateText(sample).site;
		if (!frame || !guide || !body || !site) throw new Error("no picture");
		for (const hours of [-3, 0, 4]) {
			const at = frame.at + hours * 3_600_000;
			const drawn = seenAt(frame, guide.place, at);
			const evaluated = apparentDirection(body, site.spot, at);
			expect(drawn.altitude).toBeCloseTo(evaluated.altitude, 1);
			expect(Math.abs(((drawn.azimuth - evaluated.azimuth + 540) % 360) - 180)).toBeLessThan(0.1);
		}
		expect(markAt(frame, [0, 89.9], frame.at)).toBe("-999,-999");
		for (const name of ["Spica", "Antares", "Vega", "Arcturus"])
			for (const hours of [-2, 0, 3]) {
				const at = frame.at + hours * 3_600_000;
				const star = findBody(name);
				if (!star) throw new Error(name);
				const { azimuth, altitude } = apparentDirection(star, site.spot, at);
				const dots = (view.panorama?.stars ?? []).map(({ places }) => starsAt(frame, places, at)).join("");
				const nearest = Math.min(
					...[...dots.matchAll(/M([\d.-]+) ([\d.-]+)h0/g)].map(([, x, y]) =>
						Math.hypot(Number(x) - xOf(frame, azimuth), Number(y) - yOf(frame, altitude)),
					),
				);
				// A degree is 3.3 px; below the horizon there is none.
				if (altitude > 0) expect(nearest, `${name} ${hours}`).toBeLessThan(0.3);
				if (altitude < -3) expect(nearest, `${name} ${hours}`).toBeGreaterThan(1);
			}
		for (const area of view.panorama?.milkyWay ?? []) expect(areaAt(frame, area, frame.at)).toMatch(/^M[\d.-]/);
	});

	test("the glow of twilight is over the Sun, all of it at the horizon, none of it once that is astronomically dark", () => {
		const panorama = view.panorama;
		const { site, night } = evaluateText(sample);
		const sun = findBody("sun");
		if (!panorama || !site || !night || !sun) throw new Error("no picture");
		const glowOf = (at: number) => {
			const html = renderToString(h(Panorama, { view: { ...panorama, at }, still: true }));
			const [, opacity, x] = /<g id="glow" opacity="([\d.]+)" transform="translate\((-?\d+),0\)"/.exec(html) ?? [];
			return { opacity: Number(opacity), x: Number(x) };
		};
		const { sunset, "astronomical-dusk": dusk } = night.sky.sun;
		if (sunset === undefined || dusk === undefined) throw new Error("no dusk");
		for (const at of [sunset, (sunset + dusk) / 2, dusk]) {
			const { azimuth, altitude } = apparentDirection(sun, site.spot, at);
			const { opacity, x } = glowOf(at);
			// Linear in the Sun's altitude, from 18° below the horizon (the limit of astronomical twilight) to the horizon.
			expect(opacity).toBeCloseTo(Math.min(1, 1 + altitude / 18), 1);
			expect(Math.abs(x - xOf(panorama.frame, azimuth))).toBeLessThan(2);
		}
		expect(glowOf(sunset).opacity).toBeGreaterThan(0.9);
		expect(glowOf(dusk + 60_000).opacity).toBe(0);
	});

	test("the constellations' figures go from star to star: the belt and shoulders of Orion, the Scorpion's heart", () => {
		const terrace = readFileSync(new URL("../../samples/terrace-near-the-line.lode.yaml", import.meta.url), "utf8");
		const { panorama } = viewOf(terrace);
		const spot = evaluateText(terrace).site?.spot;
		if (!panorama || !spot) throw new Error("no picture");
		const drawn = renderToString(h(Panorama, { view: panorama, still: true, figures: true }));
		const corners = [...(/class="figures" d="([^"]+)"/.exec(drawn)?.[1] ?? "").matchAll(/[ML]([\d.-]+) ([\d.-]+)/g)];
		expect(corners.length).toBeGreaterThan(100);
		let seen = 0;
		for (const name of [
			"Betelgeuse",
			"Bellatrix",
			"Rigel",
			"Mintaka",
			"Alnilam",
			"Alnitak",
			"Sirius",
			"Antares",
			"Spica",
		]) {
			const star = findBody(name);
			if (!star) throw new Error(name);
			const { azimuth, altitude } = apparentDirection(star, spot, panorama.at);
			if (altitude < 2) continue;
			seen++;
			const [x, y] = [xOf(panorama.frame, azimuth), yOf(panorama.frame, altitude)];
			// A degree is 3.3 px.
			expect(Math.min(...corners.map((one) => Math.hypot(Number(one[1]) - x, Number(one[2]) - y))), name).toBeLessThan(
				1,
			);
		}
		expect(seen).toBeGreaterThan(3);
		expect(renderToString(h(Panorama, { view: panorama, still: true }))).not.toContain('class="figures"');
	});

	test("where a frame is at the first exposure of a series and at the last", () => {
		const [target] = evaluateText(sample).targets?.value?.filter((one) => one?.tracked) ?? [];
		const spot = evaluateText(sample).site?.spot;
		const ends = view.panorama?.ends ?? [];
		if (!target || !spot) throw new Error("no target");
		expect(ends.map(({ text }) => text)).toEqual(["first 20:30", "last 20:47"]);
		// The tracked frame's middle is where the target is: between its corners, whose means are near it on the sky.
		for (const [i, at] of [target.series.from, target.series.until - (target.entry.exposure ?? 0) * 1000].entries()) {
			const corners = ends[i]?.edge.filter((_, k) => k % 8 === 0).map(toVector) ?? [];
			const sum = corners.reduce<Vector>(plus, [0, 0, 0]);
			expect(separation(sum, toVector(target.directionAt(at)))).toBeLessThan(0.3);
		}
	});

	test("a target's way has the hours of the clock where it then is", () => {
		const [track, ...others] = view.panorama?.tracks ?? [];
		const site = evaluateText(sample).site;
		const core = findBody("galactic-centre");
		if (!track || !site || !core) throw new Error("no track");
		// The other target is a fixed direction, which goes nowhere.
		expect(others).toEqual([]);
		expect(track.hours.map(({ clock }) => clock)).toEqual(["20", "21", "22", "23", "00 (+1)", "01 (+1)", "02 (+1)"]);
		const { azimuth, altitude } = apparentDirection(core, site.spot, Date.parse("2027-06-05T22:00:00-03:00"));
		expect(track.hours[2]?.azimuth).toBeCloseTo(azimuth, 1);
		expect(track.hours[2]?.altitude).toBeCloseTo(altitude, 1);
	});

	test("the celestial equator is where bodies of declination 0 go, and crosses the meridian at 90° less the latitude", () => {
		for (const latitude of [-32.4, 0.2, 46.6]) {
			const equator = celestialEquator(latitude);
			const [east, top, west] = [equator[0], equator[18], equator[36]];
			expect(top?.altitude).toBeCloseTo(90 - Math.abs(latitude), 1);
			expect([east?.altitude, west?.altitude]).toEqual([0, 0]);
			expect(new Set([east?.azimuth, west?.azimuth])).toEqual(new Set([90, 270]));
			for (const { azimuth, altitude } of equator) {
				// sin δ = sin φ sin h + cos φ cos h cos A (Meeus, ch. 13)
				const [f, h, A] = [latitude, altitude, azimuth].map((one) => (one * Math.PI) / 180) as [number, number, number];
				expect(Math.sin(f) * Math.sin(h) + Math.cos(f) * Math.cos(h) * Math.cos(A)).toBeCloseTo(0, 3);
			}
		}
	});

	test("the Moon's lit side: Meeus' position angle (ch. 48) less the parallactic angle (ch. 14)", () => {
		const moon = findBody("moon");
		const sun = findBody("sun");
		if (!moon || !sun) throw new Error("no Moon");
		for (const latitude of [-35, 10, 52])
			for (const day of [8, 11, 16, 24]) {
				const at = Date.UTC(2027, 5, day, 20);
				const spot = { latitude, longitude: 20, elevation: 0, air: { pressure: 0, temperature: 10 } };
				const rad = Math.PI / 180;
				const place = (body: typeof moon) => {
					const { rightAscension, declination, hourAngle } = equatorialPlace(body, spot, at);
					return { a: rightAscension * rad, d: declination * rad, h: hourAngle * rad };
				};
				const [m, s] = [place(moon), place(sun)];
				const limb = Math.atan2(
					Math.cos(s.d) * Math.sin(s.a - m.a),
					Math.sin(s.d) * Math.cos(m.d) - Math.cos(s.d) * Math.sin(m.d) * Math.cos(s.a - m.a),
				);
				const parallactic = Math.atan2(
					Math.sin(m.h),
					Math.tan(latitude * rad) * Math.cos(m.d) - Math.sin(m.d) * Math.cos(m.h),
				);
				// Position angles go anticlockwise as one faces the sky.
				const clockwise = (parallactic - limb) / rad;
				const off = ((litSide(spot, at) - clockwise + 540) % 360) - 180;
				expect(Math.abs(off) < 1 || Math.abs(off) > 359, `${latitude} ${day}: ${off}`).toBe(true);
			}
	});

	test("the Moon's shape: nothing at new, half a disc at half, all at full", () => {
		expect(moonShape(7, 0)).toBe("M-7 0A7 7 0 0 1 7 0A7 7 0 0 0 -7 0Z");
		expect(moonShape(7, 0.5)).toBe("M-7 0A7 7 0 0 1 7 0A7 0 0 0 1 -7 0Z");
		expect(moonShape(7, 1)).toBe("M-7 0A7 7 0 0 1 7 0A7 7 0 0 1 -7 0Z");
	});

	test("galactic coordinates: l = b = 0 and the pole (Hipparcos' definition)", () => {
		expect(fromGalactic(0, 0).rightAscension).toBeCloseTo(266.40499, 4);
		expect(fromGalactic(0, 0).declination).toBeCloseTo(-28.93617, 4);
		expect(fromGalactic(122.93192, 27.12825).declination).toBeCloseTo(90, 5);
	});

	test("a plan with nothing in it, with mistakes, without a night: a page all the same", () => {
		for (const text of [
			"",
			"plan:\n  title: A\n",
			planWith({ night: null }),
			planWith({ method: "kind: drift" }),
			readFileSync(new URL("../../samples/mistakes.lode.yaml", import.meta.url), "utf8"),
		]) {
			const html = pageBody(viewOf(text));
			expect(html).toContain('class="verdict');
			expect(html).not.toMatch(/undefined|NaN|\[object/);
		}
	});
});

describe("the finder chart", () => {
	const evaluation = evaluateText(sample);
	const method = evaluation.methods[0]?.value;
	const finder = method && finderView(method, evaluation.site, evaluation.night);
	const spot = evaluation.site?.spot;
	if (!finder || !spot || method.setUp.at === undefined) throw new Error("no chart");
	const at = method.setUp.at;
	const seen = (name: string) => {
		const body = findBody(name);
		if (!body) throw new Error(name);
		return toVector(apparentDirection(body, spot, at));
	};

	test("is of the guide star at the method's time, with the beam where the steps say", () => {
		expect([finder.name, finder.clock]).toEqual(["eta Virginis", "20:01"]);
		// The steps are carried out under a sky of their own in printed-steps.test.ts.
		expect(
			viewOf(sample)
				.methods[0]?.steps.map(({ say }) => say)
				.join(),
		).toContain("0.31° to the left and 0.83° below");
		expect(finder.beam?.[0]).toBeCloseTo(-0.31, 1);
		expect(finder.beam?.[1]).toBeCloseTo(-0.83, 1);
	});

	test("places stars as far from it as they are, as one faces it", () => {
		const guide = seen("eta Virginis");
		expect(finder.stars.some(({ at: [right, up] }) => Math.hypot(right, up) < 0.01)).toBe(true);
		for (const name of ["Porrima", "Zavijava"]) {
			const star = seen(name);
			const away = separation(star, guide);
			const near = finder.stars.filter(
				({ at: place }) =>
					Math.abs(Math.hypot(...place) - 2 * Math.tan((away * Math.PI) / 360) * (180 / Math.PI)) < 0.02,
			);
			// Higher is up, and further along the horizon toward the right hand is right.
			const sides = near.map(({ at: [right, up] }) => [Math.sign(right), Math.sign(up)]);
			const [a, b] = [toDirection(star), toDirection(guide)];
			expect(sides, name).toContainEqual([
				Math.sign(halfTurn(a.azimuth - b.azimuth)),
				Math.sign(a.altitude - b.altitude),
			]);
		}
	});

	test("the way begins at a star that is found at once, and is as long as the two are apart", () => {
		expect(finder.from?.name).toBe("Spica");
		const away = separation(seen("Spica"), seen("eta Virginis"));
		expect(Math.hypot(...(finder.from?.at ?? [0, 0]))).toBeCloseTo(
			2 * Math.tan((away * Math.PI) / 360) * (180 / Math.PI),
			1,
		);
		expect(finder.alternative).toMatch(
			/^eta Virginis at 20:01, upright as you face it; the circle is 20° wide\. From Spica go [\d.]+° to the (left|right) at the same altitude, then [\d.]+° straight (up|down)\. The cross marks where to put the beam or sight\.$/,
		);
	});

	test("who goes the way that is said ends on the star", () => {
		let gone = 0;
		for (const file of readdirSync(new URL("../../samples/", import.meta.url))) {
			if (!file.endsWith(".lode.yaml")) continue;
			const plan = evaluateText(readFileSync(new URL(`../../samples/${file}`, import.meta.url), "utf8"));
			for (const { value } of plan.methods) {
				const chart = value && finderView(value, plan.site, plan.night);
				const place = plan.site?.spot;
				const time = value?.setUp.at;
				if (!chart?.from?.way || !place || time === undefined) continue;
				const [start, end] = [chart.from.name, chart.name].map((name) => {
					const body = findBody(name);
					if (!body) throw new Error(name);
					return apparentDirection(body, place, time);
				});
				if (!start || !end || !plan.site) throw new Error(file);
				expect(hiddenBy(plan.site.cover, start), `${file}: ${chart.from.name}`).toBeUndefined();
				let { azimuth, altitude } = start;
				for (const [, angle, way] of chart.from.way.matchAll(
					/([\d.]+)° (to the right|to the left|straight up|straight down)/g,
				)) {
					const by = Number(angle) * (way === "to the left" || way === "straight down" ? -1 : 1);
					if (way?.startsWith("straight")) altitude += by;
					else {
						// In small steps, each along the horizon: what a fist covers there is narrower the higher it is held.
						const apart = (turn: number) =>
							separation(toVector({ azimuth, altitude }), toVector({ azimuth: azimuth + turn, altitude }));
						let turn = 0;
						while (apart(turn) < Math.abs(by)) turn += 0.01;
						azimuth += Math.sign(by) * turn;
					}
				}
				gone++;
				expect(separation(toVector({ azimuth, altitude }), toVector(end)), `${file}: ${chart.from.way}`).toBeLessThan(
					0.12,
				);
			}
		}
		expect(gone).toBeGreaterThan(3);
	});

	test("the name of the mark is on the side to which neither the way nor the beam is", () => {
		const towards = { right: [1, 0], left: [-1, 0], above: [0, 1], below: [0, -1] } as const;
		for (const [from, beam] of [
			["above", "below"],
			["left", "right"],
			["below", undefined],
			["right", "above"],
		] as const) {
			const drawn = renderToString(
				h(FinderChart, {
					view: {
						...finder,
						from: { at: [towards[from][0] * 15, towards[from][1] * 15], name: "Spica", way: "" },
						beam: beam && [towards[beam][0], towards[beam][1]],
					},
				}),
			);
			const [, x, y, anchor] = /<text x="(\d+)" y="(\d+)" text-anchor="(\w+)" class="strong"/.exec(drawn) ?? [];
			const side = anchor === "start" ? "right" : anchor === "end" ? "left" : Number(y) > 150 ? "below" : "above";
			expect(x).toBeDefined();
			expect([from, beam]).not.toContain(side);
		}
	});

	test("a method without a mark in the sky has none", () => {
		const compass = evaluateText(planWith({ method: "kind: compass" }));
		expect(
			compass.methods[0]?.value && finderView(compass.methods[0].value, compass.site, compass.night),
		).toBeUndefined();
	});
});

test("a frame that is taken in the sun has no stars, one in the dark has", () => {
	const starsOf = (name: string) =>
		viewOf(readFileSync(new URL(`../../samples/${name}.lode.yaml`, import.meta.url), "utf8")).frames.map(
			({ stars, alternative }) => [stars.length > 0, alternative.includes("trail most")],
		);
	expect(starsOf("midsummer-skerry")).toEqual([[false, false]]);
	expect(starsOf("roofless-chapel")).toContainEqual([true, true]);
});

describe("the frame of a target", () => {
	const evaluation = evaluateText(sample);
	const view = viewOf(sample);
	const target = evaluation.targets?.value?.[1];
	const [picture] = view.frames;
	const spot = evaluation.site?.spot;
	const [first] = target?.frames?.() ?? [];
	if (!target || !picture || !spot || !first) throw new Error("no frame");

	test("has its stars where a rectilinear lens draws them (Snyder, Map Projections, gnomonic)", () => {
		expect(picture.name).toBe("core over the gable");
		expect(picture.shape).toBeCloseTo(24 / 36, 6);
		const at = target.series.from;
		const rad = Math.PI / 180;
		const middle = target.directionAt(at);
		for (const name of ["Antares", "Shaula", "Kaus Australis"]) {
			const body = findBody(name);
			if (!body) throw new Error(name);
			const { azimuth, altitude } = apparentDirection(body, spot, at);
			const [h, h0, da] = [altitude * rad, middle.altitude * rad, (azimuth - middle.azimuth) * rad];
			const cosine = Math.sin(h0) * Math.sin(h) + Math.cos(h0) * Math.cos(h) * Math.cos(da);
			const right = (24 * Math.cos(h) * Math.sin(da)) / cosine;
			const up = (24 * (Math.cos(h0) * Math.sin(h) - Math.sin(h0) * Math.cos(h) * Math.cos(da))) / cosine;
			const [x, y] = [0.5 + right / 36, 0.5 - up / 24];
			const nearest = Math.min(...picture.stars.map(({ at: place }) => Math.hypot(place[0] - x, place[1] - y)));
			expect(nearest, name).toBeLessThan(0.002);
		}
	});

	test("hides as much of it as is hidden", () => {
		const area = (corners: readonly (readonly [number, number])[]): number =>
			Math.abs(
				corners.reduce((sum, [x, y], i) => {
					const [x2, y2] = corners[(i + 1) % corners.length] ?? [0, 0];
					return sum + (x * y2 - x2 * y) / 2;
				}, 0),
			);
		const hidden = picture.hidden.reduce((sum, corners) => sum + area(corners), 0);
		expect(hidden).toBeGreaterThan(0.05);
		expect(Math.abs(hidden - first.hidden)).toBeLessThan(0.06);
	});

	test("a frame of the ground, and one without a lens, have none", () => {
		expect(view.frames.length).toBe(1);
		expect(viewOf(planWith({ lens: [] })).frames).toEqual([]);
	});
});

describe("a note", () => {
	const noteHtml = (note: string): string => {
		const html = pageBody(viewOf(planWith({ note: `|\n  ${note.replaceAll("\n", "\n  ")}` })));
		return /<div class="note">(.*?)<\/div>/s.exec(html)?.[1] ?? "none";
	};

	test.each([
		[
			"a **bold** word, *one* and `co*d*e`",
			"<p>a <strong>bold</strong> word, <em>one</em> and <code>co*d*e</code></p>",
		],
		["3 * 60 s and 2 ** 3, **open", "<p>3 * 60 s and 2 ** 3, **open</p>"],
		[
			"# Bring\n- tape\n- a *red*\n  lamp\n\n1. go",
			"<p><strong>Bring</strong></p><ul><li>tape</li><li>a <em>red</em> lamp</li></ul><ol><li>go</li></ol>",
		],
		["one\ntwo\n\nthree", "<p>one<br/>two</p><p>three</p>"],
		["[x](https://example.org) <b>", "<p>[x](https://example.org) &lt;b></p>"],
	])("%j", (note, html) => {
		expect(noteHtml(note)).toBe(html);
	});

	test("of nothing but marks takes no time", () => {
		const started = performance.now();
		noteHtml(`x ${"*_`".repeat(20_000)}`);
		noteHtml(`x ${"**a".repeat(20_000)}`);
		expect(performance.now() - started).toBeLessThan(2_000);
	});
});

test("what is written as in a plan is code on the page: no sentence has its backticks", () => {
	const folder = new URL("../../samples/", import.meta.url);
	const files = readdirSync(folder).filter((one) => one.endsWith(".lode.yaml"));
	const bodies = files.map((file) => pageBody(viewOf(readFileSync(new URL(file, folder), "utf8"))));
	expect(bodies.join("")).toContain("<code>star-sweep</code>");
	expect(bodies.join("")).toContain("<code>offset</code>");
	for (const [i, body] of bodies.entries()) {
		const text = body.replace(/<script[\s\S]*?<\/script>/g, "").match(/.{0,40}`.{0,20}/g);
		expect(text, files[i]).toBe(null);
	}
});

describe("a plan's text cannot become markup", () => {
	const corpus = [
		"<script>alert(1)</script>",
		'"><img src=x onerror=alert(1)>',
		"</title><svg onload=alert(1)>",
		"'-alert(1)-'",
		"{{7*7}}",
		"javascript:alert(1)",
		"<style>*{display:none}</style>",
		"</script><script>alert(1)</script>",
		"&lt;b&gt;",
		"\u202e evil",
		"<!-- -->",
		"]]>",
	];
	test.each(corpus)("%s", (text) => {
		const quoted = JSON.stringify(text);
		const html = pageBody(
			viewOf(
				planWith({
					plan: `title: ${quoted}\nsummary: ${quoted}`,
					site: `name: ${quoted}\nlatitude: 32.4123 S\nlongitude: 54.3622 W\nlandmarks: [{ name: ${quoted}, latitude: 32.5 S, longitude: 54.3 W }]\nopenings: [{ name: ${quoted}, outline: [[100, 0], [140, 0], [120, 50]] }]`,
					targets: `- name: ${quoted}\n  aim: galactic-centre\n  exposure: 60 s`,
					method: `kind: landmark-bearing\nlandmark: ${quoted}`,
					note: `- ${quoted}`,
				}),
			),
		);
		// Tags and attributes as a browser reads them: none that the page itself does not write.
		const tags = [...html.matchAll(/<\/?([a-zA-Z!][\w-]*)((?:\s+[\w:-]+(?:="[^"]*")?)*)\s*\/?(>?)/g)];
		expect(html.split("<").length - 1).toBe(tags.length);
		const allowed = new Set(
			"header div dl dt dd strong em code br h1 h2 h3 p button section svg g text line path circle ellipse rect clipPath use tspan table caption tbody thead tr td th ul li ol span label input output details summary figure figcaption title desc radialGradient stop mask".split(
				" ",
			),
		);
		expect(tags.flatMap(([, name]) => (allowed.has(name as string) ? [] : [name]))).toEqual([]);
		const attributes = tags.flatMap(([, , list]) =>
			[...(list ?? "").replaceAll(/ href="#sky-\w+"/g, "").matchAll(/\s([\w:-]+)(?==|\s|$)(?:="[^"]*")?/g)].map(
				([, name]) => name as string,
			),
		);
		expect(attributes.filter((name) => /^on|href|src|style|srcdoc/i.test(name))).toEqual([]);
	});
});

describe("a new plan", () => {
	test.each([
		[-44.1, 170.4, "2027-07-03"],
		[46.6, 12.1, "2027-10-01"],
		[0.1, 37, "2027-05-07"],
		[69.6, 18.9, "2027-01-10"],
		[36.9, -111.4, "2028-04-01"],
		[-33.9, 151.2, "2027-12-24"],
	])("at %d, %d on %s checks clean", (latitude, longitude, date) => {
		expect(codesOf(newPlanText({ title: 'A "night"', site: "Here", latitude, longitude, date }))).toEqual([]);
	});

	test.each([
		["60 mm", "2.8", "full-frame", "6000 x 4000", "ball"],
		["14 mm", "1.8", "aps-c", "6240 x 4160", "wedge"],
		["200 mm", "4", "micro-four-thirds", "5184 x 3888", "geared"],
	])("with a kit of %s f/%s, with a tracker and without one", (focal, fNumber, sensor, pixels, head) => {
		const kit = { "focal-length": focal, "f-number": fNumber, sensor, pixels, head };
		const wanted = { title: "A", site: "Here", latitude: 46.6, longitude: 12.1, date: "2027-10-01", kit };
		const [tracked, still] = [newPlanText(wanted), newPlanText({ ...wanted, tracked: false })];
		for (const text of [tracked, still]) {
			expect(text).toContain(`focal-length: ${focal}\n  f-number: ${fNumber}\n`);
			const found = checkText(text).filter(({ severity }) => severity !== "info");
			expect(found, text).toEqual([]);
		}
		expect(tracked).toContain(`head: ${head}\n---\nmethod:`);
		expect(tracked).not.toContain("±");
		expect(still).not.toMatch(/^(?:tracker|method):/m);
		expect(still).toContain("tracked: false");
	});

	test("a midsummer night without darkness says that and nothing else", () => {
		expect(
			codesOf(newPlanText({ title: "A", site: "Skerry", latitude: 69.6, longitude: 18.9, date: "2027-06-20" })),
		).toEqual(["night/no-darkness"]);
	});
});

describe("the dial of a pole scope", () => {
	const view = viewOf(readFileSync(new URL("../../samples/larch-clearing.lode.yaml", import.meta.url), "utf8"));
	const dial = view.alignment?.dial;

	test("has the star where the method's steps and its hour angle have it (Meeus, ch. 13: anticlockwise in the north)", () => {
		const evaluation = evaluateText(
			readFileSync(new URL("../../samples/larch-clearing.lode.yaml", import.meta.url), "utf8"),
		);
		const setUp = evaluation.aligned?.setUp;
		const star = findBody("Polaris");
		if (!dial || !setUp || setUp.at === undefined || !star || !evaluation.site) throw new Error("no dial");
		const { hourAngle } = equatorialPlace(star, evaluation.site.spot, setUp.at);
		// Above the pole at hour angle 0, then to the left of it.
		expect(Math.abs(halfTurn(dial.hours * 30 + hourAngle))).toBeLessThan(1.5);
		expect(view.methods[0]?.steps.some(({ number }) => number === dial.upright.place)).toBe(true);
		const [x, y] = onRing(dial.hours, 88);
		expect(Math.atan2(x - 150, 128 - y) * (180 / Math.PI)).toBeCloseTo(halfTurn(dial.hours * 30), 0);
		const drawn = renderToString(h(PoleDial, { view: dial }));
		expect(drawn).toContain(`upright: ${dial.upright.place} on the dial (${dial.upright.angle})`);
		expect(drawn).toContain(`cx="${x}" cy="${y}"`);
	});

	test("counts clockwise from the top, half a turn on through an inverting scope", () => {
		expect(onRing(0, 10)).toEqual([150, 118]);
		expect(onRing(3, 10)).toEqual([160, 128]);
		expect(onRing(9, 10)).toEqual([140, 128]);
		const [upright, inverted] = [dial?.upright.angle, dial?.inverted.angle].map((angle) => parseInt(angle ?? "", 10));
		expect(inverted).toBe(((upright ?? 0) + 180) % 360);
	});
});

describe("the all-sky chart", () => {
	test("no body's name is cut at the rim, at any time of any sample's evening", () => {
		const folder = new URL("../../samples/", import.meta.url);
		const cut: string[] = [];
		let names = 0;
		for (const file of readdirSync(folder).filter((one) => one.endsWith(".lode.yaml"))) {
			const evaluation = evaluateText(readFileSync(new URL(file, folder), "utf8"));
			const { panorama } = pageView(evaluation, []);
			if (!panorama || !evaluation.night) continue;
			const { from: start, until: end } = evaluation.night.onSite;
			for (let at = start; at <= end; at += 10 * 60_000) {
				const { labels } = chartMarksAt(panorama, "pole", at);
				for (const label of labels.slice(panorama.places.length, -1)) {
					if (!label) continue;
					names++;
					const ends = label.isRight
						? [label.x - 7 * label.name.length, label.x]
						: [label.x, label.x + 7 * label.name.length];
					for (const x of ends)
						if (Math.hypot(x - 150, label.y - 4 - 150) >= 126)
							cut.push(`${file} ${new Date(at).toISOString()} ${label.name}`);
				}
			}
		}
		expect(cut).toEqual([]);
		expect(names).toBeGreaterThan(500);
	});

	const panorama = viewOf(sample).panorama;
	const site = evaluateText(sample).site;
	if (!panorama || !site) throw new Error("no sky");

	test("is seen from below: who faces south has south at the bottom and east on the left, who faces north has it on the right", () => {
		expect(onChart(180, { azimuth: 180, altitude: 0 })).toEqual([150, 276]);
		expect(onChart(180, { azimuth: 90, altitude: 0 })).toEqual([24, 150]);
		expect(onChart(0, { azimuth: 0, altitude: 0 })).toEqual([150, 276]);
		expect(onChart(0, { azimuth: 90, altitude: 0 })).toEqual([276, 150]);
		expect(onChart(0, { azimuth: 233, altitude: 90 })).toEqual([150, 150]);
		// Facing the side that a body is over, up toward the zenith is up on the chart; behind one's back it is down.
		expect(Math.abs(turnOnChart(180, { azimuth: 180, altitude: 30 }))).toBeCloseTo(0, 5);
		expect(turnOnChart(180, { azimuth: 90, altitude: 30 })).toBeCloseTo(90, 5);
		expect(panorama.says.chart).toContain(
			"face north and hold it overhead with north at the bottom, so that east is on the right",
		);
	});

	test("has the bright stars where they are computed, and none from below the horizon", () => {
		const drawn = renderToString(h(AllSky, { view: panorama }));
		const dots = [...drawn.matchAll(/M([\d.]+) ([\d.]+)h0/g)].map(([, x, y]) => [Number(x), Number(y)] as const);
		expect(dots.length).toBeGreaterThan(200);
		for (const [x, y] of dots) expect(Math.hypot(x - 150, y - 150)).toBeLessThan(126.2);
		for (const name of ["Spica", "Antares", "Arcturus", "Canopus"]) {
			const body = findBody(name);
			if (!body) throw new Error(name);
			const direction = apparentDirection(body, site.spot, panorama.at);
			if (direction.altitude < 1) continue;
			const [x, y] = onChart(0, direction);
			expect(Math.min(...dots.map((one) => Math.hypot(one[0] - x, one[1] - y))), name).toBeLessThan(0.3);
		}
		expect(drawn).not.toMatch(/NaN|undefined/);
	});
});
