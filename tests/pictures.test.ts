/** The pictures of README and walkthrough show what a plan says today: without taking one, by what they were taken of. */
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { type PictureSource, pictureSource, RECORD } from "./editor/picture-source.ts";

const then = JSON.parse(readFileSync(RECORD, "utf8")) as PictureSource;
const now = pictureSource();

test.each(["plan", "page", "view", "card"] as const)("what they show of the %s is what it says", (part) => {
	expect(now[part].length).toBeGreaterThan(5);
	expect(
		now[part],
		"The pictures in client/media are out of date: take them anew with `npm run pictures`, and look at each of them.",
	).toEqual(then[part]);
});
