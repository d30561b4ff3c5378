// npm run site -- FOLDER: writes the documentation as a static site: README, tutorial, glossary, reference, changes, and each
// sample with the page made of it. No script, no request. Fails on a link that leads nowhere.
import { execFileSync } from "node:child_process";
import { copyFileSync, existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join, posix } from "node:path";
import { fileURLToPath } from "node:url";
import markdownIt from "markdown-it";
import { ensureBuilt } from "./built.mjs";

const root = fileURLToPath(new URL("../", import.meta.url));

/** Pages by their source, in the order of the contents; each with its place on the site and its name in the menu. */
const PAGES = [
	["README.md", "index.html", "Lodebook"],
	["shared/outputs/reference/tutorial.md", "tutorial.html", "Tutorial"],
	["shared/outputs/reference/glossary.md", "glossary.html", "Glossary"],
	["shared/outputs/reference/format.md", "format.html", "The plan file"],
	["shared/outputs/reference/methods.md", "methods.html", "Methods"],
	["shared/outputs/reference/findings.md", "findings.html", "Findings"],
	["shared/outputs/reference/values.md", "values.html", "Values"],
	["shared/outputs/reference/outputs.md", "outputs.html", "Outputs"],
	["samples/README.md", "samples/index.html", "Samples"],
	["CHANGELOG.md", "changes.html", "Changes"],
	["DEVELOPERS.md", "developers.html", "For developers"],
];
const placeOf = new Map(PAGES);

/** The anchor of a heading, as repositories make it. */
export const slug = (heading) =>
	heading
		.trim()
		.toLowerCase()
		.replace(/[^\p{L}\p{N}\s_-]/gu, "")
		.replace(/\s/g, "-");

/** Texts of the headings in a Markdown text, with their anchors. */
function headingsOf(tokens) {
	const seen = new Map();
	return tokens.flatMap((token, i) => {
		if (token.type !== "heading_open") return [];
		const text = tokens[i + 1].children.map(({ content }) => content).join("");
		const base = slug(text);
		const count = seen.get(base) ?? 0;
		seen.set(base, count + 1);
		return [{ token, text, level: Number(token.tag.slice(1)), anchor: count === 0 ? base : `${base}-${count}` }];
	});
}

const STYLE = `:root{color-scheme:light dark}body{font:17px/1.5 system-ui,sans-serif;max-width:46rem;margin:0 auto;padding:1rem}
nav ul{display:flex;flex-wrap:wrap;gap:.3rem 1rem;list-style:none;padding:0}a{color:LinkText}
[aria-current]{font-weight:bold}pre{overflow-x:auto;padding:.7rem;border:1px solid #8886;border-radius:4px}
code{font-size:.9em}table{border-collapse:collapse;display:block;overflow-x:auto}th,td{border:1px solid #8886;padding:.3rem .6rem;text-align:left;vertical-align:top}
img{max-width:100%;height:auto}`;

/**
 * The site: files by their place, each a text or the path of what is copied, and what is wrong with its links.
 * `plans`: names of samples of which a page is made. `read`: the text of a source.
 */
export function site(plans, read = (source) => readFileSync(join(root, source), "utf8")) {
	const files = new Map();
	const wrong = [];
	const anchors = new Map();
	const links = [];
	const markdown = markdownIt({ html: true });
	for (const [source, place] of PAGES) {
		const tokens = markdown.parse(read(source), {});
		const headings = headingsOf(tokens);
		for (const { token, anchor } of headings) token.attrSet("id", anchor);
		anchors.set(place, new Set(headings.map(({ anchor }) => anchor)));
		for (const { children } of tokens)
			for (const token of children ?? []) {
				const name = token.type === "link_open" ? "href" : token.type === "image" ? "src" : undefined;
				if (name) token.attrSet(name, linkOf(token.attrGet(name), source, place));
			}
		const title = headings[0]?.text ?? source;
		const contents = headings.filter(({ level }) => level === 2);
		const menu = PAGES.map(([, at, name]) => {
			const current = at === place ? ' aria-current="page"' : "";
			return `<li><a href="${relativeTo(place, at)}"${current}>${name}</a></li>`;
		}).join("");
		const inside =
			contents.length > 3
				? `<nav aria-label="On this page"><ul>${contents.map(({ anchor, text }) => `<li><a href="#${anchor}">${markdown.utils.escapeHtml(text)}</a></li>`).join("")}</ul></nav>`
				: "";
		files.set(place, {
			text: `<!doctype html>\n<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>${markdown.utils.escapeHtml(title)}</title><style>${STYLE}</style></head><body><nav aria-label="Pages"><ul>${menu}</ul></nav><main>${inside}\n${markdown.renderer.render(tokens, markdown.options, {})}</main></body></html>\n`,
		});
	}
	for (const name of plans) files.set(`samples/${name}.html`, { plan: `samples/${name}.lode.yaml` });
	for (const { source, place, anchor } of links) {
		if (!files.has(place)) wrong.push(`${source}: ${place} is not there`);
		else if (anchor && anchors.has(place) && !anchors.get(place).has(anchor))
			wrong.push(`${source}: ${place} has no heading #${anchor}`);
	}
	return { files, wrong };

	/** Where a link leads on the site; a file that is no page comes along. */
	function linkOf(link, source, place) {
		if (/^[a-z]+:/i.test(link)) return link;
		const [path, anchor] = decodeURI(link).split("#");
		const target = path === "" ? source : posix.join(posix.dirname(source), path);
		const sample = /^samples\/([\w-]+)\.lode\.yaml$/.exec(target)?.[1];
		const to = placeOf.get(target) ?? (plans.includes(sample) ? `samples/${sample}.html` : target);
		if (to === target && existsSync(join(root, target)) && /\.\w+$/.test(target)) files.set(to, { copy: target });
		links.push({ source, place: to, anchor });
		return relativeTo(place, to) + (anchor ? `#${anchor}` : "");
	}
}

const relativeTo = (from, to) => posix.relative(posix.dirname(from), to) || posix.basename(to);
/** Names of the samples. */
export const samplePlans = () =>
	readdirSync(join(root, "samples")).flatMap((name) => /^([\w-]+)\.lode\.yaml$/.exec(name)?.[1] ?? []);

if (process.argv[1] === fileURLToPath(import.meta.url)) {
	const [folder] = process.argv.slice(2);
	if (!folder) {
		console.error("npm run site -- FOLDER: say where the site is to be written.");
		process.exit(2);
	}
	await ensureBuilt();
	const { files, wrong } = site(samplePlans());
	for (const [place, { text, copy, plan }] of files) {
		const path = join(folder, place);
		mkdirSync(dirname(path), { recursive: true });
		if (text !== undefined) writeFileSync(path, text);
		else if (copy) copyFileSync(join(root, copy), path);
		else
			execFileSync(process.execPath, [join(root, "dist/lodebook.mjs"), "show", join(root, plan), "--html", "-o", path]);
	}
	console.log(`${files.size} files in ${folder}`);
	for (const one of wrong) console.error(one);
	if (wrong.length > 0) process.exit(1);
}
