/** The report of a folder: a site that holds together, escapes what plans hold, and never writes over what is not its own. */
import {
	existsSync,
	lstatSync,
	mkdirSync,
	mkdtempSync,
	readdirSync,
	readFileSync,
	symlinkSync,
	writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join, resolve } from "node:path";
import sax from "sax";
import { beforeAll, describe, expect, test } from "vitest";
import { runIn, samples } from "./run.ts";

const folder = mkdtempSync(join(tmpdir(), "lodebook-"));
const out = join(folder, "site");
const report = (...args: string[]) => runIn(folder, "report", ...args);
const filesOf = (path: string): readonly string[] =>
	readdirSync(path, { recursive: true, encoding: "utf8" })
		.filter((name) => lstatSync(join(path, name)).isFile())
		.map((name) => name.replaceAll("\\", "/"))
		.sort();

/** Links of a page, and its text, as a parser of XML sees them once what HTML alone allows is out of the way. */
function read(path: string): { readonly links: readonly string[]; readonly text: string } {
	const links: string[] = [];
	let text = "";
	const parser = sax.parser(true);
	parser.onopentag = ({ name, attributes }) => {
		if (name === "script" || name.startsWith("on")) throw new Error(`a script in ${path}`);
		for (const key of Object.keys(attributes)) if (/^on/i.test(key)) throw new Error(`${key} in ${path}`);
		if (name === "a") links.push(String(attributes.href));
	};
	parser.ontext = (some) => {
		text += `${some}\n`;
	};
	parser.onerror = (error) => {
		throw error;
	};
	const body = /<main[\s\S]*<\/main>/.exec(readFileSync(path, "utf8"))?.[0] ?? "";
	parser.write(body.replace(/<br>/g, "<br/>")).close();
	return { links, text };
}

beforeAll(() => {
	expect(report(samples, "-o", "site")).toMatchObject({ status: 0, stdout: "" });
});

describe("of the samples", () => {
	const paths = readdirSync(samples, { recursive: true, encoding: "utf8" })
		.filter((path) => path.endsWith(".lode.yaml"))
		.map((path) => path.replaceAll("\\", "/"));

	test("every plan has its page, and every link leads to a file", () => {
		const files = new Set(filesOf(out));
		for (const path of paths) expect(files).toContain(`plans/${path.replace(".lode.yaml", ".plan")}/index.html`);
		const seen = new Set<string>();
		const todo = ["index.html"];
		for (const page of todo) {
			if (seen.has(page)) continue;
			seen.add(page);
			if (/(?:page|card)\.html$/.test(page)) continue;
			for (const link of read(join(out, page)).links) {
				const target = resolve("/", dirname(page), decodeURIComponent(link)).slice(1);
				expect(files, `${page} → ${link}`).toContain(target);
				todo.push(target);
			}
		}
		// Nothing was written that nobody is led to.
		expect([...files].filter((file) => !seen.has(file))).toEqual(["lodebook-report.json"]);
	});

	test("the index has each plan once among its nights, in their order, and the libraries with their users", () => {
		const { text, links } = read(join(out, "index.html"));
		const dates = [...text.matchAll(/^2\d{3}-\d\d-\d\d$/gm)].map(([date]) => date);
		const plans = filesOf(samples).filter((name) => name.endsWith(".lode.yaml"));
		const texts = plans.map((name) => readFileSync(join(samples, name), "utf8"));
		// The mistakes' date does not exist.
		const dated = texts.filter((text) => /^night:/m.test(text) && !text.includes("2027-06-31"));
		expect(dates.length).toBe(dated.length);
		expect([...dates].sort()).toEqual(dates);
		expect(text).toMatch(/Sites of the workshop[\s\S]*Used by[\s\S]*Sunday on the threshing floor/);
		expect(text).toMatch(/Natural Earth/);
		expect(links.length).toBeGreaterThan(20);
		const library = read(join(out, "plans/workshop/sites/sites.plan/index.html"));
		expect(library.text).toMatch(/Used by\n[\s\S]*Saturday at the chapel/);
		const user = read(join(out, "plans/workshop/saturday.plan/index.html"));
		expect(user.links).toContain("../../../plans/workshop/sites/sites.plan/index.html");
	});

	test("pages and cards are those of show", () => {
		const path = join(samples, "roofless-chapel.lode.yaml");
		for (const [option, name] of [
			["--html", "page.html"],
			["--card", "card.html"],
		])
			expect(readFileSync(join(out, "plans/roofless-chapel.plan", name as string), "utf8")).toBe(
				runIn(undefined, "show", path, option as string).stdout,
			);
	});

	test("the index counts what check counts", () => {
		const { summary } = JSON.parse(runIn(undefined, "check", samples, "--json").stdout);
		let [errors, warnings] = [0, 0];
		for (const path of filesOf(out).filter((one) => one.endsWith(".plan/index.html"))) {
			const html = readFileSync(join(out, path), "utf8");
			errors += html.match(/<li class="error">/g)?.length ?? 0;
			warnings += html.match(/<li class="warning">/g)?.length ?? 0;
		}
		expect({ errors, warnings }).toEqual({ errors: summary.errors, warnings: summary.warnings });
	});
});

