// npm run bench: how fast it is, beside a general YAML language server with our JSON Schema on the same file, in one run.
// Prints medians and 95th percentiles; with --write puts the table into DEVELOPERS.md.
import { execFileSync } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { cpus, tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { gzipSync } from "node:zlib";
import { ensureBuilt } from "../built.mjs";
import { bundle } from "../bundle.mjs";
import { Peer, quantile } from "./protocol.mjs";
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

/** A server with the plan open, and how long it took from its start to the first diagnostics. */
async function open(kind, text) {
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
	await told;
	return { peer, start: performance.now() - peer.started };
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
	}
	row(
		`memory after 1000 edits, ${lines} lines`,
		await memoryOf("ours", text),
		withPeer ? await memoryOf("peer", text) : undefined,
		"MiB",
	);
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

await ensureBuilt();
await editor(120);
await editor(2000);
await core();
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
