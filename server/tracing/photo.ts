/** What a photo's first bytes tell, beside what the plan's lens has: offered to be corrected. */
import { clockOf, wallClock } from "../../shared/earth/zone.ts";
import type { Evaluation } from "../../shared/evaluate/evaluate.ts";
import { jpegSize, kindOf, MOST_PIXELS, pngSize, type Written, writtenIn } from "../../shared/frames/picture-header.ts";
import { dateText } from "../../shared/notation/date.ts";
import type { PhotoAnswer } from "../../shared/protocol/tracing.ts";
import { told } from "../../shared/text/sentence.ts";
import { shown } from "../../shared/text/shown.ts";
import { photoWords } from "./words.ts";

/** The photo as it is offered, or why it is not opened. */
export async function photoOffered(name: string, head: Uint8Array, evaluation: Evaluation): Promise<PhotoAnswer> {
	const kind = kindOf(head);
	if (kind !== "jpeg" && kind !== "png") return { problem: told(photoWords.kind({ name })) };
	const size = kind === "jpeg" ? jpegSize(head) : pngSize(head);
	if (!size || size.width < 1 || size.height < 1) return { problem: told(photoWords.size({ name })) };
	if (size.width * size.height > MOST_PIXELS)
		return { problem: told(photoWords.large({ name, ...size, most: MOST_PIXELS / 1e6 })) };
	const written = await writtenIn(head, kind);
	const turned = (written.orientation ?? 1) > 4;
	return {
		photo: {
			name: shown(name),
			width: turned ? size.height : size.width,
			height: turned ? size.width : size.height,
			time: timeText(written, evaluation),
			...lensOf(written, evaluation),
		},
	};
}

/** The camera's clock is taken for the site's, unless it says how far it is from UTC. */
function timeText({ clock, offset }: Written, { site }: Evaluation): string {
	if (clock === undefined) return "";
	const zone = offset === undefined || !site ? "UTC" : site.zone;
	const at = offset === undefined || !site ? clock : clock - offset * 60_000;
	return `${dateText(wallClock(zone, at).date)} ${clockOf(zone, at, true)}`;
}

/** The lens that the photo names, else the plan's; its sensor by the plan, or by what a lens on full frame would have. */
function lensOf({ focalLength, fullFrameFocalLength }: Written, { lenses }: Evaluation) {
	const camera = lenses.find(
		({ value }) => value && (focalLength === undefined || Math.abs(value.camera.focalLength / focalLength - 1) < 0.03),
	)?.value?.camera;
	const plans = camera ?? lenses.find(({ value }) => value)?.value?.camera;
	const size =
		!camera && focalLength !== undefined && fullFrameFocalLength !== undefined
			? fullFrameText(focalLength / fullFrameFocalLength)
			: plans
				? `${plans.sensor[0]} x ${plans.sensor[1]} mm`
				: "";
	return {
		projection: camera?.projection ?? "rectilinear",
		focalLength: focalLength === undefined ? "" : `${Math.round(focalLength * 100) / 100} mm`,
		sensor: size,
	};
}

const fullFrameText = (part: number): string => `${(36 * part).toFixed(1)} x ${(24 * part).toFixed(1)} mm`;
