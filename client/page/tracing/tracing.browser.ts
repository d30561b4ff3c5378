/**
 * The script of the panel in which one traces on a photo. It draws, hears hands and keys, and tells the server what was
 * marked; all that is computed, and all that is said, comes from there. The photo stays here.
 */
import {
	type FromTracing,
	type PhotoPoint,
	type ToTracing,
	TRACED_PARTS,
	type Trace,
	type TraceAnswer,
	type TracedLine,
	type TracedPhoto,
} from "../../../shared/protocol/tracing.ts";
import { byId } from "../by-id.ts";
import * as drawing from "./drawing.ts";
import { listen } from "./gestures.ts";
import { History } from "./history.ts";
import { type Pictures, paint } from "./paint.ts";
import { Rows } from "./rows.ts";
import { onTyped } from "./typed.ts";
import { fitted, panned, type Size, showing, toPhoto, toScreen, type Viewport, zoomed } from "./viewport.ts";

declare const acquireVsCodeApi: () => { postMessage(message: FromTracing): void };
const editor = acquireVsCodeApi();

const element = <T extends HTMLElement>(id: string): T => byId(id) as T;
const canvas = element<HTMLCanvasElement>("photo");
/** Holds the canvas, the focus and the keys. */
const stage = element("stage");
const lineList = element("lines");

/** The photo with its values as they were corrected, and what is drawn on it. */
interface State {
	readonly photo: TracedPhoto;
	readonly drawing: drawing.Drawing;
}

const TOOLS = ["move", "mark", ...TRACED_PARTS] as const;
type Tool = (typeof TOOLS)[number];

const FIELDS = ["time", "focalLength", "sensor", "projection"] as const;

let pictures: Pictures | undefined;
let history: History<State> | undefined;
let view: Viewport = { scale: 1, x: 0, y: 0 };
let answer: TraceAnswer | undefined;
let hairs: PhotoPoint | undefined;
let stroke: readonly PhotoPoint[] = [];
let loupe: PhotoPoint | undefined;
let hover: PhotoPoint | undefined;

const screen = (): Size => ({ width: canvas.clientWidth, height: canvas.clientHeight });

function tool(): Tool {
	const chosen = document.querySelector<HTMLInputElement>('input[name="tool"]:checked')?.value;
	return TOOLS.find((one) => one === chosen) ?? "move";
}

function choose(chosen: Tool): void {
	const input = document.querySelector<HTMLInputElement>(`input[name="tool"][value="${chosen}"]`);
	if (input) input.checked = true;
	stage.dataset.tool = chosen;
	if (history && history.now.drawing.open !== undefined) change(drawing.endLine(history.now.drawing));
}

/** Names for new lines; the one that the command was called for comes first. */
const names: { opening: string; obstruction: string } = {
	opening: lineList.dataset.opening ?? "",
	obstruction: lineList.dataset.obstruction ?? "",
};

function change(next: drawing.Drawing, of?: string): void {
	if (!history || next === history.now.drawing) return;
	history.do({ ...history.now, drawing: next }, of);
	changed();
}

/** Everything that depends on the state is shown anew, and the server is asked. */
function changed(): void {
	show();
	ask();
}

// What is asked: one thing at a time, the newest.
let stamp = 0;
let isAsking = false;
let isOutdated = false;

function ask(): void {
	if (!history) return;
	if (isAsking) {
		isOutdated = true;
		return;
	}
	isAsking = true;
	isOutdated = false;
	editor.postMessage({ type: "trace", stamp: ++stamp, trace: traceOf(history.now), at: hairs ?? hover });
}

const traceOf = ({ photo, drawing: { marks, lines } }: State): Trace => ({ photo, marks, lines });

let isDrawn = true;

/** Draws once, before the screen is next shown. */
function redraw(): void {
	if (!isDrawn) return;
	isDrawn = false;
	requestAnimationFrame(() => {
		isDrawn = true;
		const context = canvas.getContext("2d");
		if (!pictures || !history || !context) return;
		const size = screen();
		const ratio = window.devicePixelRatio || 1;
		const [width, height] = [Math.round(size.width * ratio), Math.round(size.height * ratio)];
		if (canvas.width !== width || canvas.height !== height) [canvas.width, canvas.height] = [width, height];
		context.setTransform(ratio, 0, 0, ratio, 0, 0);
		paint(context, {
			pictures,
			view,
			screen: size,
			drawing: history.now.drawing,
			answer,
			showsSky: element<HTMLInputElement>("sky").checked,
			hairs,
			stroke,
			loupe,
		});
	});
}

/** What a line is called that has no name of its own. */
function fixedName({ part, name }: TracedLine): string | undefined {
	if (part === "skyline") return lineList.dataset.skyline ?? "";
	return part === "window" ? (lineList.dataset.window ?? "").replace("{name}", () => name) : undefined;
}

