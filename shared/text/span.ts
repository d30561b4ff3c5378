/** A stretch of a text, by offsets. */
export interface Span {
	readonly from: number;
	readonly to: number;
}
