import { describe, expect, test } from "vitest";
import { cursorContext } from "../../shared/text/cursor.ts";
import { cursor } from "../plan-text.ts";

const at = (marked: string) => {
	const { text, offset } = cursor(marked);
	const context = cursorContext(text, offset);
	return (
		context &&
		`${context.part} ${context.path.join("/")} “${context.prefix}”${context.flow ? " flow" : ""}${context.glued ? " glued" : ""} @${context.indent}`
	);
};

describe("what is being typed", () => {
	test.each([
		["$0", "key  “” @0"],
		["si$0", "key  “si” @0"],
		["---\n$0", "key  “” @0"],
		["site:\n  $0", "key site “” @2"],
		["site:\n  name: A\n  lat$0", "key site “lat” @2"],
		["site:\n  name: A\n  latitude: 3$0", "value site/latitude “3” @2"],
		["site:\n  name: A\n  latitude: $0", "value site/latitude “” @2"],
		["site:\n  landmarks:\n    - name: x\n      $0", "key site/landmarks/0 “” @6"],
		["site:\n  landmarks:\n    - name: x\n    - name: y\n      lat$0", "key site/landmarks/1 “lat” @6"],
		["site:\n  landmarks:\n    - name: x\n    - $0", "key site/landmarks/1 “” @6"],
		["targets:\n  - name: a\n    aim: g$0", "value targets/0/aim “g” @4"],
		["targets:\n- name: a\n  aim: b\n- name: c\n  $0", "key targets/1 “” @2"],
		["targets:\n- name: a\n- n$0", "key targets/1 “n” @2"],
		["targets:\n  - name: a\n    aim: { az$0", "key targets/0/aim “az” flow @4"],
		["targets:\n  - name: a\n    aim: { azimuth: 9$0", "value targets/0/aim/azimuth “9” flow @4"],
		["targets:\n  - { name: a, $0 }", "key targets/0 “” flow @4"],
		["method:\n  stars: [Spica, e$0", "value method/stars/1 “e” flow @2"],
		["method: { kind: $0", "value method/kind “” flow @0"],
		["method:\n  uncertainty: {\n    compass: 3°,\n    $0", "key method/uncertainty “” flow @2"],
		['method:\n  at: "2$0', 'value method/at “"2” @2'],
		["tracker:\n  periodic-error:\n    amp$0", "key tracker/periodic-error “amp” @4"],
		["tracker:\n  periodic-error:\n    amplitude: 1°\n  $0", "key tracker “” @2"],
		["site:\r\n  name: A\r\n  lat$0", "key site “lat” @2"],
		["log:\n  - drift: { right: 2 px, u$0", "key log/0/drift “u” flow @4"],
		["site:$0", "value site “” glued @0"],
		["method:\n  kind:$0", "value method/kind “” glued @2"],
		["method: { kind:$0", "value method/kind “” flow glued @0"],
		["method: { kind:$0x }", "value method/kind “” flow glued @0"],
		["targets:\n  - { name: a,ai$0 }", "key targets/0 “ai” flow glued @4"],
		["targets:\n  -$0", "key targets/0 “” glued @4"],
		["targets:\n  - name: a\n  -$0", "key targets/1 “” glued @4"],
		["site:\n  skyline: [[0, 4], [6$0", "value site/skyline/1/0 “6” flow @2"],
	])("%j", (marked, expected) => expect(at(marked)).toBe(expected));

	test.each(["site: # com$0", "note: |\n  some te$0", "note: |\n  a\n\n  b$0", "--$0-"])("nothing: %j", (marked) =>
		expect(at(marked)).toBeUndefined(),
	);

	test("after a block scalar keys are keys again", () => {
		expect(at("note: |\n  a\n$0")).toBe("key  “” @0");
	});
});