const marks = new Rows(
	element("marks"),
	"offers",
	{
		typed: (index, text) => history && change(drawing.nameMark(history.now.drawing, index, text), `mark ${index}`),
		removed: (index) => history && change(drawing.removeMark(history.now.drawing, index)),
	},
	() => stage.focus(),
);
const lines = new Rows(
	lineList,
	undefined,
	{
		typed: (index, text) => history && change(drawing.nameLine(history.now.drawing, index, text), `line ${index}`),
		removed: (index) => history && change(drawing.removeLine(history.now.drawing, index)),
	},
	() => stage.focus(),
);

function show(): void {
	redraw();
	if (!history) return;
	const { photo, drawing: now } = history.now;
	const told = (list: keyof Pick<TraceAnswer, "marks" | "lines">, index: number) =>
		answer?.[list][index] ?? { text: "", wrong: false };
	marks.show(now.marks.map(({ what }, i) => ({ value: what, ...told("marks", i) })));
	lines.show(now.lines.map((line, i) => ({ value: line.name, fixed: fixedName(line), ...told("lines", i) })));
	for (const field of FIELDS) {
		const input = element<HTMLInputElement>(field);
		if (input.value !== photo[field] && document.activeElement !== input) input.value = photo[field];
	}
	element<HTMLButtonElement>("undo").disabled = !history.canUndo;
	element<HTMLButtonElement>("redo").disabled = !history.canRedo;
	element<HTMLButtonElement>("endLine").disabled = now.open === undefined;
	element<HTMLButtonElement>("write").disabled = answer?.ready !== true;
	element("at").textContent = answer?.at ?? "";
	element("camera").textContent = answer?.camera ?? "";
	const notes = (answer?.notes ?? []).map(({ text, wrong }) => {
		const item = document.createElement("li");
		item.textContent = text;
		if (wrong) item.className = "wrong";
		return item;
	});
	element("notes").replaceChildren(...notes);
	const offers = element("offers");
	const offered = answer?.offers ?? [];
	if (offers.dataset.shown !== offered.join("\n")) {
		offers.dataset.shown = offered.join("\n");
		offers.replaceChildren(...offered.map((text) => Object.assign(document.createElement("option"), { value: text })));
	}
}

function say(text: string, wrong: boolean): void {
	const said = element("said");
	said.textContent = text;
	said.hidden = text === "";
	said.classList.toggle("wrong", wrong);
}

/** Longest side of the photo that is shown while it is small on the screen, pixels. */
const SMALL = 2048;

async function open(photo: TracedPhoto, bytes: Uint8Array): Promise<void> {
	try {
		const whole = await createImageBitmap(new Blob([bytes as Uint8Array<ArrayBuffer>]));
		const part = Math.min(1, SMALL / Math.max(whole.width, whole.height));
		const small = await createImageBitmap(whole, {
			resizeWidth: Math.max(1, Math.round(whole.width * part)),
			resizeHeight: Math.max(1, Math.round(whole.height * part)),
			resizeQuality: "high",
		});
		pictures?.whole.close();
		pictures?.small.close();
		pictures = { whole, small };
	} catch {
		editor.postMessage({ type: "undecoded" });
		return;
	}
	const { width, height } = pictures.whole;
	history = new History<State>({ photo: { ...photo, width, height }, drawing: drawing.EMPTY });
	answer = undefined;
	hairs = undefined;
	element("first").hidden = true;
	element("name").textContent = `${photo.name}, ${width} × ${height}`;
	stage.hidden = false;
	view = fitted(history.now.photo, screen());
	say("", false);
	changed();
}

// The photo.
const inPhoto = ([x, y]: PhotoPoint, { width, height }: Size): PhotoPoint => [
	Math.max(0, Math.min(width, Math.round(x * 100) / 100)),
	Math.max(0, Math.min(height, Math.round(y * 100) / 100)),
];

const photoPlace = (at: PhotoPoint): PhotoPoint => (history ? inPhoto(toPhoto(view, at), history.now.photo) : [0, 0]);

function set(place: PhotoPoint): void {
	const now = history?.now.drawing;
	const chosen = tool();
	if (!now || chosen === "move") return;
	if (chosen === "mark") {
		change(drawing.addMark(now, place));
		marks.focus(now.marks.length);
	} else change(drawing.addPoints(now, chosen, [place], names));
}

listen<drawing.Grip>(canvas, {
	gripAt: (at, reach) => history && drawing.gripAt(history.now.drawing, toPhoto(view, at), reach / view.scale),
	moves: () => tool() === "move",
	hover(at) {
		hairs = undefined;
		hover = at && photoPlace(at);
		redraw();
		if (answer?.camera) ask();
	},
	click(at, grip) {
		stage.focus({ preventScroll: true });
		const now = history?.now.drawing;
		if (!now) return;
		if (!grip) set(photoPlace(at));
		else if (drawing.endsLine(now, grip)) change(drawing.endLine(now));
		else if (grip.kind === "mark") marks.focus(grip.index);
	},
	drag(grip, at, byFinger) {
		const place = photoPlace(at);
		if (byFinger) loupe = place;
		if (history) change(drawing.moved(history.now.drawing, grip, place), `move ${JSON.stringify(grip)}`);
	},
	stroke(places, done, byFinger) {
		const chosen = tool();
		const drawn = places.map(photoPlace);
		stroke = done ? [] : drawn;
		loupe = byFinger && !done ? drawn.at(-1) : undefined;
		if (done && drawn.length > 0 && history && chosen !== "move") {
			if (chosen === "mark") set(drawn.at(-1) as PhotoPoint);
			else change(drawing.addStroke(history.now.drawing, chosen, drawn, names, 1 / view.scale));
		}
		redraw();
	},
	pan: (dx, dy) => look((photo) => panned(view, dx, dy, photo, screen())),
	zoom: (at, factor) => look((photo) => zoomed(view, at, factor, photo, screen())),
	release() {
		history?.rest();
		loupe = undefined;
		redraw();
	},
});

