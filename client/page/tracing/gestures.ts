/** Mouse, pen and fingers on the photo as clicks, drags, strokes, and moves of what is seen. */
import type { PhotoPoint } from "../../../shared/protocol/tracing.ts";

export interface Hands<Grip> {
	/** What can be dragged at a place on the screen; fingers reach farther. */
	readonly gripAt: (at: PhotoPoint, reach: number) => Grip | undefined;
	/** Whether everything moves what is seen. */
	readonly moves: () => boolean;
	readonly hover: (at: PhotoPoint | undefined) => void;
	readonly click: (at: PhotoPoint, grip: Grip | undefined) => void;
	readonly drag: (grip: Grip, at: PhotoPoint, byFinger: boolean) => void;
	/** A line that is being drawn in one go; `done`: the hand was lifted. */
	readonly stroke: (places: readonly PhotoPoint[], done: boolean, byFinger: boolean) => void;
	readonly pan: (dx: number, dy: number) => void;
	readonly zoom: (at: PhotoPoint, factor: number) => void;
	/** Nothing is held any more. */
	readonly release: () => void;
}

/** Pixels of the screen that a hand moves without meaning it. */
const STEADY = 4;
const REACH = { mouse: 9, touch: 22 } as const;

type Held<Grip> =
	| { readonly kind: "pan" }
	| { readonly kind: "pinch" }
	| { readonly kind: "grip"; readonly grip: Grip; readonly from: PhotoPoint; moved: boolean }
	| { readonly kind: "open"; readonly places: PhotoPoint[]; moved: boolean };

/** Listens on an element. */
export function listen<Grip>(element: HTMLElement, hands: Hands<Grip>): void {
	const pointers = new Map<number, PhotoPoint>();
	let held: Held<Grip> | undefined;
	const placeOf = ({ clientX, clientY }: MouseEvent): PhotoPoint => {
		const { left, top } = element.getBoundingClientRect();
		return [clientX - left, clientY - top];
	};
	const isFinger = ({ pointerType }: PointerEvent): boolean => pointerType === "touch";

	element.addEventListener("pointerdown", (event) => {
		const at = placeOf(event);
		pointers.set(event.pointerId, at);
		element.setPointerCapture(event.pointerId);
		if (pointers.size > 1) {
			if (held?.kind === "open") hands.stroke([], true, true);
			held = { kind: "pinch" };
			return;
		}
		if (event.button !== 0 || hands.moves()) {
			held = { kind: "pan" };
			return;
		}
		const grip = hands.gripAt(at, REACH[isFinger(event) ? "touch" : "mouse"]);
		held =
			grip === undefined
				? { kind: "open", places: [at], moved: false }
				: { kind: "grip", grip, from: at, moved: false };
	});

	element.addEventListener("pointermove", (event) => {
		const at = placeOf(event);
		const before = pointers.get(event.pointerId);
		if (!before || !held) {
			hands.hover(at);
			return;
		}
		if (held.kind === "pinch") {
			pinch(event.pointerId, before, at);
			return;
		}
		pointers.set(event.pointerId, at);
		if (held.kind === "pan") hands.pan(at[0] - before[0], at[1] - before[1]);
		else if (held.kind === "grip") {
			held.moved ||= far(held.from, at);
			if (held.moved) hands.drag(held.grip, at, isFinger(event));
		} else {
			held.moved ||= far(held.places[0] ?? at, at);
			// All places that the hand was at since, where the browser tells them.
			const since = event.getCoalescedEvents?.().map(placeOf) ?? [];
			held.places.push(...(since.length > 0 ? since : [at]));
			if (held.moved) hands.stroke(held.places, false, isFinger(event));
		}
		hands.hover(at);
	});

	const lift = (event: PointerEvent, cancelled: boolean): void => {
		const at = placeOf(event);
		pointers.delete(event.pointerId);
		if (held?.kind === "pinch") {
			if (pointers.size === 0) held = undefined;
			return;
		}
		const was = held;
		held = undefined;
		if (was?.kind === "open" && was.moved) hands.stroke(cancelled ? [] : was.places, true, isFinger(event));
		else if (was?.kind === "open" && !cancelled) hands.click(at, undefined);
		else if (was?.kind === "grip" && !was.moved && !cancelled) hands.click(at, was.grip);
		hands.release();
	};
	element.addEventListener("pointerup", (event) => lift(event, false));
	element.addEventListener("pointercancel", (event) => lift(event, true));
	element.addEventListener("pointerleave", () => {
		if (pointers.size === 0) hands.hover(undefined);
	});
	element.addEventListener("contextmenu", (event) => event.preventDefault());
	element.addEventListener(
		"wheel",
		(event) => {
			event.preventDefault();
			const lines = event.deltaMode === WheelEvent.DOM_DELTA_LINE ? 16 : 1;
			hands.zoom(placeOf(event), Math.exp(-event.deltaY * lines * (event.ctrlKey ? 0.01 : 0.002)));
		},
		{ passive: false },
	);

	/** One finger of two has moved: what is seen moves with their middle, and grows with their distance. */
	function pinch(id: number, before: PhotoPoint, at: PhotoPoint): void {
		const other = [...pointers].find(([one]) => one !== id)?.[1];
		pointers.set(id, at);
		if (!other) return;
		hands.pan((at[0] - before[0]) / 2, (at[1] - before[1]) / 2);
		const [was, is] = [before, at].map(([x, y]) => Math.hypot(x - other[0], y - other[1])) as [number, number];
		if (was > 0) hands.zoom([(at[0] + other[0]) / 2, (at[1] + other[1]) / 2], is / was);
	}
}

const far = ([x1, y1]: PhotoPoint, [x2, y2]: PhotoPoint): boolean => Math.hypot(x2 - x1, y2 - y1) > STEADY;
