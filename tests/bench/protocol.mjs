// A small protocol client for the benchmarks: messages over standard input and output, no library between the clock and the bytes.
import { spawn } from "node:child_process";
import { readFileSync } from "node:fs";

export class Peer {
	constructor(command, args) {
		this.started = performance.now();
		this.process = spawn(command, args, { stdio: ["pipe", "pipe", "ignore"] });
		this.waiting = [];
		this.id = 0;
		let buffer = Buffer.alloc(0);
		this.process.stdout.on("data", (data) => {
			buffer = Buffer.concat([buffer, data]);
			for (;;) {
				const head = buffer.indexOf("\r\n\r\n");
				if (head < 0) return;
				const length = Number(/Content-Length: (\d+)/i.exec(buffer.subarray(0, head).toString())?.[1]);
				if (buffer.length < head + 4 + length) return;
				this.receive(JSON.parse(buffer.subarray(head + 4, head + 4 + length).toString()));
				buffer = buffer.subarray(head + 4 + length);
			}
		});
	}

	receive(message) {
		// What the server asks of the client is answered with nothing.
		if (message.id !== undefined && message.method !== undefined)
			this.send({
				id: message.id,
				result:
					message.method === "workspace/configuration" ? message.params.items.map(() => this.settings ?? null) : null,
			});
		this.waiting = this.waiting.filter(({ matches, found }) => {
			if (!matches(message)) return true;
			found(message);
			return false;
		});
	}

	send(message) {
		const text = JSON.stringify({ jsonrpc: "2.0", ...message });
		this.process.stdin.write(`Content-Length: ${Buffer.byteLength(text)}\r\n\r\n${text}`);
	}

	wait(matches) {
		return new Promise((found) => this.waiting.push({ matches, found }));
	}

	request(method, params) {
		const id = ++this.id;
		const answer = this.wait((message) => message.id === id && message.method === undefined);
		this.send({ id, method, params });
		return answer;
	}

	notify(method, params) {
		this.send({ method, params });
	}

	diagnostics(uri) {
		return this.wait((message) => message.method === "textDocument/publishDiagnostics" && message.params.uri === uri);
	}

	/** Resident memory in MiB, where the system tells it. */
	memory() {
		try {
			return Number(/VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${this.process.pid}/status`, "utf8"))?.[1]) / 1024;
		} catch {
			return Number.NaN;
		}
	}

	stop() {
		this.process.kill();
	}
}

export const quantile = (values, share) =>
	[...values].sort((a, b) => a - b)[Math.min(values.length - 1, Math.floor(share * values.length))];
