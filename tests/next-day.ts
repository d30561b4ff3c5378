/**
 * Clock times from midnight to noon that do not say that they are the next day's. Those in quotes are a plan's own text,
 * those behind a date have it, and the end of a stretch marks its beginning too.
 */
export const bareTimes = (text: string): readonly string[] =>
	[
		...text.matchAll(
			/(?<![\d:T"-]|\d{4}-\d\d-\d\d )(?:0\d|1[01]):[0-5]\d(?::[0-5]\d)?(?![\d:"])(?!(?:–\d\d:\d\d(?::\d\d)?)? \(\+\d+\))/g,
		),
	].map(({ index }) => text.slice(Math.max(0, index - 40), index + 20));
