import type { Page } from "playwright-core";

/**
 * Milliseconds that script, style and layout of each frame take, by the processor's clock, so that what else the machine
 * does is not in it. `page` shows a plan; `stars`: so many are moved, faint ones by chance beside the real ones.
 */
export function sliderFrames(page: Page, stars: number): Promise<readonly number[]>;
