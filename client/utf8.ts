/** Text and its bytes. */

/** The text of bytes that are UTF-8, its byte-order mark with it; undefined for others. */
export function textOfBytes(bytes: Uint8Array): string | undefined {
	try {
		return new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes);
	} catch {
		return undefined;
	}
}

/** The text of bytes, whatever they are: what is not UTF-8 is replaced. */
export const readableText = (bytes: Uint8Array): string => new TextDecoder().decode(bytes);

export const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);
