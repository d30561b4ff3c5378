// npm run release: checks that a version may be published, packs it, and says what is to be done.
//   npm run release -- --publish    publishes it too
//   npm run package                 packs the extension alone
// What only the owner knows is in package.json and nowhere else: `publisher`, `repository`, and whether it is `private`.
import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { fileURLToPath } from "node:url";

const root = fileURLToPath(new URL(".", import.meta.url));

/** What stands in the way of publishing a version, as sentences. */
export function hindrances(manifest, changelog) {
	const { version, publisher, repository, private: isPrivate } = manifest;
	const found = [];
	if (!publisher || publisher === "unpublished")
		found.push(
			"`publisher` in package.json is not the owner's: write the name under which the extension is published.",
		);
	if (!/^https:\/\/\S+/.test(repository?.url ?? ""))
		found.push("`repository.url` in package.json is missing: write the public address of the repository.");
	if (isPrivate) found.push("`private` in package.json keeps the package from being published: delete it.");
	const heading = changelog.split("\n").find((line) => line.startsWith(`## ${version}`));
	if (!heading) found.push(`CHANGELOG.md has no heading for ${version}.`);
	else if (!/ \(\d{4}-\d{2}-\d{2}\)$/.test(heading)) found.push(`CHANGELOG.md has no date for ${version}.`);
	return found;
}

/** What `vsce package` must be told while the repository has no public address: it leads the README's links and pictures there. */
export const packingFlags = ({ repository }) =>
	repository?.url ? [] : ["--allow-missing-repository", "--no-rewrite-relative-links"];

/** Packs the extension into a file. */
export function pack(file, folder = root) {
	const manifest = JSON.parse(readFileSync(`${folder}/package.json`, "utf8"));
	const vsce = createRequire(import.meta.url).resolve("@vscode/vsce/vsce");
	execFileSync(process.execPath, [vsce, "package", ...packingFlags(manifest), "--out", file], {
		cwd: folder,
		stdio: ["ignore", "ignore", "inherit"],
	});
}

function release() {
	const manifest = JSON.parse(readFileSync(`${root}package.json`, "utf8"));
	const found = hindrances(manifest, readFileSync(`${root}CHANGELOG.md`, "utf8"));
	const run = (program, ...args) => execFileSync(program, args, { cwd: root, stdio: "inherit" });
	if (execFileSync("git", ["status", "--porcelain"], { cwd: root, encoding: "utf8" }) !== "")
		found.push("There are changes that are not committed.");
	if (found.length > 0) {
		console.error(`Version ${manifest.version} is not published:\n${found.map((one) => `- ${one}`).join("\n")}`);
		process.exit(1);
	}
	run("npm", "run", "check");
	run("npm", "test");
	run("npm", "run", "package");
	if (!process.argv.includes("--publish")) {
		console.log("Ready. `npm run release -- --publish` publishes the extension and the command line.");
		return;
	}
	run("npx", "vsce", "publish", "--packagePath", "lodebook.vsix");
	run("npm", "publish");
	run("git", "tag", `v${manifest.version}`);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
	if (process.argv.includes("--pack")) pack(`${root}lodebook.vsix`);
	else release();
}
