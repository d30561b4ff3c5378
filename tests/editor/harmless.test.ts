/** What a notebook's renderer draws from data that is not the server's: in a real browser, where it would run. */
import { join } from "node:path";
import esbuild from "esbuild";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { BROWSER, launch } from "./browser.ts";
import { ROOT } from "./workbench.mjs";

const HOSTILE = [
	"<script>ran()</script>",
	"<img src=x onerror=ran()>",
	"<svg onload=ran()><path d='M0 0'/></svg>",
	"<svg><script>ran()</script></svg>",
	"<svg><a xlink:href='javascript:ran()'><text>x</text></a></svg>",
	"<svg><use href='https://elsewhere.example/a.svg#b'/></svg>",
	"<svg><foreignObject><iframe srcdoc='<script>parent.ran()</script>'></iframe></foreignObject></svg>",
	"<svg><a id=t><animate attributeName=href to='javascript:ran()' begin=0s fill=freeze /><text>x</text></a></svg>",
	"<iframe src='javascript:parent.ran()'></iframe>",
	"<details open ontoggle=ran()><summary>x</summary></details>",
	"<a href='command:workbench.action.quit'>x</a>",
	"<a href=' lodebook-finding:/x'>x</a>",
	"<form action='https://elsewhere.example'><button formaction='javascript:ran()'>x</button></form>",
	"<p style='background: url(https://elsewhere.example/p.png)'>x</p>",
	"<svg><rect fill='url(https://elsewhere.example/p.svg#a)'/></svg>",
	"<style>@import 'https://elsewhere.example/s.css'; body { display: none }</style>",
	"<link rel=stylesheet href='https://elsewhere.example/s.css'><base href='https://elsewhere.example'>",
	"<template><img src=x onerror=ran()></template>",
	"<video poster='https://elsewhere.example/p.png' src='https://elsewhere.example/v'></video>",
];

describe.skipIf(BROWSER === undefined)("what is drawn in a notebook", () => {
	let browser: Browser;
	let script: string;
	beforeAll(async () => {
		const { outputFiles } = await esbuild.build({
			entryPoints: [join(ROOT, "client/page/harmless.ts")],
			bundle: true,
			write: false,
			format: "iife",
			globalName: "cells",
		});
		script = outputFiles[0]?.text ?? "";
		browser = await launch();
	});
	afterAll(() => browser?.close());

	test.each(HOSTILE)("%s runs nothing, loads nothing and leads nowhere", async (html) => {
		const page = await browser.newPage();
		const asked: string[] = [];
		page.on("request", (request) => void asked.push(request.url()));
		await page.addScriptTag({ content: `${script}; var count = 0; function ran() { count++; }` });
		const left = await page.evaluate((text) => {
			document.body.append(
				(window as unknown as { cells: typeof import("../../client/page/harmless.ts") }).cells.harmless(text),
			);
			for (const link of document.querySelectorAll("a, button"))
				link.dispatchEvent(new MouseEvent("click", { bubbles: true }));
			return document.body.innerHTML;
		}, html);
		await page.waitForTimeout(50);
		expect(await page.evaluate("count")).toBe(0);
		expect(asked).toEqual([]);
		expect(left).not.toMatch(/\son\w+=|javascript:|command:|elsewhere|<(?:script|style|iframe|img)/i);
		await page.close();
	});

	test("pictures, their clips and the links to explanations stay", async () => {
		const page = await browser.newPage();
		await page.addScriptTag({ content: script });
		const html =
			'<div class="a" style="color: red"><svg viewBox="0 0 1 1"><clipPath id="c"></clipPath><use href="#sky"></use><g clip-path="url(#c)"></g></svg><a href="lodebook-finding:/method/a.md">a</a></div>';
		const left = await page.evaluate((text) => {
			document.body.append(
				(window as unknown as { cells: typeof import("../../client/page/harmless.ts") }).cells.harmless(text),
			);
			return document.querySelector(".a")?.outerHTML;
		}, html);
		expect(left).toBe(html);
		await page.close();
	});
});
