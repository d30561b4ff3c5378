/** Reads of other plans that end in another order than the changes of their files. */
import { expect, test } from "vitest";
import { WorkspaceLibrary } from "../../server/library.ts";
import type { FileAnswer } from "../../shared/protocol/files.ts";

const plan = (name: string): FileAnswer => ({ text: `plan:\n  title: ${name}\n` });

function begun() {
	const answers: ((answer: FileAnswer) => void)[] = [];
	let told = 0;
	const library = new WorkspaceLibrary(
		() => new Promise((answer) => answers.push(answer)),
		() => undefined,
		() => void told++,
	);
	library.roots = ["file:///w"];
	const titleOf = () => {
		const other = library.seenFrom("file:///w/a.lode.yaml").library("b.lode.yaml");
		return other && "plan" in other ? other.plan.text.trim() : other;
	};
	return { answers, library, titleOf, told: () => told };
}

test("a read that was begun before its file changed is not taken for the new text", async () => {
	const { answers, library, titleOf, told } = begun();
	expect(titleOf()).toBeUndefined();
	library.forget("file:///w/b.lode.yaml");
	expect(titleOf()).toBeUndefined();
	expect(answers.length).toBe(2);
	answers[1]?.(plan("new"));
	answers[0]?.(plan("old"));
	await library.read();
	expect(titleOf()).toContain("new");
	expect(told()).toBe(1);
});

test("nor is one that ends before the new text has come", async () => {
	const { answers, library, titleOf } = begun();
	titleOf();
	library.forget("file:///w/b.lode.yaml");
	answers[0]?.(plan("old"));
	await new Promise((rested) => setTimeout(rested, 0));
	expect(titleOf()).toBeUndefined();
	answers[1]?.(plan("new"));
	await library.read();
	expect(titleOf()).toContain("new");
});
