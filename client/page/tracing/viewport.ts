/** Which part of the photo is seen: places of the photo to places on the screen, and back. */
import type { PhotoPoint } from "../../../shared/protocol/tracing.ts";

export interface Size {
	readonly width: number;
	readonly height: number;
}

export interface Viewport {
	/** Pixels of the screen for one of the photo. */
	readonly scale: number;
	/** Where the photo's upper left corner is on the screen. */
	readonly x: number;
	readonly y: number;
}

/** Pixels of the screen for one of the photo, at most. */
const LARGEST = 16;

export const toScreen = ({ scale, x, y }: Viewport, [px, py]: PhotoPoint): PhotoPoint => [
	x + px * scale,
	y + py * scale,
];

export const toPhoto = ({ scale, x, y }: Viewport, [sx, sy]: PhotoPoint): PhotoPoint => [
	(sx - x) / scale,
	(sy - y) / scale,
];

/** The whole photo in the middle of the screen. */
export function fitted(photo: Size, screen: Size): Viewport {
	const scale = Math.min(screen.width / photo.width, screen.height / photo.height);
	return { scale, x: (screen.width - photo.width * scale) / 2, y: (screen.height - photo.height * scale) / 2 };
}

/** Larger or smaller about a place on the screen. */
export function zoomed(view: Viewport, [sx, sy]: PhotoPoint, factor: number, photo: Size, screen: Size): Viewport {
	const least = fitted(photo, screen).scale;
	const scale = Math.max(least, Math.min(Math.max(LARGEST, least), view.scale * factor));
	const by = scale / view.scale;
	return kept({ scale, x: sx - (sx - view.x) * by, y: sy - (sy - view.y) * by }, photo, screen);
}

export const panned = (view: Viewport, dx: number, dy: number, photo: Size, screen: Size): Viewport =>
	kept({ ...view, x: view.x + dx, y: view.y + dy }, photo, screen);

/** The same so far that a place of the photo is seen. */
export function showing(view: Viewport, place: PhotoPoint, photo: Size, screen: Size): Viewport {
	const [x, y] = toScreen(view, place);
	const by = (at: number, length: number): number => {
		const margin = Math.min(40, length / 4);
		return at < margin ? margin - at : at > length - margin ? length - margin - at : 0;
	};
	return panned(view, by(x, screen.width), by(y, screen.height), photo, screen);
}

/** Some of the photo is always seen: a side that fits is in the middle, one that does not leaves no more than half empty. */
function kept({ scale, x, y }: Viewport, photo: Size, screen: Size): Viewport {
	const along = (at: number, length: number, room: number): number =>
		length <= room ? (room - length) / 2 : Math.max(room / 2 - length, Math.min(room / 2, at));
	return {
		scale,
		x: along(x, photo.width * scale, screen.width),
		y: along(y, photo.height * scale, screen.height),
	};
}
