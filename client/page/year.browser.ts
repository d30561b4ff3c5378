/** The picture of a year's nights: one night at a time is in the order of the tab key, arrows go from night to night. */
import { byId } from "./by-id.ts";

const nights = (): readonly SVGElement[] => [...(byId("nights")?.querySelectorAll<SVGElement>("[data-night]") ?? [])];

/** Makes what can be chosen a button each; the plan's night comes first, else the first one. */
export function makeNightButtons(): void {
	const all = nights();
	const first = all.find((one) => "present" in one.dataset) ?? all[0];
	for (const one of all) {
		one.setAttribute("role", "button");
		one.setAttribute("tabindex", one === first ? "0" : "-1");
	}
	// What holds buttons is not one picture.
	byId("nights")?.querySelector("svg")?.setAttribute("role", "group");
}

/** The date of the night that was chosen. */
export const nightAt = (target: EventTarget | null): string | undefined =>
	(target as Element | null)?.closest<SVGElement>("#nights [data-night][role=button]")?.dataset.night;

/** Says in a line of its own what the night under the pointer, or in focus, is. */
export function sayNight(target: EventTarget | null): void {
	const night = (target as Element | null)?.closest("#nights g");
	const place = byId("night-says");
	if (night && place) place.textContent = night.querySelector("title")?.textContent ?? "";
}

/** Days that a key goes on by; whole months keep the day of the month where it can. */
const STEPS: Readonly<Record<string, readonly [months: number, days: number]>> = {
	ArrowLeft: [0, -1],
	ArrowRight: [0, 1],
	ArrowUp: [-1, 0],
	ArrowDown: [1, 0],
};

/** Goes to the night that is nearest in the direction of an arrow. Whether the key was for it. */
export function moveNight(key: string, target: EventTarget | null): boolean {
	const from = nightAt(target);
	const step = STEPS[key];
	if (from === undefined || !step) return false;
	const [months, days] = step;
	const here = placeOf(from);
	const ahead = nights().flatMap((one) => {
		const place = placeOf(one.dataset.night as string);
		const distance = months === 0 ? (place.number - here.number) * days : (place.month - here.month) * months;
		return distance > 0 ? [{ one, distance, aside: months === 0 ? 0 : Math.abs(place.day - here.day) }] : [];
	});
	const next = ahead.sort((a, b) => a.distance - b.distance || a.aside - b.aside)[0]?.one;
	if (next) {
		for (const one of nights()) one.setAttribute("tabindex", one === next ? "0" : "-1");
		next.focus();
	}
	return true;
}

function placeOf(date: string): { readonly number: number; readonly month: number; readonly day: number } {
	const at = new Date(`${date}T00:00Z`);
	return {
		number: at.getTime() / 86_400_000,
		month: at.getUTCFullYear() * 12 + at.getUTCMonth(),
		day: at.getUTCDate(),
	};
}