function look(next: (photo: Size) => Viewport): void {
	if (!history) return;
	view = next(history.now.photo);
	redraw();
}

const middle = (): PhotoPoint => [screen().width / 2, screen().height / 2];
const ZOOM = 1.5;

const ACTIONS: Readonly<Record<string, () => void>> = {
	undo: () => history?.undo(),
	redo: () => history?.redo(),
	endLine: () => history && change(drawing.endLine(history.now.drawing)),
	zoomIn: () => look((photo) => zoomed(view, hairs ? toScreen(view, hairs) : middle(), ZOOM, photo, screen())),
	zoomOut: () => look((photo) => zoomed(view, hairs ? toScreen(view, hairs) : middle(), 1 / ZOOM, photo, screen())),
	fit: () => look((photo) => fitted(photo, screen())),
	choose: () => editor.postMessage({ type: "choose" }),
	write: () => history && editor.postMessage({ type: "write", trace: traceOf(history.now) }),
};

function act(name: string): void {
	ACTIONS[name]?.();
	if (name === "undo" || name === "redo") changed();
}

for (const name of Object.keys(ACTIONS)) element(name).addEventListener("click", () => act(name));
for (const input of document.querySelectorAll<HTMLInputElement>('input[name="tool"]'))
	input.addEventListener("change", () => choose(tool()));
element("sky").addEventListener("change", redraw);
for (const field of FIELDS)
	onTyped(
		element<HTMLInputElement>(field),
		() => history?.now.photo[field] ?? "",
		(text) => {
			if (!history) return;
			history.do({ ...history.now, photo: { ...history.now.photo, [field]: text } }, field);
			changed();
		},
	);

// Keys.
const KEYS: Readonly<Record<string, string>> = {
	"+": "zoomIn",
	"=": "zoomIn",
	"-": "zoomOut",
	"0": "fit",
	Enter: "endLine",
};
const ARROWS: Readonly<Record<string, PhotoPoint>> = {
	ArrowLeft: [-1, 0],
	ArrowRight: [1, 0],
	ArrowUp: [0, -1],
	ArrowDown: [0, 1],
};
/** Pixels of the screen by which an arrow key moves the cross-hairs. */
const STEP = 12;

stage.addEventListener("keydown", (event) => {
	const { key, shiftKey, ctrlKey, metaKey, altKey } = event;
	if (ctrlKey || metaKey || altKey || !history) return;
	const arrow = ARROWS[key];
	const number = Number(key);
	if (arrow) {
		const photo = history.now.photo;
		const step = shiftKey ? 1 : STEP / view.scale;
		const from = hairs ?? toPhoto(view, middle());
		hairs = inPhoto([from[0] + arrow[0] * step, from[1] + arrow[1] * step], photo);
		view = showing(view, hairs, photo, screen());
		redraw();
		ask();
	} else if (key === " " && hairs) set(hairs);
	else if (key === "Backspace" || key === "Delete") change(drawing.removeLast(history.now.drawing));
	else if (number >= 1 && number <= TOOLS.length) choose(TOOLS[number - 1] as Tool);
	else if (KEYS[key]) act(KEYS[key]);
	else return;
	event.preventDefault();
});

document.addEventListener("keydown", (event) => {
	const { key, shiftKey, ctrlKey, metaKey, target } = event;
	if (!(ctrlKey || metaKey) || (target instanceof HTMLInputElement && target.type !== "radio")) return;
	const name =
		key.toLowerCase() === "z" ? (shiftKey ? "redo" : "undo") : key.toLowerCase() === "y" ? "redo" : undefined;
	if (name === undefined) return;
	event.preventDefault();
	act(name);
});

new ResizeObserver(() => {
	if (history) look((photo) => panned(view, 0, 0, photo, screen()));
}).observe(canvas);

window.addEventListener("message", ({ data }: MessageEvent<ToTracing>) => {
	if (data.type === "photo") void open(data.photo, data.bytes);
	if (data.type === "said") say(data.text, data.wrong);
	if (data.type === "part") {
		choose(data.part);
		if (data.name !== "" && (data.part === "opening" || data.part === "obstruction")) names[data.part] = data.name;
	}
	if (data.type === "traced") {
		isAsking = false;
		answer = data.answer ?? undefined;
		show();
		if (isOutdated) ask();
	}
});

editor.postMessage({ type: "ready" });
