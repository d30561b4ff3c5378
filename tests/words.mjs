// npm run words -- FILE: writes every sentence of the house as one JSON file, by key, that a translator can replace. Names in
// braces are filled in when a sentence is told and are kept. `node esbuild.config.mjs --words FILE` builds with such a file.
import { writeFileSync } from "node:fs";
import { allWords } from "./all-words.mjs";

const [file] = process.argv.slice(2);
const text = `${JSON.stringify(await allWords(), null, "\t")}\n`;
if (file) writeFileSync(file, text);
else process.stdout.write(text);
