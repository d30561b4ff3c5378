// Loaded into the built command before it (`node --import`): its calls of the file system below one folder are counted,
// and at one of them something happens. What is to happen is in LODEBOOK_FAULT, as JSON:
//   { folder, log }               only writes down the calls, one name a line
//   { folder, at, fault: "EIO" }  the call of that number fails (one that closes, closes first)
//   { folder, at, fault: "SHORT" }  a call that writes writes half, and the next one finds the disk full
//   { folder, at, fault: "KILL" } the process is killed before the call
//   { folder, at, fault: "EDIT", file }  another program adds a line to a file before the call
//   { folder, slow }              every call takes that many milliseconds longer, so that a kill falls between two
import fs from "node:fs";
import { syncBuiltinESMExports } from "node:module";

const { folder, log, at, fault, file: edited, slow } = JSON.parse(process.env.LODEBOOK_FAULT);
const real = { ...fs };
const names = [];
const files = new Set();
const still = new Int32Array(new SharedArrayBuffer(4));

const isBelow = (path) => (typeof path === "string" || Buffer.isBuffer(path)) && String(path).startsWith(folder);

function failure(code, syscall) {
	return Object.assign(new Error(`${code}: made up, ${syscall}`), { code, syscall, errno: -1 });
}

function watch(name, call, onFile) {
	return (...args) => {
		if (!(onFile ? files.has(args[0]) : args.some(isBelow))) return call(...args);
		names.push(name);
		if (slow) Atomics.wait(still, 0, 0, slow);
		if (names.length === at) {
			if (fault === "KILL") {
				process.kill(process.pid, "SIGKILL");
				for (;;);
			}
			if (fault === "EDIT") real.appendFileSync(edited, "# added meanwhile\n");
			else if (fault === "SHORT") {
				if (name !== "writeSync") throw failure("ENOSPC", name);
				const [fd, bytes, from, length] = args;
				return call(fd, bytes, from, Math.floor(length / 2));
			} else {
				if (name === "closeSync") call(...args);
				throw failure(fault, name);
			}
		}
		if (fault === "SHORT" && names.length === at + 1 && name === "writeSync") throw failure("ENOSPC", name);
		const result = call(...args);
		if (name === "openSync") files.add(result);
		if (name === "closeSync") files.delete(args[0]);
		return result;
	};
}

for (const name of [
	"openSync",
	"statSync",
	"lstatSync",
	"accessSync",
	"renameSync",
	"linkSync",
	"unlinkSync",
	"readdirSync",
])
	fs[name] = watch(name, real[name], false);
for (const name of ["readSync", "writeSync", "fsyncSync", "fstatSync", "fchmodSync", "fchownSync", "closeSync"])
	fs[name] = watch(name, real[name], true);
fs.realpathSync.native = watch("realpathSync", real.realpathSync.native, false);
syncBuiltinESMExports();

if (log) process.on("exit", () => real.writeFileSync(log, names.join("\n")));
