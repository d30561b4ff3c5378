/**
 * The page's script, the same in the editor's webview and in the file on disk: the time slider that turns the sky, the
 * dim red mode, and in the editor the patches, the cursor and the clicks. Nothing is fetched.
 */
import type { FromPage, PreviewState, ToPage } from "../../shared/protocol/page.ts";
import { byId } from "./by-id.ts";
import { cardAt, practise } from "./card.browser.ts";
import { keepFocus } from "./focus.ts";
import { patchElement } from "./patch.ts";
import { showChosen, showTime } from "./sky-time.ts";
import { makeNightButtons, moveNight, nightAt, sayNight } from "./year.browser.ts";

interface Editor {
	postMessage(message: FromPage): void;
	getState(): State | undefined;
	setState(state: State): void;
}

/** How the reader has left a plan's page. */
interface PlanState {
	readonly time?: number;
	readonly scroll?: number;
	/** Details that are open, by their summaries. */
	readonly open?: readonly string[];
}

/** What outlives the page: while it is hidden, and over a reload of the window. */
interface State extends PreviewState {
	/** By the plan's URI; the one shown last is the last. */
	readonly plans?: Readonly<Record<string, PlanState>>;
}

/** Plans whose pages are remembered as they were left. */
const MOST_PLANS = 30;

declare const acquireVsCodeApi: (() => Editor) | undefined;

const editor = typeof acquireVsCodeApi === "function" ? acquireVsCodeApi() : undefined;
let state: State = editor?.getState() ?? {};

/** The plan whose page is shown; a file on disk has no need of a name. */
let shownPlan = "";

function remember(change: State): void {
	state = { ...state, ...change };
	editor?.setState(state);
}

const planState = (): PlanState => state.plans?.[shownPlan] ?? {};

function rememberOfPlan(change: PlanState): void {
	const { [shownPlan]: before, ...others } = state.plans ?? {};
	const kept = Object.entries(others).slice(1 - MOST_PLANS);
	remember({ plans: { ...Object.fromEntries(kept), [shownPlan]: { ...before, ...change } } });
}

interface NextStep {
	readonly at: number;
	readonly until: number;
	readonly text: string;
}

/** On the evening itself the next step is the one that is next by the clock; before and after it the first. */
function showNext(): void {
	const place = byId("next");
	if (!place) return;
	const steps = JSON.parse(place.dataset.steps ?? "[]") as NextStep[];
	const now = Date.now();
	const isOn = now >= (steps[0]?.at ?? 0) && now < (steps.at(-1)?.until ?? 0);
	const step = (isOn && steps.find(({ at }) => at > now)) || (isOn ? steps.at(-1) : steps[0]);
	if (step && place.textContent !== step.text) place.textContent = step.text;
}

/** How often the clock is looked at. */
const CLOCK_MS = 5_000;
setInterval(() => {
	showNext();
	showCard();
}, CLOCK_MS);

/** The card by its clock; dim red from dusk, unless the reader has switched. */
function showCard(): void {
	const dusk = cardAt();
	if (dusk !== undefined && !isDimChosen) showDim(dusk);
}

const isDim = (): boolean => document.documentElement.dataset.mode === "dim";

function showDim(dim: boolean): void {
	if (dim) document.documentElement.dataset.mode = "dim";
	else delete document.documentElement.dataset.mode;
	byId("dim")?.setAttribute("aria-pressed", String(dim));
}

/** Where a page on disk keeps the mode; some browsers give a file no storage. */
const DIM = "lodebook.dim";

/** Whether the reader has switched the mode since the page was opened. */
let isDimChosen = false;

function keptDim(): boolean {
	try {
		return localStorage.getItem(DIM) === "true";
	} catch {
		return false;
	}
}

function keepDim(dim: boolean): void {
	if (editor) editor.postMessage({ type: "dim", dim });
	else
		try {
			localStorage.setItem(DIM, String(dim));
		} catch {
			// Then it holds for as long as the page is open.
		}
}

/** Puts everything that is not in the page's text back: slider, mode, open tables, and what can be clicked. */
function restore(): void {
	showDim(isDim());
	showNext();
	showCard();
	const { time, open } = planState();
	const slider = byId("time") as HTMLInputElement | null;
	if (slider) showTime(time ?? Number(slider.value));
	for (const details of document.querySelectorAll("details")) if (open?.includes(nameOf(details))) details.open = true;
	if (editor) for (const place of document.querySelectorAll<HTMLElement | SVGElement>("[data-go]")) makeLink(place);
}

/** What goes to a line of the plan: by mouse and by keyboard, and said to be a link. A page of before goes nowhere. */
function makeLink(place: HTMLElement | SVGElement): void {
	if (place.closest("#page") && document.body.classList.contains("stale")) return;
	place.setAttribute("role", "link");
	place.setAttribute("tabindex", "0");
	place.classList.add("go");
}

const nameOf = (details: HTMLDetailsElement): string => details.querySelector("summary")?.textContent ?? "";

