/** A number that is over a limit, with as many places as it takes to see that. */
export function overText(value: number, limit: number, places = 1): string {
	let text = value.toFixed(places);
	for (let more = places + 1; Number(text) <= limit && value > limit && more < 10; more++) text = value.toFixed(more);
	return text;
}
