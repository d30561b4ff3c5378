/** The browser of the tests: Chromium where there is one, else the tests that need it say so and are skipped. */
import { existsSync } from "node:fs";
import { type Browser, chromium } from "playwright-core";

const PLACES = [
	process.env.LODEBOOK_BROWSER,
	"/usr/bin/chromium",
	"/usr/bin/chromium-browser",
	"/usr/bin/google-chrome",
	"/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
];

export const BROWSER = PLACES.find((place) => place !== undefined && existsSync(place));

if (BROWSER === undefined)
	console.log("No Chromium found (set LODEBOOK_BROWSER to its path): tests in a real browser are skipped.");

export const launch = (): Promise<Browser> =>
	chromium.launch({
		executablePath: BROWSER as string,
		args: [
			"--no-sandbox",
			"--disable-gpu",
			"--disable-quic",
			"--no-first-run",
			"--disable-background-networking",
			"--disable-component-update",
			"--disable-sync",
		],
	});
