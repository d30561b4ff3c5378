// npm run generate: writes the files that are made from the code. With --check it only compares, and fails on a stale one.
import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { dirname } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { figures } from "../shared/sky/catalogue/generate-figures.mjs";
import { milkyWay } from "../shared/sky/catalogue/generate-milky-way.mjs";
import { objectTable } from "../shared/sky/catalogue/generate-objects.mjs";
import { starTable } from "../shared/sky/catalogue/generate-stars.mjs";
import { bundle } from "./bundle.mjs";
import { clientTexts } from "./client-texts.mjs";

const root = fileURLToPath(new URL("../", import.meta.url));

/** Imports TypeScript by bundling it. */
async function load(path) {
	const outfile = `${root}node_modules/.cache/lodebook/${path.replace(/\W/g, "-")}.cjs`;
	await bundle(path, outfile);
	return (await import(pathToFileURL(outfile).href)).default;
}

const check = process.argv.includes("--check");
const stale = [];
function write(name, text) {
	const path = root + name;
	if (existsSync(path) && readFileSync(path, "utf8") === text) return;
	if (check) stale.push(name);
	else {
		mkdirSync(dirname(path), { recursive: true });
		writeFileSync(path, text);
		console.log(`written: ${name}`);
	}
}

// Tables first: the rest is made from code that needs them.
write("shared/sky/catalogue/star-table.ts", starTable());
write("shared/sky/catalogue/milky-way.ts", milkyWay());
write("shared/sky/catalogue/figures.ts", figures());
write("shared/sky/catalogue/object-table.ts", objectTable());
const { planSchema } = await load("shared/outputs/reference/json-schema.ts");
const { formatReference, methodReference, findingReference } = await load("shared/outputs/reference/reference.ts");
write("schemas/lodebook-plan.schema.json", `${JSON.stringify(planSchema(), null, "\t")}\n`);
const { ANSWER_SCHEMAS } = await load("shared/outputs/reference/answer-schemas.ts");
for (const [name, schema] of Object.entries(ANSWER_SCHEMAS))
	write(`schemas/lodebook-${name}.schema.json`, `${JSON.stringify(schema, null, "\t")}\n`);
write("shared/outputs/reference/format.md", formatReference());
write("shared/outputs/reference/methods.md", methodReference());
write("shared/outputs/reference/findings.md", findingReference());
const { valueReference } = await load("shared/outputs/reference/values.ts");
write("shared/outputs/reference/values.md", valueReference());
const { outputReference } = await load("shared/outputs/reference/outputs.ts");
write("shared/outputs/reference/outputs.md", outputReference());

const { tutorialPictures } = await load("shared/outputs/reference/tutorial-pictures.ts");
for (const [name, picture] of tutorialPictures(readFileSync(`${root}shared/outputs/reference/tutorial.md`, "utf8")))
	write(`shared/outputs/reference/pictures/tutorial-${name}.svg`, picture);

// What the extension says by itself: the editor's own file for translators.
write("client/l10n/bundle.l10n.json", `${JSON.stringify(clientTexts(), null, "\t")}\n`);

if (stale.length > 0) {
	console.error(`Stale, run npm run generate: ${stale.join(", ")}`);
	process.exit(1);
}
