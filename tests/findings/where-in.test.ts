import { expect, test } from "vitest";
import { offsetAt } from "../../shared/earth/zone.ts";
import { whereIn } from "../../shared/findings/site/place-and-zone.ts";
import { told } from "../../shared/text/sentence.ts";

// The names count the hours westward (IANA, file `etcetera`): what is said has the sign of the clocks there.
test.each(["Etc/GMT+4", "Etc/GMT-11", "Etc/GMT+12", "Etc/GMT"])("%s is told as clocks are there", (zone) => {
	const hours = offsetAt(zone, Date.UTC(2027, 5, 5)) / 3_600_000;
	const offset = hours === 0 ? "" : `${hours < 0 ? "−" : "+"}${Math.abs(hours)}`;
	expect(told(whereIn(zone))).toBe(`at sea, in UTC${offset}`);
});

test("a zone on land is told by its name", () => {
	expect(told(whereIn("America/Montevideo"))).toBe("in America/Montevideo");
});
