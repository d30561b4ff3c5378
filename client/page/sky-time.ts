/** The clock slider: it turns the sky of the panorama and moves the mark on the timeline. */

import {
	type ChartLabel,
	chartAreaAt,
	chartLinesAt,
	chartMarksAt,
	chartOutlineAt,
	chartStarsAt,
	type NamedSky,
	onChart,
	turnOnChart,
} from "../../shared/outputs/page/chart-paths.ts";
import { type Box, cutIn, keptWhole, type NamePlace } from "../../shared/outputs/page/names.ts";
import { type SkySays, saidAt } from "../../shared/outputs/page/said.ts";
import {
	areaAt,
	between,
	glowAt,
	linesAt,
	markAt,
	outlineAt,
	type PanoramaFrame,
	type SkyArea,
	type SkyPlace,
	starsAt,
	tiltAt,
	xOf,
	yOf,
} from "../../shared/outputs/page/sky-paths.ts";
import { type SiteClock, siteClockText } from "../../shared/outputs/site-clock.ts";
import type { Direction } from "../../shared/sky/horizontal.ts";
import { byId } from "./by-id.ts";

/** Pixels from which on the faint stars are drawn, and the view is in one part; from which on it is in two: as in the style. */
const WIDE = 980;
const HALVES = 490;

/**
 * Turns the sky where the reader has moved the slider or switched the constellation lines, and gives the instant that is
 * shown then; undefined where something else was used.
 */
export function showChosen(used: EventTarget | null): number | undefined {
	const slider = byId("time");
	if (!(slider instanceof HTMLInputElement) || (used !== slider && used !== byId("figures"))) return undefined;
	const time = Number(slider.value);
	showTime(time);
	return time;
}

/** Turns the sky of the panorama and of the all-sky chart to an instant. */
export function showTime(at: number): void {
	const panorama = byId("panorama");
	const slider = byId("time") as HTMLInputElement | null;
	const source = panorama?.dataset.sky;
	if (!panorama || !slider || !source) return;
	const sky = skyOf(source);
	const { frame } = sky;
	const time = Math.min(Math.max(at, sky.from), sky.until);
	slider.value = String(time);
	const clock = siteClockText(sky.clock, time);
	const output = byId("clock");
	if (output) output.textContent = clock;
	slider.setAttribute("aria-valuetext", clock);
	const said = saidAt(sky.says, frame, clock, time);
	panorama.setAttribute("aria-label", said.view);
	say(panorama.querySelector(".whole > desc"), said.view);
	say(document.querySelector(".all-sky desc"), said.chart);
	panorama.querySelectorAll<SVGElement>(".milky-way").forEach((part, i) => {
		const area = sky.milkyWay[i];
		if (area) part.setAttribute("d", areaAt(frame, area, time));
	});
	// What the width does not bear need not be moved.
	const isWide = panorama.clientWidth >= WIDE;
	panorama.querySelectorAll<SVGElement>(".stars").forEach((dots, i) => {
		if (isWide || !dots.classList.contains("faint")) dots.setAttribute("d", starsAt(frame, sky.stars[i] ?? [], time));
	});
	const areFigures = (byId("figures") as HTMLInputElement | null)?.checked === true;
	panorama.querySelector(".figures")?.setAttribute("d", areFigures ? linesAt(frame, sky.figures, time) : "");
	const sun = between(sky.sun, time);
	const glow = byId("glow");
	if (sun && glow) {
		glow.setAttribute("opacity", String(glowAt(sun.altitude)));
		glow.setAttribute("transform", `translate(${Math.round(xOf(frame, sun.azimuth))},0)`);
	}
	const parts = cutIn({ frame, height: Number.POSITIVE_INFINITY }, isWide ? 1 : panorama.clientWidth >= HALVES ? 2 : 4);
	panorama.querySelectorAll(".place").forEach((mark, i) => {
		const { place } = sky.places[i] ?? {};
		if (!place) return;
		const at = markAt(frame, place, time);
		mark.setAttribute("transform", `translate(${at})`);
		keepName(mark, at.split(","), parts);
	});
	panorama.querySelectorAll(".frame").forEach((edge, i) => {
		edge.setAttribute("d", outlineAt(frame, sky.edges[i] ?? [], time));
	});
	for (const body of panorama.querySelectorAll<SVGElement>(".body")) {
		const { points = [], tilts } = sky.bodies.find(({ name }) => name === body.dataset.name) ?? {};
		const seen = between(points, time);
		const place = seen && seen.altitude > -3 ? `${xOf(frame, seen.azimuth)},${yOf(frame, seen.altitude)}` : AWAY;
		body.setAttribute("transform", `translate(${place})`);
		keepName(body, place.split(","), parts);
		if (tilts) body.querySelector(".lit")?.setAttribute("transform", `rotate(${tiltAt(points, tilts, time)})`);
	}
	turnChart(sky, time, areFigures);
	const timeline = byId("timeline");
	const now = byId("now");
	if (timeline && now) {
		const { from = "0", until = "1" } = timeline.dataset;
		const share = (100 * (time - Number(from))) / (Number(until) - Number(from));
		now.setAttribute("x1", `${share}%`);
		now.setAttribute("x2", `${share}%`);
	}
}