describe("what it is written over", () => {
	test("an older report is replaced, and what is of no plan any more goes", () => {
		const plans = join(folder, "few");
		mkdirSync(plans);
		for (const name of ["a", "b"])
			writeFileSync(join(plans, `${name}.lode.yaml`), readFileSync(join(samples, "dry-gorge.lode.yaml")));
		expect(report("few", "-o", "older").status).toBe(0);
		const before = filesOf(join(folder, "older"));
		writeFileSync(join(plans, "b.lode.yaml"), "");
		expect(report("few", "-o", "older", "--jobs", "2").status).toBe(0);
		const after = filesOf(join(folder, "older"));
		expect(before.filter((name) => !after.includes(name))).toEqual([
			"plans/b.plan/card.html",
			"plans/b.plan/page.html",
		]);
		expect(readdirSync(folder).filter((name) => name.startsWith("."))).toEqual([]);
	});

	test.skipIf(process.platform === "win32")("nothing else is: a file, a link, what somebody put into it", () => {
		writeFileSync(join(folder, "note.txt"), "mine");
		expect(report(samples, "-o", "note.txt").status).toBe(2);
		expect(readFileSync(join(folder, "note.txt"), "utf8")).toBe("mine");
		const own = join(folder, "own");
		mkdirSync(own);
		writeFileSync(join(own, "index.html"), "mine");
		expect(report(samples, "-o", "own")).toMatchObject({
			status: 2,
			stderr: expect.stringContaining("own contains index.html, which does not belong to a report"),
		});
		// A list that somebody wrote leads nowhere else: what is a link goes, and not what it leads to.
		const trap = join(folder, "trap");
		mkdirSync(trap);
		symlinkSync(join(folder, "note.txt"), join(trap, "index.html"));
		writeFileSync(join(trap, "lodebook-report.json"), '{"files":["index.html","../note.txt"]}');
		expect(report(samples, "-o", "trap").status).toBe(0);
		expect(readFileSync(join(folder, "note.txt"), "utf8")).toBe("mine");
		expect(lstatSync(join(trap, "index.html")).isSymbolicLink()).toBe(false);
		symlinkSync(own, join(folder, "link"));
		expect(report(samples, "-o", "link").status).toBe(2);
	});

	test("what cannot be told is said: no folder, no plan, no place to write", () => {
		mkdirSync(join(folder, "empty"));
		expect(report("none", "-o", "x")).toMatchObject({
			status: 2,
			stderr: expect.stringContaining("none is not a folder"),
		});
		expect(report("empty", "-o", "x").status).toBe(2);
		expect(report(samples, "-o", "none/deep")).toMatchObject({
			status: 2,
			stderr: expect.stringContaining("none/deep cannot be written"),
		});
		expect(report(samples).status).toBe(2);
		expect(existsSync(join(folder, "x"))).toBe(false);
	});
});

describe.skipIf(process.platform === "win32")("texts and names that mean to be something else", () => {
	const hostile = join(folder, "hostile");
	const PAYLOAD = `<img src=x onerror=alert(1)>"'--><script>alert(2)</script></title></style>&lt;b&gt;`;
	const names = [
		`<b onmouseover=x>.lode.yaml`,
		`a&b"'.lode.yaml`,
		`#q?x=1%2e.lode.yaml`,
		`page.html.lode.yaml`,
		`..lode.yaml`,
	];

	test("are text, in every page, and every link still leads to a file", () => {
		mkdirSync(join(hostile, "a.plan"), { recursive: true });
		const text = readFileSync(join(samples, "dry-gorge.lode.yaml"), "utf8")
			.replace(/title: .*/, `title: ${JSON.stringify(PAYLOAD)}`)
			.replace(/name: .*/g, `name: ${JSON.stringify(PAYLOAD)}`);
		for (const name of names) writeFileSync(join(hostile, name), text);
		writeFileSync(join(hostile, "a.plan", "index.html.lode.yaml"), text);
		writeFileSync(join(hostile, "a.lode.yaml"), text);
		const { status, stderr } = report("hostile", "-o", "hostile-site");
		expect(stderr).toContain("7 plans in hostile-site");
		expect(status).toBe(0);
		const site = join(folder, "hostile-site");
		const files = new Set(filesOf(site));
		const pages = [...files].filter((path) => path.endsWith("index.html"));
		expect(pages.length).toBe(8);
		for (const page of pages) {
			const { links, text: said } = read(join(site, page));
			expect(said).toContain("<script>alert(2)</script>");
			for (const link of links) expect(files).toContain(resolve("/", dirname(page), decodeURIComponent(link)).slice(1));
			const html = readFileSync(join(site, page), "utf8");
			expect(html).toContain("Content-Security-Policy");
			expect(html).not.toMatch(/<img|<script/i);
		}
	});
});
