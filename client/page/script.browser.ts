/**
 * The page's script, the same in the editor's webview and in the file on disk: the time slider that turns the sky, the
 * dim red mode, and in the editor the patches, the cursor and the clicks. Nothing is fetched.
 */
import morphdom from "morphdom";
import {
	bandAt,
	between,
	markAt,
	outlineAt,
	type PanoramaFrame,
	type SkyPlace,
	xOf,
	yOf,
} from "../../shared/outputs/page/sky-paths.ts";
import type { FromPage, ToPage } from "../../shared/protocol/page.ts";

interface SkyData {
	readonly frame: PanoramaFrame;
	readonly milkyWay: readonly (readonly [SkyPlace, SkyPlace])[];
	readonly bodies: readonly {
		readonly name: string;
		readonly points: readonly (readonly [number, number, number])[];
	}[];
	readonly from: number;
	readonly until: number;
	readonly offset: number;
}

interface Editor {
	postMessage(message: FromPage): void;
	getState(): State | undefined;
	setState(state: State): void;
}
interface State {
	time?: number;
	dim?: boolean;
	scroll?: number;
	open?: readonly string[];
}

declare const acquireVsCodeApi: (() => Editor) | undefined;

const editor = typeof acquireVsCodeApi === "function" ? acquireVsCodeApi() : undefined;
let state: State = editor?.getState() ?? {};

function remember(change: State): void {
	state = { ...state, ...change };
	editor?.setState(state);
}

const byId = (id: string): HTMLElement | null => document.getElementById(id);

/** Turns the sky of the panorama to an instant. */
function showTime(at: number): void {
	const panorama = byId("panorama");
	const slider = byId("time") as HTMLInputElement | null;
	const source = panorama?.dataset.sky;
	if (!panorama || !slider || !source) return;
	const sky = JSON.parse(source) as SkyData;
	const { frame } = sky;
	const time = Math.min(Math.max(at, sky.from), sky.until);
	slider.value = String(time);
	const clock = new Date(Math.round((time + sky.offset) / 60_000) * 60_000).toISOString().slice(11, 16);
	const output = byId("clock");
	if (output) output.textContent = clock;
	slider.setAttribute("aria-valuetext", clock);
	byId("milky-way")?.setAttribute("d", bandAt(frame, sky.milkyWay, time));
	for (const mark of panorama.querySelectorAll<SVGElement>(".place"))
		mark.setAttribute(
			"transform",
			`translate(${markAt(frame, JSON.parse(mark.dataset.place ?? "[0,0]") as SkyPlace, time)})`,
		);
	for (const edge of panorama.querySelectorAll<SVGElement>(".frame[data-places]"))
		edge.setAttribute("d", outlineAt(frame, JSON.parse(edge.dataset.places ?? "[]") as SkyPlace[], time));
	for (const body of panorama.querySelectorAll<SVGElement>(".body")) {
		const points = sky.bodies.find(({ name }) => name === body.dataset.name)?.points ?? [];
		const seen = between(points, time);
		const place = seen && seen.altitude > -3 ? `${xOf(frame, seen.azimuth)},${yOf(frame, seen.altitude)}` : "-999,-999";
		body.setAttribute("transform", `translate(${place})`);
	}
	const timeline = byId("timeline");
	const now = byId("now");
	if (timeline && now) {
		const { from = "0", until = "1", left = "0", right = "1" } = timeline.dataset;
		const x = Number(left) + ((Number(right) - Number(left)) * (time - Number(from))) / (Number(until) - Number(from));
		now.setAttribute("x1", String(x));
		now.setAttribute("x2", String(x));
	}
}

function showDim(dim: boolean): void {
	if (dim) document.documentElement.dataset.mode = "dim";
	else delete document.documentElement.dataset.mode;
	byId("dim")?.setAttribute("aria-pressed", String(dim));
}

/** Puts everything that is not in the page's text back: slider, mode, open tables. */
function restore(): void {
	showDim(state.dim === true);
	const slider = byId("time") as HTMLInputElement | null;
	if (slider) showTime(state.time ?? Number(slider.value));
	for (const details of document.querySelectorAll("details"))
		if (state.open?.includes(nameOf(details))) details.open = true;
}

const nameOf = (details: HTMLDetailsElement): string => details.querySelector("summary")?.textContent ?? "";

document.addEventListener("input", ({ target }) => {
	if ((target as HTMLElement).id !== "time") return;
	const time = Number((target as HTMLInputElement).value);
	remember({ time });
	showTime(time);
});

document.addEventListener("click", ({ target }) => {
	const element = target as Element;
	if (element.closest("#dim")) {
		remember({ dim: state.dim !== true });
		showDim(state.dim === true);
		return;
	}
	const line = element.closest<HTMLElement | SVGElement>("[data-line]")?.dataset.line;
	if (line !== undefined && editor) editor.postMessage({ type: "reveal", line: Number(line) });
});

document.addEventListener(
	"toggle",
	() => remember({ open: [...document.querySelectorAll("details")].filter(({ open }) => open).map(nameOf) }),
	true,
);

if (editor) {
	let scrolling: ReturnType<typeof setTimeout> | undefined;
	addEventListener("scroll", () => {
		clearTimeout(scrolling);
		scrolling = setTimeout(() => remember({ scroll: scrollY }), 100);
	});
	addEventListener("message", ({ data }: MessageEvent<ToPage>) => {
		if (data.type === "page") update(data.html, data.stale);
		if (data.type === "cursor") follow(data.line);
	});
	editor.postMessage({ type: "ready" });
}

/** Patches what changed; on a broken plan the last good picture stays, with a banner. */
function update(html: string, stale: string): void {
	const page = byId("page");
	if (!page) return;
	const first = page.childElementCount === 0;
	if (html !== "") {
		const next = document.createElement("main");
		next.id = "page";
		next.innerHTML = html;
		morphdom(page, next, {
			onBeforeElUpdated: (from, to) => {
				// What the reader has opened stays open.
				if (from instanceof HTMLDetailsElement && from.open) (to as HTMLDetailsElement).open = true;
				return !from.isEqualNode(to);
			},
		});
	}
	const banner = byId("banner");
	if (banner) {
		banner.hidden = stale === "";
		banner.textContent = stale;
	}
	restore();
	if (first && state.scroll !== undefined) scrollTo(0, state.scroll);
}

/** Scrolls to what belongs to the cursor's cell, if it is not in view. */
function follow(line: number): void {
	const sections = [...document.querySelectorAll<HTMLElement>("section[data-line], details[data-line]")];
	const section = sections
		.filter(({ dataset }) => Number(dataset.line) <= line)
		.sort((a, b) => Number(b.dataset.line) - Number(a.dataset.line))[0];
	if (!section) return;
	const { top, bottom } = section.getBoundingClientRect();
	if (bottom < 0 || top > innerHeight) section.scrollIntoView({ block: "start" });
}

restore();
