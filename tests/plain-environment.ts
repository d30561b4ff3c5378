/** What outputs are made with where a test is not about it: no colours, paths as they are, codes for explanations. */
import type { Environment } from "../shared/outputs/output.ts";

export const PLAIN: Environment = {
	now: 0,
	version: "",
	pageScript: "",
	paint: (text) => text,
	fromHere: (path) => path,
	fromRoot: (path) => path,
	explanation: (code) => code,
	ground: "light",
};
