/** Draws photo, sky, lines and marks. Each has a dark edge, and a dash, size or shape of its own beside its colour. */
import type { PhotoPoint, SkyLine, TraceAnswer } from "../../../shared/protocol/tracing.ts";
import type { Drawing } from "./drawing.ts";
import { type Size, toScreen, type Viewport } from "./viewport.ts";

/** A photo, and a smaller one for when little of it can be seen at once. */
export interface Pictures {
	readonly whole: ImageBitmap;
	readonly small: ImageBitmap;
}

export interface Scene {
	readonly pictures: Pictures;
	readonly view: Viewport;
	readonly screen: Size;
	readonly drawing: Drawing;
	readonly answer: TraceAnswer | undefined;
	readonly showsSky: boolean;
	/** Cross-hairs moved by keys. */
	readonly hairs: PhotoPoint | undefined;
	/** What is being drawn in one go. */
	readonly stroke: readonly PhotoPoint[];
	/** A place under a finger, which hides it: shown larger in a corner. */
	readonly loupe: PhotoPoint | undefined;
}

const EDGE = "rgba(0, 0, 0, 0.55)";
const LINE = { skyline: "#ffd34d", opening: "#7fe0ff", obstruction: "#ff9d5c", window: "#7fe0ff" } as const;
const DASH: Readonly<Record<string, readonly number[]>> = { opening: [10, 5], window: [4, 4] };
const SKY: Readonly<Record<SkyLine["kind"], { readonly colour: string; readonly dash: readonly number[] }>> = {
	horizon: { colour: "#d7dde2", dash: [7, 4] },
	skyline: { colour: "#c9b458", dash: [3, 4] },
	outline: { colour: "#d99a78", dash: [3, 4] },
	target: { colour: "#b9d7ff", dash: [] },
	guide: { colour: "#b9d7ff", dash: [] },
	pole: { colour: "#ffffff", dash: [] },
};
const MARK = "#ff6fae";
const FONT = "13px system-ui, sans-serif";

export function paint(context: CanvasRenderingContext2D, scene: Scene): void {
	const { view, screen, drawing, answer } = scene;
	context.clearRect(0, 0, screen.width, screen.height);
	drawPhoto(context, scene, view);
	context.font = FONT;
	context.lineJoin = "round";
	if (scene.showsSky) drawSky(context, scene, answer?.sky ?? []);
	for (const [index, line] of drawing.lines.entries()) {
		const points = line.points.map((point) => toScreen(view, point));
		const closes = line.part !== "skyline" && index !== drawing.open;
		strokeLine(
			context,
			closes ? [...points, ...points.slice(0, 1)] : points,
			LINE[line.part],
			2,
			DASH[line.part] ?? [],
		);
		for (const [x, y] of points) dot(context, x, y, index === drawing.open ? 3.5 : 2.5, LINE[line.part]);
	}
	if (scene.stroke.length > 1)
		strokeLine(
			context,
			scene.stroke.map((point) => toScreen(view, point)),
			LINE.skyline,
			2,
			[],
		);
	for (const [index, { at }] of drawing.marks.entries()) {
		const [x, y] = toScreen(view, at);
		const told = answer?.marks[index];
		if (told?.place) strokeLine(context, [[x, y], toScreen(view, told.place)], MARK, 1.5, [3, 3]);
		cross(context, x, y, 9, MARK);
		label(context, String(index + 1), x + 11, y - 7, told?.wrong ? "#ffffff" : MARK);
	}
	if (scene.hairs) {
		const [x, y] = toScreen(view, scene.hairs);
		strokeLine(
			context,
			[
				[x - 24, y],
				[x - 3, y],
			],
			"#ffffff",
			1.5,
			[],
		);
		strokeLine(
			context,
			[
				[x + 3, y],
				[x + 24, y],
			],
			"#ffffff",
			1.5,
			[],
		);
		strokeLine(
			context,
			[
				[x, y - 24],
				[x, y - 3],
			],
			"#ffffff",
			1.5,
			[],
		);
		strokeLine(
			context,
			[
				[x, y + 3],
				[x, y + 24],
			],
			"#ffffff",
			1.5,
			[],
		);
	}
	if (scene.loupe) drawLoupe(context, scene, scene.loupe);
}

