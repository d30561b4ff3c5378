/** The report's pages, made in this process: what they hold, what leads where, and that no text of a plan is markup. */
import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";
import { evaluate } from "../../shared/evaluate/evaluate.ts";
import { check } from "../../shared/findings/check.ts";
import { pageView } from "../../shared/outputs/page/view.ts";
import { type ReportedPlan, reportedPlan } from "../../shared/outputs/report/record.ts";
import { placeOfPlan, siteFiles } from "../../shared/outputs/report/site.tsx";
import { readPlan } from "../../shared/plan/plan.ts";
import { type Library, PlanJoiner } from "../../shared/plan/reuse.ts";

const samples = fileURLToPath(new URL("../../samples/", import.meta.url));
const textOf = (path: string): string => readFileSync(samples + path, "utf8");
const paths = readdirSync(samples, { recursive: true, encoding: "utf8" })
	.map((path) => path.replaceAll("\\", "/"))
	.filter((path) => path.endsWith(".lode.yaml"))
	.sort();

const joiner = new PlanJoiner();
function reported(path: string, text: string): ReportedPlan {
	const library: Library = (other) =>
		paths.includes(other) ? { plan: readPlan(textOf(other)) } : { missing: "not-found" };
	const plan = joiner.join(readPlan(text), path, library);
	const evaluation = evaluate(plan);
	const findings = check(evaluation);
	const view = pageView(evaluation, findings);
	return reportedPlan({ path, text, evaluation, findings }, view, [{ name: "page.html", kind: "page", of: "" }]);
}

const reportOf = (plans: readonly ReportedPlan[], unread: readonly string[] = []): ReadonlyMap<string, string> =>
	new Map(
		siteFiles({ folder: "samples", plans, unread, now: Date.UTC(2027, 4, 1), inFolder: (path) => path }).map(
			({ path, text }) => [path, text],
		),
	);

describe("the report of the samples", () => {
	const pages = reportOf(
		paths.map((path) => reported(path, textOf(path))),
		["unread.lode.yaml: it is not UTF-8"],
	);
	const index = pages.get("index.html") ?? "";

	test("has an index that leads to the page of each plan, and says what could not be read", () => {
		expect(pages.size).toBe(paths.length + 1);
		for (const path of paths) {
			const place = `${placeOfPlan(path)}/index.html`;
			expect([...pages.keys()]).toContain(place);
			expect(index).toContain(`href="${place}"`);
		}
		expect(index).toContain("unread.lode.yaml: it is not UTF-8");
	});

	test("marks the sites on a map, without a request", () => {
		expect(index).toMatch(/<svg[^>]*role="img"/);
		expect(index).toContain("Roofless chapel");
		for (const text of pages.values()) expect(text).not.toMatch(/(?:src|href)="(?:https?:)?\/\//);
	});

	test("a plan's page leads to what was written of it, and back", () => {
		const page = pages.get(`${placeOfPlan("roofless-chapel.lode.yaml")}/index.html`) ?? "";
		expect(page).toContain('href="page.html"');
		expect(page).toMatch(/href="(?:\.\.\/)+index\.html"/);
		expect(page).toContain("2027-06-05");
	});
});

test("no text of a plan is markup", () => {
	const hostile = `plan:\n  title: '<script>alert(1)</script>'\n  summary: '"><img src=x onerror=1>'\n---\nsite:\n  name: '<b>a</b>'\n  latitude: 32.4 S\n  longitude: 54.3 W\n`;
	const name = `a'"<i>&.lode.yaml`;
	for (const text of reportOf([reported(name, hostile)]).values()) {
		expect(text).not.toMatch(/<script>alert|<img|<b>a|<i>/);
		expect(text).toContain("&lt;script>alert(1)");
	}
});

test("places that lie together, on the date line and at the poles have a map", () => {
	const at = (latitude: string, longitude: string, name: string) =>
		reported(`${name}.lode.yaml`, `site:\n  name: ${name}\n  latitude: ${latitude}\n  longitude: ${longitude}\n`);
	for (const plans of [
		[at("32.4 S", "54.3 W", "one")],
		[at("32.4 S", "54.3 W", "one"), at("32.4 S", "54.3 W", "two")],
		[at("10 N", "179.9 E", "east"), at("12 N", "179.9 W", "west")],
		[at("89.9 N", "0 E", "top"), at("89.9 S", "120 W", "bottom")],
	]) {
		const index = reportOf(plans).get("index.html") ?? "";
		expect(index).toMatch(/<svg/);
		expect(index).not.toMatch(/NaN|Infinity|undefined/);
	}
	expect(reportOf([reported("none.lode.yaml", "plan:\n  title: none\n")]).get("index.html")).not.toMatch(/NaN/);
});
