/** An exposure no longer than a limit, as a person would set it. */
export function settableText(seconds: number): string {
	if (seconds < 1) return `${Math.max(0.01, Math.floor(seconds * 100) / 100)} s`;
	if (seconds < 10) return `${Math.floor(seconds * 2) / 2} s`;
	if (seconds < 60) return `${Math.floor(seconds)} s`;
	return `${Math.floor(seconds / 5) * 5} s`;
}
