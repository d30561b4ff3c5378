import { spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, symlinkSync, truncateSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { expect, test } from "vitest";
import type { Diagnostic, Location } from "vscode-languageserver";
import { planWith } from "../plan-text.ts";
import { positionOf, TestClient } from "./client.ts";
import { lodebook } from "./commands/run.ts";
import { serveWorkspace, siteBody, taking } from "./taking.ts";

const { client, folder, uriOf } = serveWorkspace();
let count = 0;

test("a plan whose site and lens stand in other files checks clean, and is told when they change", async () => {
	const uri = uriOf("plans/a.lode.yaml");
	await client.open(uri, taking);
	await expect.poll(async () => (await client.diagnostics(uri)).map(({ code }) => code)).toEqual([]);
	const spot = uriOf("stands/fold.lode.yaml");
	await client.open(spot, siteBody);
	await client.change(spot, [{ text: siteBody.replace("32.4123 S", "32.4123 N") }]);
	await expect.poll(async () => (await client.diagnostics(uri)).map(({ code }) => code)).toContain("site/hemisphere");
});

test("the definition of a `from`, asked for right after opening", async () => {
	const fresh = await new TestClient().start({}, pathToFileURL(folder).href);
	const uri = uriOf("plans/at-once.lode.yaml");
	await fresh.open(uri, taking);
	const [definition, lens] = await Promise.all(
		["stands/fold", "stands/kit"].map((name) =>
			fresh.request<Location>("textDocument/definition", {
				textDocument: { uri },
				position: positionOf(taking, taking.indexOf(name)),
			}),
		),
	);
	expect(definition).toMatchObject({ uri: uriOf("stands/fold.lode.yaml") });
	expect(lens).toMatchObject({ uri: uriOf("stands/kit.lode.yaml") });
	await fresh.stop();
});

test("a plan is told anew when what it takes through another file changes; a night's `from` leads to that file", async () => {
	const uri = uriOf("plans/through.lode.yaml");
	const night = planWith({})
		.split("---\n")
		.find((cell) => cell.startsWith("night:")) as string;
	writeFileSync(join(folder, "stands/through.lode.yaml"), "night:\n  from: far.lode.yaml\n");
	writeFileSync(join(folder, "stands/far.lode.yaml"), night);
	const text = planWith({ night: "from: ../stands/through.lode.yaml" });
	await client.open(uri, text);
	const codes = async () => (await client.diagnostics(uri)).map(({ code }) => code);
	await expect.poll(codes).toEqual([]);
	expect(
		await client.request<Location>("textDocument/definition", {
			textDocument: { uri },
			position: positionOf(text, text.indexOf("stands/through")),
		}),
	).toMatchObject({ uri: uriOf("stands/through.lode.yaml") });
	await client.open(uriOf("stands/far.lode.yaml"), night.replace(/ {2}date: .*\n/, ""));
	await expect.poll(codes).toContain("reuse/still-missing");
});

test("findings that are pulled right after opening know what is taken", async () => {
	const fresh = await new TestClient().start({ textDocument: { diagnostic: {} } }, pathToFileURL(folder).href);
	const uri = uriOf("plans/pulled.lode.yaml");
	writeFileSync(join(folder, "stands/north.lode.yaml"), siteBody.replace("32.4123 S", "32.4123 N"));
	await fresh.open(uri, taking.replace("fold.lode", "north.lode"));
	const { items } = await fresh.request<{ items: Diagnostic[] }>("textDocument/diagnostic", { textDocument: { uri } });
	expect(items.map(({ code }) => code)).toContain("site/hemisphere");
	await fresh.stop();
});

test("a plan is told anew when what it takes was closed and opened again with the same version", async () => {
	const uri = uriOf("plans/again.lode.yaml");
	const spot = uriOf("stands/again.lode.yaml");
	writeFileSync(join(folder, "stands/again.lode.yaml"), siteBody);
	const codes = async () => (await client.diagnostics(uri)).map(({ code }) => code);
	await client.open(uri, taking.replace("fold.lode", "again.lode"));
	await expect.poll(codes).toEqual([]);
	await client.openAt(spot, siteBody, 7);
	await expect.poll(codes).toEqual([]);
	await client.connection.sendNotification("textDocument/didClose", { textDocument: { uri: spot } });
	await client.openAt(spot, siteBody.replace("32.4123 S", "32.4123 N"), 7);
	await expect.poll(codes).toContain("site/hemisphere");
	// Closed, it is again what stands on the disk.
	await client.connection.sendNotification("textDocument/didClose", { textDocument: { uri: spot } });
	await expect.poll(codes).toEqual([]);
});

test("a plan is told anew when what it takes changes on disk: the client is asked to watch", async () => {
	const watching = new TestClient();
	const registered: { method: string; registerOptions?: { watchers?: { globPattern: string }[] } }[] = [];
	watching.connection.onRequest(
		"client/registerCapability",
		({ registrations }) => void registered.push(...registrations),
	);
	await watching.start(
		{ workspace: { didChangeWatchedFiles: { dynamicRegistration: true } } },
		pathToFileURL(folder).href,
	);
	const path = join(folder, "stands/disk.lode.yaml");
	writeFileSync(path, siteBody);
	const uri = uriOf("plans/disk.lode.yaml");
	await watching.open(uri, taking.replace("fold.lode", "disk.lode"));
	const codes = async () => (await watching.diagnostics(uri)).map(({ code }) => code);
	await expect.poll(codes).toEqual([]);
	await expect
		.poll(() => registered)
		.toMatchObject([
			{ method: "workspace/didChangeWatchedFiles", registerOptions: { watchers: [{ globPattern: "**/*.lode.yaml" }] } },
		]);
	writeFileSync(path, siteBody.replace("32.4123 S", "32.4123 N"));
	await watching.connection.sendNotification("workspace/didChangeWatchedFiles", {
		changes: [{ uri: uriOf("stands/disk.lode.yaml"), type: 2 }],
	});
	await expect.poll(codes).toContain("site/hemisphere");
	await watching.stop();
});

test("a missing file, a path out of the workspace, a circle: findings, and nothing outside is read", async () => {
	writeFileSync(join(folder, "plans/one.lode.yaml"), "site: { from: two.lode.yaml }\n");
	writeFileSync(join(folder, "plans/two.lode.yaml"), "site: { from: one.lode.yaml }\n");
	for (const [from, words] of [
		["none.lode.yaml", /There is no plan at/],
		["../../../../etc/passwd.lode.yaml", /leads out of the workspace|There is no plan/],
		["/etc/passwd", /Write a relative path/],
		["file:///etc/passwd", /Write a relative path/],
		["one.lode.yaml", /circle/],
	] as const) {
		const uri = uriOf(`plans/b${++count}.lode.yaml`);
		await client.open(uri, planWith({ site: `from: ${from}` }));
		await expect
			.poll(async () => (await client.diagnostics(uri)).find(({ code }) => code === "reuse/cannot-take")?.message ?? "")
			.toMatch(words);
	}
});

// Links cannot be made by everybody there.
test.skipIf(process.platform === "win32")(
	"a link that leads out of the workspace is not read, whatever part of the path it is; one that stays in it is",
	async () => {
		const outside = mkdtempSync(join(tmpdir(), "lodebook-outside-"));
		writeFileSync(join(outside, "site.lode.yaml"), siteBody);
		symlinkSync(join(outside, "site.lode.yaml"), join(folder, "plans/file-link.lode.yaml"));
		symlinkSync(outside, join(folder, "plans/folder-link"));
		symlinkSync("file-link.lode.yaml", join(folder, "plans/link-to-link.lode.yaml"));
		symlinkSync("../stands", join(folder, "plans/inner-link"));
		const finding = async (from: string): Promise<string> => {
			const uri = uriOf(`plans/b${++count}.lode.yaml`);
			await client.open(uri, planWith({ site: `from: ${from}` }));
			// It is told twice: before the other file is read, and after.
			await expect
				.poll(async () => (await client.diagnostics(uri)).filter(({ code }) => code !== "method/local-rules").length)
				.toBe(from.startsWith("inner") ? 0 : 1);
			return (await client.diagnostics(uri)).map(({ code, message }) => `${code}: ${message}`).join("\n");
		};
		for (const from of ["file-link.lode.yaml", "folder-link/site.lode.yaml", "link-to-link.lode.yaml"])
			expect(await finding(from)).toMatch(/^reuse\/cannot-take: .*leads out of the workspace/);
		expect(await finding("inner-link/fold.lode.yaml")).toBe("");
	},
);

test.skipIf(process.platform === "win32")(
	"a pipe, a folder and a file over the limit are not there, and nothing waits",
	async () => {
		spawnSync("mkfifo", [join(folder, "plans/pipe.lode.yaml")]);
		mkdirSync(join(folder, "plans/folder.lode.yaml"));
		writeFileSync(join(folder, "plans/large.lode.yaml"), siteBody);
		truncateSync(join(folder, "plans/large.lode.yaml"), 5_000_001);
		for (const name of ["pipe", "folder", "large"]) {
			const uri = uriOf(`plans/b${++count}.lode.yaml`);
			await client.open(uri, planWith({ site: `from: ${name}.lode.yaml` }));
			await expect
				.poll(
					async () => (await client.diagnostics(uri)).find(({ code }) => code === "reuse/cannot-take")?.message ?? "",
				)
				.toMatch(/There is no plan at/);
		}
	},
);

test.skipIf(process.platform === "win32")("check reads a link as the server does", () => {
	const root = mkdtempSync(join(tmpdir(), "lodebook-links-"));
	const outside = mkdtempSync(join(tmpdir(), "lodebook-outside-"));
	mkdirSync(join(root, ".git"));
	writeFileSync(join(outside, "site.lode.yaml"), siteBody);
	symlinkSync(outside, join(root, "folder-link"));
	writeFileSync(join(root, "a.lode.yaml"), planWith({ site: "from: folder-link/site.lode.yaml" }));
	const { status, stdout } = lodebook("check", join(root, "a.lode.yaml"));
	expect(status).toBe(1);
	expect(stdout).toMatch(/leads out of the workspace.*reuse\/cannot-take/);
});

test("settings at the root hold for every open plan, and for none once they are gone", async () => {
	const root = mkdtempSync(join(tmpdir(), "lodebook-settings-"));
	const fresh = await new TestClient().start({}, pathToFileURL(root).href);
	const plan = pathToFileURL(join(root, "a.lode.yaml")).href;
	const file = pathToFileURL(join(root, "lodebook.lode.yaml")).href;
	const severityOf = async (): Promise<unknown> =>
		(await fresh.diagnostics(plan)).find(({ code }) => code === "method/better-available")?.severity ?? "none";
	await fresh.open(
		plan,
		planWith({ site: "name: Open field\nlatitude: 32.4123 S\nlongitude: 54.3622 W", method: "kind: phone" }),
	);
	await expect.poll(severityOf).toBe(3);
	const settings = (severity: string): string =>
		`settings:\n  findings:\n    - { code: method/better-available, severity: ${severity} }\n`;
	await fresh.open(file, settings("error"));
	await expect.poll(severityOf).toBe(1);
	await fresh.change(file, [{ text: settings("off") }]);
	await expect.poll(severityOf).toBe("none");
	expect((await fresh.diagnostics(file)).map(({ code }) => code)).toEqual([]);
	await fresh.connection.sendNotification("textDocument/didClose", { textDocument: { uri: file } });
	await expect.poll(severityOf).toBe(3);
	await fresh.stop();
});
