/** A number beyond a limit, with as many digits as it takes to see that it is: `1.52` beyond `1.5`. */
const MOST = 4;

export function overLimit(value: number, limit: number, places: number): string {
	let digits = places;
	while (digits < MOST && Number(value.toFixed(digits)) === Number(limit.toFixed(digits))) digits++;
	return value.toFixed(digits);
}