function drawPhoto(context: CanvasRenderingContext2D, { pictures, screen }: Scene, view: Viewport): void {
	const { whole, small } = pictures;
	const picture = view.scale * whole.width > small.width ? whole : small;
	context.imageSmoothingEnabled = view.scale < 3;
	context.save();
	context.beginPath();
	context.rect(0, 0, screen.width, screen.height);
	context.clip();
	context.drawImage(picture, view.x, view.y, whole.width * view.scale, whole.height * view.scale);
	context.restore();
}

/** Nothing of it beside the photo. */
function drawSky(context: CanvasRenderingContext2D, { view, pictures }: Scene, lines: readonly SkyLine[]): void {
	context.save();
	context.beginPath();
	context.rect(view.x, view.y, pictures.whole.width * view.scale, pictures.whole.height * view.scale);
	context.clip();
	for (const line of lines) drawSkyLine(context, view, line);
	context.restore();
}

function drawSkyLine(context: CanvasRenderingContext2D, view: Viewport, { kind, points, labels }: SkyLine): void {
	const { colour, dash } = SKY[kind];
	strokeLine(
		context,
		points.map((point) => toScreen(view, point)),
		colour,
		kind === "target" ? 2 : 1.5,
		dash,
	);
	for (const { at, text } of labels) {
		const [x, y] = toScreen(view, at);
		if (kind === "pole") cross(context, x, y, 12, colour);
		else dot(context, x, y, kind === "guide" ? 5 : 2.5, colour);
		label(context, text, x + (kind === "pole" ? 14 : 7), y - 6, colour);
	}
}

function strokeLine(
	context: CanvasRenderingContext2D,
	points: readonly PhotoPoint[],
	colour: string,
	width: number,
	dash: readonly number[],
): void {
	if (points.length < 2) return;
	context.beginPath();
	for (const [i, [x, y]] of points.entries()) i === 0 ? context.moveTo(x, y) : context.lineTo(x, y);
	context.setLineDash([]);
	context.strokeStyle = EDGE;
	context.lineWidth = width + 2;
	context.stroke();
	context.setLineDash([...dash]);
	context.strokeStyle = colour;
	context.lineWidth = width;
	context.stroke();
	context.setLineDash([]);
}

function dot(context: CanvasRenderingContext2D, x: number, y: number, radius: number, colour: string): void {
	context.beginPath();
	context.arc(x, y, radius, 0, 2 * Math.PI);
	context.fillStyle = colour;
	context.strokeStyle = EDGE;
	context.lineWidth = 1.5;
	context.fill();
	context.stroke();
}

function cross(context: CanvasRenderingContext2D, x: number, y: number, arm: number, colour: string): void {
	strokeLine(
		context,
		[
			[x - arm, y],
			[x + arm, y],
		],
		colour,
		2,
		[],
	);
	strokeLine(
		context,
		[
			[x, y - arm],
			[x, y + arm],
		],
		colour,
		2,
		[],
	);
}

function label(context: CanvasRenderingContext2D, text: string, x: number, y: number, colour: string): void {
	context.strokeStyle = EDGE;
	context.lineWidth = 3.5;
	context.strokeText(text, x, y);
	context.fillStyle = colour;
	context.fillText(text, x, y);
}

const LOUPE = 64;
const LARGER = 3;

/** In the corner that is farther from the finger. */
function drawLoupe(context: CanvasRenderingContext2D, scene: Scene, place: PhotoPoint): void {
	const { view, screen } = scene;
	const [sx] = toScreen(view, place);
	const middle: PhotoPoint = [sx > screen.width / 2 ? LOUPE + 8 : screen.width - LOUPE - 8, LOUPE + 8];
	const scale = Math.max(view.scale * LARGER, 1);
	context.save();
	context.beginPath();
	context.arc(...middle, LOUPE, 0, 2 * Math.PI);
	context.clip();
	context.fillStyle = "#000000";
	context.fillRect(0, 0, screen.width, screen.height);
	drawPhoto(context, scene, { scale, x: middle[0] - place[0] * scale, y: middle[1] - place[1] * scale });
	cross(context, ...middle, 10, "#ffffff");
	context.restore();
	context.beginPath();
	context.arc(...middle, LOUPE, 0, 2 * Math.PI);
	context.strokeStyle = "#ffffff";
	context.lineWidth = 2;
	context.stroke();
}
