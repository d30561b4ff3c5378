// What a frame of the clock slider takes in Chromium: the page's script, style and layout.

const FRAMES = 120;
/** Frames until the program is compiled. */
const WARM = 20;

export async function sliderFrames(page, stars) {
	const session = await page.context().newCDPSession(page);
	await session.send("Performance.enable", { timeDomain: "threadTicks" });
	const taken = async () => {
		const { metrics } = await session.send("Performance.getMetrics");
		return metrics
			.filter(({ name }) => ["ScriptDuration", "RecalcStyleDuration", "LayoutDuration"].includes(name))
			.reduce((sum, { value }) => sum + value * 1000, 0);
	};
	await page.evaluate(`{
		const panorama = document.getElementById("panorama");
		const sky = JSON.parse(panorama.dataset.sky);
		let seed = 1;
		const chance = () => (seed = (seed * 16807) % 2147483647) / 2147483647;
		const faint = sky.stars.at(-1);
		for (let count = sky.stars.flat().length / 2; count < ${stars}; count++)
			faint.push(Math.round(chance() * 36000) / 100, Math.round(chance() * 16000 - 8000) / 100);
		panorama.dataset.sky = JSON.stringify(sky);
	}`);
	const frames = [];
	for (let i = 0; i < WARM + FRAMES; i++) {
		const before = await taken();
		await page.evaluate(`new Promise((done) => {
			const slider = document.getElementById("time");
			slider.value = String(Number(slider.min) + ${i} * 120000);
			slider.dispatchEvent(new Event("input", { bubbles: true }));
			requestAnimationFrame(() => requestAnimationFrame(done));
		})`);
		if (i >= WARM) frames.push((await taken()) - before);
	}
	await session.detach();
	return frames;
}
