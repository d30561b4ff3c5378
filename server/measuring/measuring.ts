/** Frames measured for the editor: loaded on first use, in a server that does nothing else. */
import { dateOfClock } from "../../shared/cells/night/night.ts";
import { instantOf } from "../../shared/earth/zone.ts";
import type { Evaluation } from "../../shared/evaluate/evaluate.ts";
import { MOST_BYTES, type Photo, type PictureProblem, readPhoto } from "../../shared/frames/read-picture.ts";
import { logEntry } from "../../shared/measure/log-entry.ts";
import { type GivenFrame, type Measured, measure } from "../../shared/measure/measure.ts";
import { framePicture } from "../../shared/measure/picture.ts";
import { solvedLens } from "../../shared/measure/solved-lens.ts";
import { isImpossible, problemPhrase, type Told, tellMeasured } from "../../shared/measure/tell.ts";
import { readBearing } from "../../shared/notation/bearing.ts";
import { readClockTime } from "../../shared/notation/clock.ts";
import { readQuantity } from "../../shared/notation/quantity.ts";
import { markdownText } from "../../shared/outputs/markdown/escaped.ts";
import type { MeasureAnswer, MeasureWishes } from "../../shared/protocol/measuring.ts";
import { fromBase64, toBase64 } from "../../shared/text/base64.ts";
import { sentences, told } from "../../shared/text/sentence.ts";

const words = sentences("measuring", {
	title: "Frames of {plan}",
	picture: "What was found on {name}",
	kept: "No photo was kept or sent anywhere.",
	clock: "`{text}` is not a clock time such as 21:30 or 21:30:15.",
	bearing: "`{text}` is not a bearing such as 143.5 or 143°M.",
	duration: "`{text}` is not a time such as 60 s.",
	large: "{name}: it has {size} MB; at most {limit} MB are read.",
	opened: "{name} does not say when it was taken.",
});

/** Bytes of a file, in base64, or why there are none. */
export type FrameBytes = (index: number) => Promise<{ readonly bytes: string } | { readonly problem: string }>;

/** Thrown where a file cannot be read: what is said of it is all that is told. */
class Unreadable extends Error {}

/** What was measured as a page, with what the log can keep. */
export async function measureFrames(
	evaluation: Evaluation,
	wishes: MeasureWishes,
	bytesOf: FrameBytes,
): Promise<MeasureAnswer> {
	const { site, night } = evaluation;
	const problem = (text: string): MeasureAnswer => ({ problem: text });
	const exposure = secondsOf(wishes.exposure);
	const clockAhead = secondsOf(wishes.clockAhead);
	for (const [text, value] of [
		[wishes.exposure, exposure],
		[wishes.clockAhead, clockAhead],
	] as const)
		if (text.trim() !== "" && value === undefined) return problem(told(words.duration({ text })));
	const facing = readBearing(wishes.facing);
	if (wishes.facing.trim() !== "" && !facing) return problem(told(words.bearing({ text: wishes.facing })));
	const photo = async (index: number): Promise<Photo | PictureProblem> => {
		const answer = await bytesOf(index);
		if ("problem" in answer) throw new Unreadable(answer.problem);
		const size = Math.ceil((answer.bytes.length * 3) / 4);
		if (size > MOST_BYTES)
			throw new Unreadable(
				told(
					words.large({
						name: wishes.frames[index] ?? "",
						size: Math.ceil(size / 1e6),
						limit: Math.round(MOST_BYTES / 1e6),
					}),
				),
			);
		return readPhoto(fromBase64(answer.bytes));
	};
	const given: GivenFrame[] = [];
	for (const [index, name] of wishes.frames.entries()) {
		const text = wishes.opened[index] ?? "";
		const clock = readClockTime(text);
		if (text.trim() !== "" && clock === undefined) return { problem: told(words.clock({ text })), timeOf: index };
		given.push({
			name,
			photo: () => photo(index),
			...(clock !== undefined &&
				site &&
				night && { opened: instantOf(site.zone, dateOfClock(night.date, clock), clock) }),
			...(exposure !== undefined && { exposure }),
		});
	}
	try {
		const measured = await measure(evaluation, given, {
			...(wishes.lens !== "" && { lens: wishes.lens }),
			...(wishes.target !== "" && { target: wishes.target }),
			...(clockAhead !== undefined && { clockAhead }),
			...(facing && { facing }),
			...(wishes.untracked && { untracked: true }),
		});
		if (!("code" in measured))
			return {
				page: pageOf(measured, wishes.plan),
				entry: measured.axis && !isImpossible(measured.frames) ? logEntry(measured.zone, measured.axis.entries) : null,
				periodic: measured.drive?.periodic ?? null,
				lens: solvedLens(measured) ?? null,
			};
		if (measured.code !== "no-time") return problem(told(problemPhrase(measured)));
		return { problem: told(words.opened({ name: measured.name })), timeOf: measured.index };
	} catch (error) {
		if (error instanceof Unreadable) return problem(error.message);
		throw error;
	}
}

/** Seconds of a duration as plans have it, or of a bare number; undefined where it is none. */
function secondsOf(text: string): number | undefined {
	const read = readQuantity(/\d\s*$/.test(text) ? `${text} s` : text, "duration");
	return read.ok ? read.value : undefined;
}

function pageOf(measured: Measured, plan: string): string {
	const all = tellMeasured(measured);
	const part = (about: Told["about"]): readonly string[] =>
		all
			.filter((one) => one.about === about)
			.flatMap(({ heading, lines }) => [
				`## ${markdownText(told(heading))}`,
				...lines.map((line) => markdownText(told(line))),
			]);
	const first = measured.frames.find(({ solved }) => solved);
	const picture: string[] = [];
	if (first) {
		const svg = new TextEncoder().encode(framePicture(measured));
		const { name } = first;
		picture.push(`![${markdownText(told(words.picture({ name })))}](data:image/svg+xml;base64,${toBase64(svg)})`);
	}
	const title = `# ${markdownText(told(words.title({ plan })))}`;
	// What hands do next comes first.
	return `${[title, ...part("axis"), ...part("clock"), ...part("drive"), ...picture, ...part("frame"), ...part("lens"), markdownText(told(words.kept()))].join("\n\n")}\n`;
}
