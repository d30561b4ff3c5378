/** Each JSON answer has a version and keeps to its schema, which knows each of its keys. */
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { Ajv2020 } from "ajv/dist/2020.js";
import { describe, expect, test } from "vitest";
import { jpegOf } from "../../frames/files.ts";
import { scene, writeRun } from "../../frames/run.ts";
import { chapel, lodebook, samples } from "./run.ts";

const schemas = fileURLToPath(new URL("../../../schemas/", import.meta.url));
const schemaOf = (command: string) =>
	JSON.parse(readFileSync(join(schemas, `lodebook-${command}.schema.json`), "utf8"));
const validators = new Map(
	["check", "show", "compare", "nights", "stars", "evening", "locate", "log", "measure"].map((command) => [
		command,
		new Ajv2020({ strict: true, allowUnionTypes: true, allErrors: true }).compile(schemaOf(command)),
	]),
);

/** What is wrong with an answer; its status is not, since a plan may have errors. */
function faults(command: string, ...args: string[]): unknown {
	const { stdout, stderr } = lodebook(command, ...args, "--json");
	const validate = validators.get(command);
	expect(stdout, `${command} ${args.join(" ")}: ${stderr}`).not.toBe("");
	const answer = JSON.parse(stdout);
	expect(Object.keys(answer)[0]).toBe("version");
	return validate?.(answer) ? [] : validate?.errors?.slice(0, 5);
}

const plans = readdirSync(samples, { recursive: true, encoding: "utf8" })
	.filter((name) => name.endsWith(".lode.yaml"))
	.map((name) => join(samples, name));

describe("answers keep to their schemas", () => {
	test.each(plans)("show and evening: %s", (path) => {
		expect(faults("show", path)).toEqual([]);
		expect(faults("evening", path)).toEqual([]);
	});

	test("check, log", () => {
		expect(faults("check", samples)).toEqual([]);
		expect(faults("log", samples)).toEqual([]);
	});

	test("stars, of each plan that has a night and a site", () => {
		const able = plans.filter((path) => lodebook("stars", path, "--json").status === 0);
		expect(able.length).toBeGreaterThan(3);
		for (const path of able) expect(faults("stars", path), path).toEqual([]);
	});

	test("nights", () => {
		expect(faults("nights", chapel, "--from", "2027-06-01", "--until", "2027-06-20")).toEqual([]);
	});

	test.each(["eta Virginis", "moon", "M42", "galactic-centre", "jupiter"])("locate %s", (body) => {
		const spot = ["--latitude=-32.4", "--longitude=-54.3", "--at", "2027-06-05T20:01:00-03:00"];
		expect(faults("locate", body, ...spot)).toEqual([]);
	});

	test("measure: two frames, and one of a wall", { timeout: 120_000 }, () => {
		const folder = mkdtempSync(join(tmpdir(), "lodebook-answers-"));
		const [first, second] = writeRun(folder);
		expect(faults("measure", chapel, first, second)).toEqual([]);
		const wall = join(folder, "wall.jpg");
		writeFileSync(wall, jpegOf(scene, new Uint16Array(scene.width * scene.height).fill(9000), 80));
		expect(faults("measure", chapel, wall, "--at", "21:00")).toEqual([]);
		rmSync(folder, { recursive: true });
	});

	test("compare: two plans, two folders", () => {
		const text = readFileSync(chapel, "utf8");
		const [was, is] = [mkdtempSync(join(tmpdir(), "lodebook-")), mkdtempSync(join(tmpdir(), "lodebook-"))];
		cpSync(samples, was, { recursive: true });
		cpSync(samples, is, { recursive: true });
		const changed = join(is, "roofless-chapel.lode.yaml");
		writeFileSync(changed, text.replace('at: "20:01"', 'at: "20:20"'));
		writeFileSync(join(is, "another.lode.yaml"), text.replace("---", "---\nnote: |\n  Another.\n---"));
		rmSync(join(is, "dry-gorge.lode.yaml"));
		expect(faults("compare", chapel, changed)).toEqual([]);
		expect(faults("compare", was, is)).toEqual([]);
	});
});

test("a schema refuses a key that it does not know, one that is missing, and another version", () => {
	const answer = JSON.parse(lodebook("show", chapel, "--json").stdout);
	const validate = validators.get("show");
	expect(validate?.(answer)).toBe(true);
	expect(validate?.({ ...answer, more: 1 })).toBe(false);
	expect(validate?.({ ...answer, cautions: undefined })).toBe(false);
	expect(validate?.({ ...answer, version: 2 })).toBe(false);
});

test("every schema has an address of its own, whole and nobody's", () => {
	const ids = readdirSync(schemas).map((name) => JSON.parse(readFileSync(join(schemas, name), "utf8")).$id as string);
	expect(new Set(ids).size).toBe(ids.length);
	for (const id of ids) expect(id).toMatch(/^urn:lodebook:schema:[a-z]+:1$/);
});
