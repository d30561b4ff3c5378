/** A new plan with a kit that lies in a library of the workspace. */
import { fileURLToPath, pathToFileURL } from "node:url";
import { afterAll, beforeAll, expect, test } from "vitest";
import type { Kit, LibraryKit } from "../../shared/protocol/new-plan.ts";
import { TestClient } from "./client.ts";

const root = pathToFileURL(fileURLToPath(new URL("../../samples/workshop", import.meta.url))).href;
const client = new TestClient();
beforeAll(async () => void (await client.start({}, root)));
afterAll(() => client.stop());

const kits = (uri: string) => client.request<readonly (LibraryKit & { readonly kit: Kit })[]>("lodebook/kits", { uri });

test("the kits of the libraries, by their paths as the new plan has them; a plan without a file is where it will be saved", async () => {
	const loan = {
		from: "kits/loan.lode.yaml",
		lens: "wide",
		tracker: true,
		kit: { "focal-length": "24 mm", "f-number": "2", sensor: "36 x 24 mm", pixels: "6000 x 4000", head: "geared" },
	};
	expect(await kits(`${root}/new.lode.yaml`)).toEqual([loan]);
	expect(await kits(root.replace("file://", "untitled:").concat("/new.lode.yaml"))).toEqual([loan]);
	expect((await kits(`${root}/plans/new.lode.yaml`))[0]?.from).toBe("../kits/loan.lode.yaml");
});

test("the plan takes lens and tracker from it, is drafted with them and checks clean before it is saved", async () => {
	const uri = root.replace("file://", "untitled:").concat("/new-plan.lode.yaml");
	const ask = (taken: object) =>
		client.request<{ readonly text: string } | null>("lodebook/newPlan", {
			title: "Night at the chapel",
			site: "Chapel",
			latitude: -32.4123,
			longitude: -54.3622,
			date: "2027-06-05",
			kit: {},
			taken: { uri, ...taken },
			tracked: true,
		});
	const made = await ask({ from: "kits/loan.lode.yaml", lens: "wide", tracker: true });
	expect(made?.text).toContain(
		"\nlens:\n  from: kits/loan.lode.yaml\n  name: wide\n---\ntracker:\n  from: kits/loan.lode.yaml\n",
	);
	await client.open(uri, made?.text ?? "");
	expect(await client.diagnostics(uri)).toEqual([]);
	// What is not there is a finding of the plan, and no end of the server.
	const none = await ask({ from: "../../elsewhere\n: x", lens: "a: b", tracker: false });
	expect(none?.text).toMatch(
		/\nlens:\n {2}from: "..\/..\/elsewhere\\n: x"\n {2}name: "a: b"\n---\ntracker:\n {2}head: geared\n/,
	);
	expect((await kits(uri)).length).toBe(1);
});
