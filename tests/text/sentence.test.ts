import { describe, expect, test } from "vitest";
import { declaredSentences, sentences, told } from "../../shared/text/sentence.ts";

const words = sentences("test.sentence", {
	plain: "nothing to fill in",
	two: "{a} and {b}, {a} again",
	braces: "write `{ star: Spica }` or {} for {frame}",
	long: `one line
		and another`,
});

describe("a sentence", () => {
	test("is told with its values where their names stand, each as often as it is named", () => {
		expect(told(words.plain())).toBe("nothing to fill in");
		expect(told(words.two({ a: 1, b: "x" }))).toBe("1 and x, 1 again");
	});

	test("keeps braces that are its own, and those of what is filled in", () => {
		expect(told(words.braces({ frame: "4 min" }))).toBe("write `{ star: Spica }` or {} for 4 min");
		expect(told(words.two({ a: "{b}", b: "{a}" }))).toBe("{b} and {a}, {b} again");
		expect(told({ key: "x", template: "{ a: {a} } and {", values: { a: 1 } })).toBe("{ a: 1 } and {");
	});

	test("takes phrases, one or several, as values", () => {
		expect(told(words.two({ a: words.plain(), b: [words.plain(), words.plain()] }))).toBe(
			"nothing to fill in and nothing to fill innothing to fill in, nothing to fill in again",
		);
	});

	test("is one line in the catalogue, however it is written", () => {
		expect(declaredSentences().get("test.sentence.long")).toBe("one line and another");
	});
});