function say(place: Element | null, text: string): void {
	if (place) place.textContent = text;
}

/** Writes a name on the other side of its mark where it would be cut. */
function keepName(mark: Element, [x, y]: readonly string[], windows: readonly Box[]): void {
	const name = mark.querySelector("text");
	if (!name) return;
	// Where it was put first is kept with it: a redraw takes that away with what it was.
	name.dataset.put ??= [name.getAttribute("x"), name.getAttribute("y"), name.getAttribute("text-anchor")].join();
	const [across, down, anchor] = name.dataset.put.split(",");
	const own = { x: Number(across), y: Number(down), anchor: anchor as NamePlace["anchor"] };
	const place = keptWhole(name.textContent ?? "", [Number(x), Number(y)], own, windows);
	const wanted = { x: String(place.x), y: String(place.y), "text-anchor": place.anchor };
	for (const [key, value] of Object.entries(wanted))
		if (name.getAttribute(key) !== value) name.setAttribute(key, value);
}

/** The same of the all-sky chart. */
function turnChart(sky: SkyData, time: number, areFigures: boolean): void {
	const chart = document.querySelector<HTMLElement>(".all-sky");
	if (!chart) return;
	const { frame } = sky;
	const paths = (name: string): NodeListOf<SVGElement> => chart.querySelectorAll(name);
	paths(".milky-way").forEach((part, i) => {
		const area = sky.milkyWay[i];
		if (area) part.setAttribute("d", chartAreaAt(frame, area, time));
	});
	paths(".stars").forEach((dots, i) => {
		dots.setAttribute("d", chartStarsAt(frame, sky.stars[i] ?? [], time));
	});
	paths(".figures")[0]?.setAttribute("d", areFigures ? chartLinesAt(frame, sky.figures, time) : "");
	paths(".frame").forEach((edge, i) => {
		edge.setAttribute("d", chartOutlineAt(frame, sky.edges[i] ?? [], time));
	});
	const { places, bodies, labels } = chartMarksAt(sky, chart.dataset.pole ?? "", time);
	const put = (mark: Element, direction: Direction | undefined, label: ChartLabel | undefined): void => {
		mark.setAttribute("transform", `translate(${direction ? onChart(frame.centre, direction).join(",") : AWAY})`);
		write(mark.nextElementSibling, label);
	};
	paths(".place").forEach((mark, i) => {
		put(mark, places[i], labels[i]);
	});
	paths(".body").forEach((mark, i) => {
		const direction = bodies[i];
		put(mark, direction, labels[places.length + i]);
		const { points = [], tilts } = sky.bodies[i] ?? {};
		if (direction && tilts)
			mark
				.querySelector(".lit")
				?.setAttribute(
					"transform",
					`rotate(${Math.round(tiltAt(points, tilts, time) + turnOnChart(frame.centre, direction))})`,
				);
	});
	write(chart.querySelector("svg > .label"), labels.at(-1));
}

/** Out of sight. */
const AWAY = "-999,-999";

function write(place: Element | null, label: ChartLabel | undefined): void {
	if (!place) return;
	place.textContent = label?.name ?? "";
	if (!label) return;
	place.setAttribute("x", String(label.x));
	place.setAttribute("y", String(label.y));
	place.setAttribute("text-anchor", label.isRight ? "end" : "start");
}

interface SkyData extends NamedSky {
	readonly frame: PanoramaFrame;
	/** Edges of the frames that turn with the sky. */
	readonly edges: readonly (readonly SkyPlace[])[];
	readonly milkyWay: readonly SkyArea[];
	readonly figures: readonly (readonly number[])[];
	readonly sun: readonly (readonly [number, number, number])[];
	readonly bodies: readonly {
		readonly name: string;
		readonly points: readonly (readonly [number, number, number])[];
		readonly tilts?: readonly number[];
	}[];
	/** By the classes of brightness that are drawn: right ascension and declination in turn. */
	readonly stars: readonly (readonly number[])[];
	readonly from: number;
	readonly until: number;
	readonly clock: SiteClock;
	readonly says: SkySays;
}

let parsed: { readonly source: string; readonly sky: SkyData } | undefined;

/** What the panorama is drawn from; read once, however often the slider moves. */
function skyOf(source: string): SkyData {
	if (parsed?.source !== source) parsed = { source, sky: JSON.parse(source) as SkyData };
	return parsed.sky;
}
