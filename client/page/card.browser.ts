/** The card by the clock: what is on and next, the numbers of this minute; and by a clock of its own to practise with. */
import {
	dueAt,
	isDusk,
	type LiveMinutes,
	minuteMoment,
	momentOf,
	rowAt,
	type TimedStep,
} from "../../shared/outputs/card/live.ts";
import { type SiteClock, siteClockText } from "../../shared/outputs/site-clock.ts";

interface CardStep extends TimedStep {
	readonly now: string;
	readonly next: string;
	readonly about: string;
}

interface PanelTurn {
	readonly at: number;
	readonly until: number;
	readonly say: string;
}

const byId = (id: string): HTMLElement | null => document.getElementById(id);

function say(place: Element | null, text: string): void {
	if (place && place.textContent !== text) place.textContent = text;
}

/** By how much the practised time is ahead of the device's; undefined while nobody practises. */
let ahead: number | undefined;

const clock = (): number => Date.now() + (ahead ?? 0);

/** Takes what the reader did to the practice; whether it was for it. */
export function practise(target: HTMLElement): boolean {
	const step = target.closest<HTMLElement>("[data-practice]");
	const slider = byId("practice-time") as HTMLInputElement | null;
	if (target.id === "practice-stop") ahead = undefined;
	else if (target === slider) ahead = Number(slider.value) - Date.now();
	else if (step)
		ahead = (ahead === undefined ? Number(slider?.value) - Date.now() : ahead) + Number(step.dataset.practice);
	else return false;
	return true;
}

/** Shows the card at its clock. Whether it is between dusk and dawn; undefined where there is no card. */
export function cardAt(): boolean | undefined {
	const card = byId("card");
	if (!card) return undefined;
	const at = clock();
	const live = byId("live");
	if (live) {
		showSteps(card, live, at);
		showMinute(at);
		showPractice(live, at);
	}
	for (const table of card.querySelectorAll(".minutes")) {
		const rows = [...table.querySelectorAll<HTMLElement>("tr[data-at]")];
		mark(
			rows,
			rowAt(
				rows.map(({ dataset }) => Number(dataset.at)),
				at,
			),
		);
	}
	for (const table of card.querySelectorAll(".panels")) {
		const rows = [...table.querySelectorAll<HTMLElement>("tr[data-due]")];
		const turns = rows.map(({ dataset }) => ({ at: Number(dataset.due), until: Number(dataset.until) }));
		mark(rows, dueAt(turns, at));
	}
	return isDusk(Number(card.dataset.dusk), Number(card.dataset.dawn), at);
}

/** The time at the site, to the minute that has begun, as a watch shows it. */
const siteTime = ({ dataset }: HTMLElement, at: number): string =>
	siteClockText(JSON.parse(dataset.clock ?? "") as SiteClock, Math.floor(at / 60_000) * 60_000);

function showSteps(card: HTMLElement, live: HTMLElement, at: number): void {
	const steps = JSON.parse(live.dataset.steps ?? "[]") as CardStep[];
	const { now, next, minutes } = momentOf(steps, at);
	const [on, then] = [steps[now ?? -1], steps[next ?? -1] ?? (now === undefined ? steps[0] : undefined)];
	say(byId("live-clock"), (live.dataset.site ?? "").replace("{time}", siteTime(live, at)));
	say(byId("live-now"), on?.now ?? "");
	say(byId("live-now-about"), on?.about ?? "");
	const panels = JSON.parse(live.dataset.panels ?? "[]") as PanelTurn[];
	say(byId("live-panel"), panels[dueAt(panels, at) ?? -1]?.say ?? "");
	say(byId("live-next"), then?.next ?? "");
	say(byId("live-next-about"), then?.about ?? "");
	const { wait = "", waitLong = "" } = live.dataset;
	say(
		byId("live-wait"),
		minutes === undefined
			? ""
			: (minutes < 100 ? wait : waitLong)
					.replace("{hours}", String(Math.floor(minutes / 60)))
					.replace("{minutes}", minutes < 100 ? String(minutes) : String(minutes % 60).padStart(2, "0")),
	);
	mark(card.querySelectorAll(".evening tr"), now);
}

/** Marks one of several parts as that of now. */
function mark(parts: Iterable<Element>, place: number | undefined): void {
	[...parts].forEach((part, i) => {
		if (i === place) part.setAttribute("aria-current", "time");
		else part.removeAttribute("aria-current");
	});
}

/** The numbers of this minute and the next, a column each. */
function showMinute(at: number): void {
	const place = byId("minute");
	if (!place) return;
	const minutes = JSON.parse(place.dataset.minutes ?? "{}") as LiveMinutes;
	const { rows, late } = minuteMoment(minutes, at);
	const columns = rows.map((row) => minutes.rows[row]);
	place.hidden = columns.length === 0;
	[...place.querySelectorAll("tr")].forEach((line, i) => {
		[...line.querySelectorAll("td")].forEach((cell, column) => {
			const text = columns[column]?.[i + 1] ?? "";
			// The same in both minutes is said once.
			say(cell, String(column > 0 && text === columns[0]?.[i + 1] ? "" : text));
		});
	});
	const said = { minutes: String(late), time: String(columns[0]?.[1] ?? "") };
	say(
		byId("late"),
		late === 0 ? "" : (place.dataset.late ?? "").replace("{minutes}", said.minutes).replace("{time}", said.time),
	);
}

/** The banner while somebody practises, and the slider where the clock is. */
function showPractice(live: HTMLElement, at: number): void {
	const [banner, part, slider] = [
		byId("practising"),
		byId("practice"),
		byId("practice-time") as HTMLInputElement | null,
	];
	if (!banner || !part || !slider) return;
	part.hidden = false;
	banner.hidden = ahead === undefined;
	if (ahead !== undefined) slider.value = String(at);
	const text = siteTime(live, Number(slider.value));
	say(byId("practice-clock"), text);
	slider.setAttribute("aria-valuetext", text);
}
