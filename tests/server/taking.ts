/** A workspace on disk: plans that take cells from others in it, and a server that knows its root. */
import { mkdirSync, mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { afterAll, beforeAll } from "vitest";
import { planWith } from "../plan-text.ts";
import { TestClient } from "./client.ts";

/** A plan whose site and lens stand in other files. */
export const taking = planWith({ site: "from: ../stands/fold.lode.yaml", lens: null }).replace(
	"---\nnight",
	"---\nlens:\n  from: ../stands/kit.lode.yaml\n  f-number: 2.8\n---\nnight",
);
export const siteBody = planWith({}).split("---\n")[1] as string;

/** Writes what is taken, and starts the server before the file's tests. */
export function serveWorkspace() {
	const folder = mkdtempSync(join(tmpdir(), "lodebook-reuse-"));
	const client = new TestClient();
	beforeAll(async () => {
		mkdirSync(join(folder, "stands"));
		mkdirSync(join(folder, "plans"));
		writeFileSync(join(folder, "stands/fold.lode.yaml"), siteBody);
		writeFileSync(join(folder, "stands/kit.lode.yaml"), planWith({}).split("---\n")[3] as string);
		await client.start({}, pathToFileURL(folder).href);
	});
	afterAll(() => client.stop());
	return { client, folder, uriOf: (name: string): string => pathToFileURL(join(folder, name)).href };
}
