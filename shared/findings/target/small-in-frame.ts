import { sidesOf } from "../../cells/targets/framing.ts";
import { sizeOf } from "../../cells/targets/size.ts";
import { degrees } from "../../notation/angle.ts";
import { overLimit } from "../../notation/over-limit.ts";
import { fieldAcross, pixelScaleArcsec } from "../../optics/camera.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { eachTarget } from "./each.ts";

const words = sentences("target/small-in-frame", {
	title: "Target is small in the frame",
	about: `An object a few arcminutes wide is only a speck in the frame of a short lens: where it covers less than a
		twentieth of the frame's shorter side, little of it can be seen. Use a longer focal length, plan to crop, or
		frame it as a small part of the landscape on purpose.`,
	message:
		"{name} is {size} across, {share} % of the frame's shorter side ({high}) and {pixels} px. Use a longer focal length, or plan to crop.",
});

/** Per cent of the frame's shorter side. */
const LEAST = 5;

const nebula = (lens: string): { readonly lens: string; readonly targets: string } => ({
	lens: `focal-length: ${lens}\nsensor: full-frame\npixels: 6000 x 4000`,
	targets: '- name: lagoon\n  aim: M8\n  from: "21:30"\n  exposure: 5 s\n  trail: 60 px',
});

export default rule({
	code: "target/small-in-frame",
	severity: "info",
	words,
	wrong: nebula("24 mm"),
	instead: nebula("135 mm"),
	right: nebula("45 mm"),
	over: nebula("44 mm"),
	each: "target",
	*find(evaluation) {
		for (const { cell, target } of eachTarget(evaluation)) {
			const { entry, index, name, lens } = target;
			const size = sizeOf(target);
			if (!lens || size === undefined) continue;
			const [width, height] = sidesOf(lens.camera, entry.orientation === "portrait");
			const high = Math.min(fieldAcross(lens.camera, width), fieldAcross(lens.camera, height));
			const share = (size / high) * 100;
			if (share >= LEAST) continue;
			yield {
				...at(cell, `${index}.${entry.extent === undefined ? "aim" : "extent"}`),
				message: words.message({
					name,
					size: degrees(size),
					share: overLimit(share, LEAST, 1),
					high: degrees(high),
					pixels: ((size * 3600) / pixelScaleArcsec(lens.camera)).toFixed(0),
				}),
			};
		}
	},
});
