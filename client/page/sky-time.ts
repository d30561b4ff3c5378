/** The clock slider: it turns the sky of the panorama and moves the mark on the timeline. */
import {
	bandAt,
	between,
	markAt,
	outlineAt,
	type PanoramaFrame,
	type SkyPlace,
	starsAt,
	tiltAt,
	xOf,
	yOf,
} from "../../shared/outputs/page/sky-paths.ts";
import { byId } from "./by-id.ts";

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
	byId("milky-way")?.setAttribute("d", bandAt(frame, sky.milkyWay, time));
	panorama.querySelectorAll<SVGElement>(".stars").forEach((dots, i) => {
		dots.setAttribute("d", starsAt(frame, sky.stars[i] ?? [], time));
	});
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
	readonly milkyWay: readonly (readonly [SkyPlace, SkyPlace])[];
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
