/** Bytes as base64 (RFC 4648) and back, in every runtime. */

declare function atob(base64: string): string;
declare function btoa(bytes: string): string;

/** Characters are put together from so many bytes at once: all of a file's would be too many arguments. */
const AT_ONCE = 8192;

export function toBase64(bytes: Uint8Array): string {
	const parts: string[] = [];
	for (let at = 0; at < bytes.length; at += AT_ONCE)
		parts.push(String.fromCharCode(...bytes.subarray(at, at + AT_ONCE)));
	return btoa(parts.join(""));
}

/** Throws where it is no base64. */
export function fromBase64(text: string): Uint8Array {
	const characters = atob(text);
	const bytes = new Uint8Array(characters.length);
	for (let i = 0; i < bytes.length; i++) bytes[i] = characters.charCodeAt(i);
	return bytes;
}
