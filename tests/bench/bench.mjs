// npm run bench: how fast it is, beside a general YAML language server with our JSON Schema on the same file, in one run.
// Prints medians and 95th percentiles; with --write puts the table into DEVELOPERS.md.
import { execFileSync, spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { cpus, tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { gzipSync } from "node:zlib";
import { chromium } from "playwright-core";
import { ensureBuilt } from "../built.mjs";
import { bundle } from "../bundle.mjs";
import { Peer, quantile } from "./protocol.mjs";
import { sliderFrames } from "./slider.mjs";
import { Typing } from "./typing.mjs";

const root = fileURLToPath(new URL("../../", import.meta.url));
const peerServer = join(root, "node_modules/yaml-language-server/bin/yaml-language-server");
const schema = pathToFileURL(join(root, "schemas/lodebook-plan.schema.json")).href;
const sample = readFileSync(join(root, "samples/roofless-chapel.lode.yaml"), "utf8");

/** A plan of about so many lines: the sample with many targets. */
function planOf(lines) {
	const target = (i) =>
		`  - name: more ${i}\n    aim: galactic-centre\n    lens: wide\n    from: "${String(20 + (i % 4)).padStart(2, "0")}:${String((i * 7) % 60).padStart(2, "0")}"\n    exposure: 30 s\n    frames: 2\n    foreground: true\n`;
	let text = sample.replace(/---\nnote:[\s\S]*$/, "");
	for (let i = 0; text.split("\n").length < lines; i++) text += target(i);
	return text;
}

const rows = [];
const row = (what, ours, peer, unit = "ms") => rows.push({ what, ours, peer, unit });

const uri = "file:///bench/plan.lode.yaml";
const settings = {
	yaml: {
		validate: true,
		hover: true,
		completion: true,
		schemaStore: { enable: false },
		schemas: { [schema]: "*.lode.yaml" },
	},
};

/** A server with the plan open, and how long it took from its start to the first diagnostics, if they are waited for. */
async function open(kind, text, awaited = true) {
	const peer =
		kind === "ours"
			? new Peer(process.execPath, [join(root, "dist/lodebook.mjs"), "lsp", "--stdio"])
			: new Peer(process.execPath, [peerServer, "--stdio"]);
	peer.settings = settings.yaml;
	await peer.request("initialize", {
		processId: process.pid,
		rootUri: null,
		capabilities: { textDocument: {}, workspace: {} },
		initializationOptions: {},
	});
	peer.notify("initialized", {});
	if (kind === "peer") peer.notify("workspace/didChangeConfiguration", { settings });
	const told = peer.diagnostics(uri);
	peer.notify("textDocument/didOpen", {
		textDocument: { uri, languageId: kind === "ours" ? "lodebook" : "yaml", version: 1, text },
	});
	if (awaited) await told;
	return { peer, start: performance.now() - peer.started };
}

/** How long somebody waits who opens the plan and types where a date belongs at once: nothing is remembered yet. */
async function firstCompletion(kind, text) {
	const { peer } = await open(kind, text, false);
	const line = text.split("\n").findIndex((one) => one.startsWith("  date: "));
	await peer.request("textDocument/completion", {
		textDocument: { uri },
		position: { line, character: "  date: ".length },
	});
	peer.stop();
	return performance.now() - peer.started;
}

async function serve(kind, text, edits) {
	const { peer } = await open(kind, text);
	const typing = new Typing(text);
	const keystrokes = [];
	const hovers = [];
	const completions = [];
	for (let i = 0; i < edits; i++) {
		const told = peer.diagnostics(uri);
		const start = performance.now();
		const at = typing.edit(peer, uri);
		// Every other time a hover is asked for right after the edit.
		if (i % 2 === 0) {
			await peer.request("textDocument/hover", { textDocument: { uri }, position: at });
			hovers.push(performance.now() - start);
			await told;
			const asked = performance.now();
			await peer.request("textDocument/completion", { textDocument: { uri }, position: at });
			completions.push(performance.now() - asked);
		} else {
			await told;
			keystrokes.push(performance.now() - start);
		}
	}
	peer.stop();
	return { keystrokes, hovers, completions };
}

/** Resident memory after a thousand edits all over the plan, ten of them between two looks at the diagnostics. */
async function memoryOf(kind, text) {
	const { peer } = await open(kind, text);
	const typing = new Typing(text);
	for (let i = 0; i < EDITS_OF_A_DAY; i++) {
		const told = i % 10 === 9 ? peer.diagnostics(uri) : undefined;
		typing.edit(peer, uri);
		await told;
	}
	const memory = peer.memory();
	peer.stop();
	return memory;
}

const EDITS_OF_A_DAY = 1000;

async function editor(lines) {
	const text = planOf(lines);
	const withPeer = existsSync(peerServer);
	const ours = await serve("ours", text, 400);
	const peer = withPeer ? await serve("peer", text, 40) : undefined;
	const both = (what, f) => row(`${what}, ${lines} lines`, f(ours), peer && f(peer));
	both("edit anywhere → diagnostics, median", ({ keystrokes }) => quantile(keystrokes, 0.5));
	both("edit anywhere → diagnostics, p95", ({ keystrokes }) => quantile(keystrokes, 0.95));
	both("hover right after an edit, median", ({ hovers }) => quantile(hovers, 0.5));
	both("completion, median", ({ completions }) => quantile(completions, 0.5));
	if (lines < 200) {
		const starts = { ours: [], peer: [] };
		// In turns, so that what else the machine does falls on both.
		for (let i = 0; i < 10; i++) {
			for (const kind of withPeer ? ["ours", "peer"] : ["ours"]) {
				const { peer: one, start } = await open(kind, text);
				starts[kind].push(start);
				one.stop();
			}
		}
		row(
			"spawn → first diagnostics, median of ten",
			quantile(starts.ours, 0.5),
			withPeer ? quantile(starts.peer, 0.5) : undefined,
		);
		const firsts = { ours: [], peer: [] };
		for (let i = 0; i < 10; i++)
			for (const kind of withPeer ? ["ours", "peer"] : ["ours"]) firsts[kind].push(await firstCompletion(kind, text));
		row(
			"spawn → first completion, of a good night, median of ten",
			quantile(firsts.ours, 0.5),
			withPeer ? quantile(firsts.peer, 0.5) : undefined,
		);
	}
	row(
		`memory after 1000 edits, ${lines} lines`,
		await memoryOf("ours", text),
		withPeer ? await memoryOf("peer", text) : undefined,
		"MiB",
	);
}

/** The sample's core in 60 panels of a longer lens. */
const SIXTY = sample
	.replace("focal-length: 24 mm", "focal-length: 50 mm")
	.replace("exposure: 90 s\n    frames: 12", "exposure: 30 s\n    panorama: { columns: 12, rows: 5, overlap: 30 % }");

/** Somebody who types in a panorama of 60 panels, or elsewhere in its plan. */
async function panorama() {
	if (!SIXTY.includes("columns: 12")) throw new Error("the sample's core is not where it was");
	const { peer } = await open("ours", SIXTY);
	const lines = SIXTY.split("\n");
	let version = 1;
	const typed = async (line, before, digit) => {
		const character = lines[line].indexOf(before) + before.length;
		const told = peer.diagnostics(uri);
		const start = performance.now();
		peer.notify("textDocument/didChange", {
			textDocument: { uri, version: ++version },
			contentChanges: [{ range: { start: { line, character }, end: { line, character: character + 1 } }, text: digit }],
		});
		await told;
		return performance.now() - start;
	};
	const after = (line) => lines.findIndex((one, i) => i > line && one.includes("exposure:"));
	const core = lines.findIndex((one) => one.includes("name: core"));
	const other = lines.findIndex((one) => one.includes("name: gable"));
	const [inside, elsewhere] = [[], []];
	for (let i = 0; i < 150; i++) {
		inside.push(await typed(after(core), "exposure: ", String(1 + (i % 9))));
		elsewhere.push(await typed(after(other), "exposure: ", String(1 + (i % 9))));
	}
	peer.stop();
	row("edit in a panorama of 60 panels → diagnostics, median", quantile(inside, 0.5));
	row("edit elsewhere in its plan → diagnostics, median", quantile(elsewhere, 0.5));
}

/** The core, bundled as it ships, in this process. */
async function core() {
	const outfile = join(mkdtempSync(join(tmpdir(), "bench-")), "core.cjs");
	await bundle("tests/bench/core.ts", outfile);
	const result = JSON.parse(
		execFileSync(process.execPath, [outfile], {
			encoding: "utf8",
			env: { ...process.env, LODEBOOK_SAMPLE: join(root, "samples/roofless-chapel.lode.yaml") },
		}),
	);
	for (const [what, value] of Object.entries(result)) row(what, value, undefined);
}

/** Folders of plans on one core and on two: the samples on other nights. */
function many() {
	const names = ["roofless-chapel", "dry-gorge", "gannet-cave", "larch-clearing", "terrace-near-the-line"];
	const texts = names.map((name) => readFileSync(join(root, `samples/${name}.lode.yaml`), "utf8"));
	const cli = join(root, "dist/lodebook.mjs");
	const timed = (...args) => {
		const start = performance.now();
		// Some of the plans have errors, as nights are chosen without a look at the sky.
		spawnSync(process.execPath, [cli, ...args], { stdio: "ignore" });
		return performance.now() - start;
	};
	const folderOf = (count) => {
		const folder = mkdtempSync(join(tmpdir(), "bench-"));
		for (let i = 0; i < count; i++) {
			const date = new Date(Date.UTC(2027, 0, 1 + ((i * 3) % 700))).toISOString().slice(0, 10);
			writeFileSync(
				join(folder, `${String(i).padStart(4, "0")}.lode.yaml`),
				texts[i % texts.length].replace(/date: \S+/, `date: ${date}`),
			);
		}
		return folder;
	};
	for (const count of [1, 500, 2000]) {
		const folder = folderOf(count);
		for (const jobs of ["1", "2"]) {
			const times = [1, 2, 3].map(() => timed("check", "--jobs", jobs, folder));
			const cores = jobs === "1" ? "1 core" : "2 cores";
			row(`lodebook check, ${count} plan${count === 1 ? "" : "s"}, ${cores}`, quantile(times, 0.5), undefined);
			if (count === 500)
				row(
					`lodebook report, ${count} plans, ${cores}`,
					timed("report", folder, "--jobs", jobs, "-o", join(folder, "site")),
				);
		}
	}
}

/** `lodebook measure` of one frame, from its start to its end. */
async function frames() {
	const folder = mkdtempSync(join(tmpdir(), "bench-"));
	const maker = join(folder, "frame.cjs");
	await bundle("tests/bench/frame.ts", maker, "tests/frames/camera.ts");
	for (const width of [6000, 9500]) {
		const frame = join(folder, `${width}.jpg`);
		execFileSync(process.execPath, [maker, frame, String(width)]);
		const peaks = join(folder, `${width}.peaks`);
		// Written at its end by the process itself, in KiB.
		const told = `import{appendFileSync as a}from"node:fs";process.on("exit",()=>a(${JSON.stringify(peaks)},process.resourceUsage().maxRSS+"\\n"))`;
		const run = () => {
			const start = performance.now();
			execFileSync(process.execPath, [
				"--import",
				`data:text/javascript,${encodeURIComponent(told)}`,
				join(root, "dist/lodebook.mjs"),
				"measure",
				join(root, "samples/roofless-chapel.lode.yaml"),
				frame,
			]);
			return performance.now() - start;
		};
		const what = `lodebook measure, a JPEG of ${Math.round((width * width * 2) / 3e6)} megapixels`;
		row(`${what}, median`, quantile([run(), run(), run()], 0.5), undefined);
		const most = readFileSync(peaks, "utf8").trim().split("\n").map(Number);
		row(`${what}, memory at its peak`, Math.max(...most) / 1024, undefined, "MiB");
	}
}

/** The page's clock slider in Chromium, where there is one. */
async function slider() {
	const executablePath = process.env.LODEBOOK_BROWSER ?? "/usr/bin/chromium";
	if (!existsSync(executablePath)) return;
	const file = join(mkdtempSync(join(tmpdir(), "bench-")), "page.html");
	const plan = join(root, "samples/roofless-chapel.lode.yaml");
	execFileSync(process.execPath, [join(root, "dist/lodebook.mjs"), "show", plan, "--html", "-o", file]);
	const browser = await chromium.launch({ executablePath, args: ["--no-sandbox"] });
	const page = await browser.newPage({ viewport: { width: 1280, height: 900 } });
	await page.goto(pathToFileURL(file).href);
	const frames = await sliderFrames(page, 2000);
	row("frame of the slider with 2,000 stars, script and layout in Chromium, p95", quantile(frames, 0.95));
	await browser.close();
}

await ensureBuilt();
await editor(120);
await editor(2000);
await panorama();
await core();
await slider();
many();
await frames();
for (const file of ["server.worker.js", "server.later.js", "extension.browser.js"]) {
	const path = join(root, "dist", file);
	row(`${file}, compressed`, gzipSync(readFileSync(path)).length / 1024, undefined, "kB");
	void statSync(path);
}

const shown = (value, unit) =>
	value === undefined || Number.isNaN(value) ? "" : `${value < 10 ? value.toFixed(2) : value.toFixed(0)} ${unit}`;
const table = [
	"| what | Lodebook | yaml-language-server | ratio |",
	"|---|---|---|---|",
	...rows.map(
		({ what, ours, peer, unit }) =>
			`| ${what} | ${shown(ours, unit)} | ${shown(peer, unit)} | ${peer ? (ours / peer).toFixed(2) : ""} |`,
	),
].join("\n");
console.log(table);
if (process.argv.includes("--write")) {
	const path = join(root, "DEVELOPERS.md");
	const text = readFileSync(path, "utf8");
	const machine = `Measured on ${cpus().length} cores (${cpus()[0]?.model ?? "unknown"}), Node ${process.versions.node}, by \`npm run bench -- --write\`.`;
	writeFileSync(
		path,
		text.replace(/<!-- bench -->[\s\S]*<!-- \/bench -->/, `<!-- bench -->\n${machine}\n\n${table}\n<!-- /bench -->`),
	);
}
