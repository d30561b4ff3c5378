/** The clock slider: it turns the sky of the panorama and moves the mark on the timeline. */
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
import { byId } from "./by-id.ts";

/** Pixels from which on the faint stars are drawn: as in the style. */
const WIDE = 980;

/** Turns the sky of the panorama to an instant. */
export function showTime(at: number): void {
	const panorama = byId("panorama");
	const slider = byId("time") as HTMLInputElement | null;
	const source = panorama?.dataset.sky;
	if (!panorama || !slider || !source) return;
	const sky = skyOf(source);
	const { frame } = sky;
	const time = Math.min(Math.max(at, sky.from), sky.until);
	slider.value = String(time);
	const clock = new Date(Math.round((time + sky.offset) / 60_000) * 60_000).toISOString().slice(11, 16);
	const output = byId("clock");
	if (output) output.textContent = clock;
	slider.setAttribute("aria-valuetext", clock);
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
	for (const mark of panorama.querySelectorAll<SVGElement>(".place"))
		mark.setAttribute(
			"transform",
			`translate(${markAt(frame, JSON.parse(mark.dataset.place ?? "[0,0]") as SkyPlace, time)})`,
		);
	for (const edge of panorama.querySelectorAll<SVGElement>(".frame[data-places]"))
		edge.setAttribute("d", outlineAt(frame, JSON.parse(edge.dataset.places ?? "[]") as SkyPlace[], time));
	for (const body of panorama.querySelectorAll<SVGElement>(".body")) {
		const { points = [], tilts } = sky.bodies.find(({ name }) => name === body.dataset.name) ?? {};
		const seen = between(points, time);
		const place = seen && seen.altitude > -3 ? `${xOf(frame, seen.azimuth)},${yOf(frame, seen.altitude)}` : "-999,-999";
		body.setAttribute("transform", `translate(${place})`);
		if (tilts) body.querySelector(".lit")?.setAttribute("transform", `rotate(${tiltAt(points, tilts, time)})`);
	}
	const timeline = byId("timeline");
	const now = byId("now");
	if (timeline && now) {
		const { from = "0", until = "1" } = timeline.dataset;
		const share = (100 * (time - Number(from))) / (Number(until) - Number(from));
		now.setAttribute("x1", `${share}%`);
		now.setAttribute("x2", `${share}%`);
	}
}

interface SkyData {
	readonly frame: PanoramaFrame;
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
	readonly offset: number;
}

let parsed: { readonly source: string; readonly sky: SkyData } | undefined;

/** What the panorama is drawn from; read once, however often the slider moves. */
function skyOf(source: string): SkyData {
	if (parsed?.source !== source) parsed = { source, sky: JSON.parse(source) as SkyData };
	return parsed.sky;
}
