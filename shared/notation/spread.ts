/** The ± of an error source in words: `0.25°`, `0.004°`, `12.5 m`. */

/** As many digits as one sets by: two below one, three from there; no more zeros than that takes. */
export function spreadText(value: number, unit: "°" | "s" | "m"): string {
	const digits = plain(value);
	return unit === "°" ? `${digits}°` : `${digits} ${unit}`;
}

function plain(value: number): string {
	if (!(value > 0)) return "0";
	const significant = value < 1 ? 2 : 3;
	const places = Math.max(0, significant - 1 - Math.floor(Math.log10(value)));
	return String(Number(value.toFixed(Math.min(places, 5))));
}