document.addEventListener("input", ({ target }) => {
	if (practise(target as HTMLElement)) showCard();
	const time = showChosen(target);
	if (time !== undefined) rememberOfPlan({ time });
});

/** Goes to the line of what was chosen, if it is a link. */
function go(target: EventTarget | null): boolean {
	const line = (target as Element | null)?.closest<HTMLElement | SVGElement>("[data-go][role=link]")?.dataset.go;
	if (line === undefined || !editor) return false;
	editor.postMessage({ type: "reveal", line: Number(line) });
	return true;
}

/** Asks for the nights of a year, or takes the one that was chosen. */
function chooses(target: EventTarget | null): boolean {
	const date = nightAt(target);
	if (date !== undefined) editor?.postMessage({ type: "night", date });
	else if ((target as Element).closest("#compare-nights")) editor?.postMessage({ type: "nights" });
	else return false;
	return true;
}

document.addEventListener("click", ({ target }) => {
	if (practise(target as HTMLElement)) showCard();
	if (!(target as Element).closest("#dim")) {
		if (!chooses(target)) go(target);
		return;
	}
	isDimChosen = true;
	showDim(!isDim());
	keepDim(isDim());
});

document.addEventListener("keydown", (event) => {
	const { key, target } = event;
	const isEnter = key === "Enter" || key === " ";
	if (moveNight(key, target) || (isEnter && ((nightAt(target) !== undefined && chooses(target)) || go(target))))
		event.preventDefault();
});

document.addEventListener(
	"toggle",
	() => rememberOfPlan({ open: [...document.querySelectorAll("details")].filter(({ open }) => open).map(nameOf) }),
	true,
);

if (editor) {
	let scrolling: ReturnType<typeof setTimeout> | undefined;
	addEventListener("scroll", () => {
		clearTimeout(scrolling);
		// An empty page has no place that one could have left.
		scrolling = setTimeout(() => byId("page")?.childElementCount && rememberOfPlan({ scroll: scrollY }), 100);
	});
	addEventListener("message", ({ data }: MessageEvent<ToPage>) => {
		if (data.type === "page") update(data);
		if (data.type === "nights") showNights(data);
		if (data.type === "cursor") follow(data.line);
	});
	for (const type of ["pointerover", "focusin"]) addEventListener(type, ({ target }) => sayNight(target));
	editor.postMessage({ type: "ready" });
} else if (!byId("card")) showDim(keptDim());

/** Patches what changed. The last page of a plan that cannot be drawn now stays, grey, under its findings and a banner. */
function update({ plan, title, locked, html, instead, banner }: Extract<ToPage, { type: "page" }>): void {
	document.title = title;
	const isOther = plan !== shownPlan;
	const isFirst = isOther || (byId("page")?.childElementCount ?? 0) === 0;
	const { scroll } = state.plans?.[plan] ?? {};
	shownPlan = plan;
	remember({ plan, locked });
	keepFocus(document, () => {
		patch("instead", instead);
		if (html !== "" || isOther) patch("page", html);
		document.body.classList.toggle("stale", banner !== "");
		const bar = byId("banner");
		if (bar) {
			bar.hidden = banner === "";
			bar.textContent = banner;
		}
		restore();
	});
	if (isFirst && html !== "") scrollTo(0, scroll ?? 0);
}

/** The nights of a year: of a plan that has changed since they are grey, and none can be chosen. */
function showNights({ html, says, isCurrent }: Extract<ToPage, { type: "nights" }>): void {
	const focused = nightAt(document.activeElement);
	// Asked for by a command, it may lie far below what is seen.
	if (says !== "" && byId("nights")?.childElementCount === 0) byId("nights-say")?.scrollIntoView({ block: "center" });
	const status = byId("nights-say");
	if (status) status.textContent = says;
	patch("nights", html);
	byId("nights")?.classList.toggle("old", !isCurrent);
	if (html === "") byId("night-says")?.replaceChildren();
	if (!isCurrent) return;
	makeNightButtons();
	if (focused !== undefined) byId("nights")?.querySelector<SVGElement>(`[data-night="${focused}"]`)?.focus();
}

function patch(id: string, html: string): void {
	const old = byId(id);
	if (!old) return;
	const next = old.cloneNode(false) as HTMLElement;
	next.innerHTML = html;
	patchElement(old, next);
}

/** Scrolls to what belongs to the cursor's cell or entry, if it is not in view. */
function follow(line: number): void {
	const places = [...document.querySelectorAll<HTMLElement>("#page [data-line]")];
	const nearest = Math.max(...places.map(({ dataset }) => Number(dataset.line)).filter((one) => one <= line));
	const place = places.find(({ dataset }) => Number(dataset.line) === nearest);
	if (!place) return;
	const { top, bottom } = place.getBoundingClientRect();
	if (bottom < 0 || top > innerHeight) place.scrollIntoView({ block: "start" });
}

restore();
