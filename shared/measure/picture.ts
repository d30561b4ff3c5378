/**
 * A frame as a picture: thinned, with the stars that were found and their names, their trails exaggerated, the pole and
 * the axis where they are near. SVG with the frame inside, dark as the night it is from.
 */
import { encode } from "fast-png";
import { northPole } from "../alignment/attitude.ts";
import { axisVector, hemisphere } from "../alignment/axis-error.ts";
import type { Drawn } from "../frames/drawn-out.ts";
import { inCamera } from "../frames/fit.ts";
import { isInFrame, pixelOf } from "../frames/lens-map.ts";
import { times, type Vector } from "../sky/vector.ts";
import { toBase64 } from "../text/base64.ts";
import { sentences, told } from "../text/sentence.ts";
import { shown } from "../text/shown.ts";
import type { Measured } from "./measure.ts";

const words = sentences("measure.picture", {
	pole: "pole",
	axis: "axis",
	caption: "{name}: {count} stars, trails drawn {times} times as long",
});

/** Stars that get a name, the brightest. */
const MOST_NAMES = 25;
/** Pixels. */
const SINGLE_FROM = 2;
/** How long a usual trail is drawn, of the picture's width. */
const USUAL_TRAIL = 0.02;

const escaped = (text: string): string => shown(text).replace(/[&<>"']/g, (one) => `&#${one.charCodeAt(0)};`);

/** The first frame whose stars were identified; empty where there is none. */
export function framePicture({ frames, map, axis, spot, picture }: Measured): string {
	const frame = frames.find(({ solved }) => solved);
	if (!frame?.solved || !map || !picture) return "";
	const { columns, rows, levels } = picture;
	const scale = columns / picture.width;
	const x = (right: number): string => ((right + picture.width / 2) * scale).toFixed(1);
	const y = (up: number): string => ((picture.height / 2 - up) * scale).toFixed(1);
	const { frame: own, trails } = frame.solved;
	const longer = Math.max(1, Math.round(Math.min(100, (USUAL_TRAIL * picture.width) / Math.max(0.5, trails.usual))));
	// Trails shorter than this are those of the frame's parts: of single stars chance would be drawn.
	const line = (right: number, up: number, { right: dx = 0, up: dy = 0 }: Partial<Drawn>): string =>
		`<path d="M${x(right - (longer / 2) * dx)} ${y(up - (longer / 2) * dy)}L${x(right + (longer / 2) * dx)} ${y(up + (longer / 2) * dy)}"/>`;
	const single = trails.usual >= SINGLE_FROM;
	const parts = single ? [] : trails.parts.map(({ right, up, drawn }) => line(right, up, drawn));
	const lines = single ? own.stars.map(({ spot }, i) => line(spot.right, spot.up, trails.drawn[i] ?? {})) : [];
	const circles = own.stars.map(
		({ spot: { right, up }, magnitude }) =>
			`<circle cx="${x(right)}" cy="${y(up)}" r="${Math.max(2.5, 7 - magnitude).toFixed(1)}"/>`,
	);
	const names = own.stars
		.slice(0, MOST_NAMES)
		.map(
			({ spot: { right, up }, name }) =>
				`<text x="${(Number(x(right)) + 7).toFixed(1)}" y="${(Number(y(up)) - 5).toFixed(1)}">${escaped(name)}</text>`,
		);
	const sense = hemisphere(spot.latitude);
	const marks: readonly (readonly [string, Vector])[] = [
		[told(words.pole()), times(northPole(spot.latitude), sense)],
		...(axis ? [[told(words.axis()), axisVector(spot.latitude, axis.error)] as const] : []),
	];
	const crosses = marks.flatMap(([label, direction]) => {
		const at = pixelOf(map, inCamera(own.attitude, direction));
		if (!at || !isInFrame(map, at[0], at[1])) return [];
		const [cx, cy] = [Number(x(at[0])), Number(y(at[1]))];
		return [
			{
				mark: `<path stroke="#7fd4ff" stroke-width="2" d="M${cx - 9} ${cy}h18M${cx} ${cy - 9}v18"/>`,
				text: `<text fill="#7fd4ff" x="${cx + 8}" y="${cy + 16}">${escaped(label)}</text>`,
			},
		];
	});
	const caption = told(words.caption({ name: frame.name, count: own.stars.length, times: longer }));
	return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${columns} ${rows + 30}" width="${columns}" height="${rows + 30}" role="img" aria-label="${escaped(caption)}" font-family="sans-serif" font-size="12">
<rect width="${columns}" height="${rows + 30}" fill="#0b0d12"/>
<image width="${columns}" height="${rows}" href="data:image/png;base64,${toBase64(encode({ width: columns, height: rows, data: levels, channels: 1, depth: 8 }))}"/>
<g fill="none" stroke="#ff7b54" stroke-width="1.5">${[...lines, ...parts].join("")}${crosses.map(({ mark }) => mark).join("")}</g>
<g fill="none" stroke="#ffb454" stroke-opacity="0.7">${circles.join("")}</g>
<g fill="#ffd9a0">${names.join("")}${crosses.map(({ text }) => text).join("")}<text x="8" y="${rows + 20}">${escaped(caption)}</text></g>
</svg>
`;
}
