/** A text that fits beside a picture: what is longer than `most` characters ends in an ellipsis. */
export const shortened = (text: string, most: number): string =>
	text.length > most ? `${text.slice(0, most - 1)}…` : text;
