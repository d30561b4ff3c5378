/** Pictures of a workbench in few colours: a third of the bytes, and the eye sees no difference. */
import { crc32, deflateSync } from "node:zlib";
import type { Browser } from "playwright-core";

const COLOURS = 64;

/** The same picture with a palette (PNG, third edition: colour type 3, 8 bits). */
export async function withPalette(browser: Browser, png: Buffer): Promise<Buffer> {
	const page = await browser.newPage();
	const { width, height, palette, pixels } = await page
		.evaluate(`(${reduce.toString()})("data:image/png;base64,${png.toString("base64")}", ${COLOURS})`)
		.then((found) => found as ReturnType<typeof reduce> extends Promise<infer R> ? R : never);
	await page.close();
	const rows = Buffer.alloc((width + 1) * height);
	for (let y = 0; y < height; y++)
		Buffer.from(pixels.slice(y * width, (y + 1) * width)).copy(rows, y * (width + 1) + 1);
	const head = Buffer.alloc(13);
	head.writeUInt32BE(width, 0);
	head.writeUInt32BE(height, 4);
	head.set([8, 3, 0, 0, 0], 8);
	return Buffer.concat([
		Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
		chunk("IHDR", head),
		chunk("PLTE", Buffer.from(palette.flatMap((colour) => [colour >> 16, (colour >> 8) & 255, colour & 255]))),
		chunk("IDAT", deflateSync(rows, { level: 9 })),
		chunk("IEND", Buffer.alloc(0)),
	]);
}

function chunk(type: string, data: Buffer): Buffer {
	const body = Buffer.concat([Buffer.from(type, "latin1"), data]);
	const [length, sum] = [Buffer.alloc(4), Buffer.alloc(4)];
	length.writeUInt32BE(data.length);
	sum.writeUInt32BE(crc32(body));
	return Buffer.concat([length, body, sum]);
}

/** Runs in the browser: the colours that are met most, and for each pixel the nearest of them. */
async function reduce(source: string, most: number) {
	// biome-ignore lint/suspicious/noExplicitAny: the browser's names are not those of the tests
	const here = globalThis as any;
	const image = new here.Image();
	image.src = source;
	await image.decode();
	const { width, height } = image as { width: number; height: number };
	const context = new here.OffscreenCanvas(width, height).getContext("2d");
	context.drawImage(image, 0, 0);
	const data: Uint8ClampedArray = context.getImageData(0, 0, width, height).data;
	const all: number[] = [];
	for (let i = 0; i < data.length; i += 4)
		all.push(((data[i] as number) << 16) | ((data[i + 1] as number) << 8) | (data[i + 2] as number));
	const counts = new Map<number, number>();
	for (const colour of all) counts.set(colour, (counts.get(colour) ?? 0) + 1);
	const palette = [...counts]
		.sort((a, b) => b[1] - a[1])
		.slice(0, most)
		.map(([colour]) => colour);
	const nearest = new Map<number, number>();
	for (const colour of counts.keys()) {
		let [best, least] = [0, Number.POSITIVE_INFINITY];
		for (const [index, one] of palette.entries()) {
			const [r, g, b] = [16, 8, 0].map((shift) => ((colour >> shift) & 255) - ((one >> shift) & 255)) as [
				number,
				number,
				number,
			];
			const distance = r * r + g * g + b * b;
			if (distance < least) [best, least] = [index, distance];
		}
		nearest.set(colour, best);
	}
	return { width, height, palette, pixels: all.map((colour) => nearest.get(colour) as number) };
}
