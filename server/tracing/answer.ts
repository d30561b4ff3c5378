/** What the panel is told of a trace. */
import type { Evaluation } from "../../shared/evaluate/evaluate.ts";
import { degrees } from "../../shared/notation/angle.ts";
import { bearingText } from "../../shared/notation/bearing.ts";
import { heightText } from "../../shared/notation/height.ts";
import { readSensor } from "../../shared/notation/sensor.ts";
import { fieldAcrossPhoto } from "../../shared/photo/attitude.ts";
import type { PhotoPoint, Trace, TraceAnswer } from "../../shared/protocol/tracing.ts";
import { outlineOf } from "../../shared/sky/outline.ts";
import { type Phrase, told } from "../../shared/text/sentence.ts";
import { offers } from "./known-direction.ts";
import { skyOver } from "./overlay.ts";
import type { Solved, SolvedLine, SolvedMark } from "./solve.ts";
import { words } from "./words.ts";

/** `at`: a place that is asked for too. */
export function traceAnswer(
	trace: Trace,
	solved: Solved,
	evaluation: Evaluation,
	at: PhotoPoint | undefined,
): TraceAnswer {
	const { attitude, photo, marks, lines } = solved;
	return {
		camera: cameraText(trace, solved),
		notes: notesOf(solved),
		marks: marks.map(({ known, problem, residual, disagrees }) => {
			const place =
				attitude && known?.bearing !== undefined && known.altitude !== undefined
					? attitude.place(known.bearing, known.altitude)
					: undefined;
			return {
				text: told(problem ?? markText({ known, residual })),
				wrong: problem !== undefined || disagrees,
				place: place ?? null,
			};
		}),
		lines: lines.map((line) => lineText(line, evaluation)),
		at: at && attitude ? placeText(attitude.at(...at)) : "",
		offers: offers(evaluation, solved.at),
		sky: attitude && photo ? skyOver(photo, attitude, evaluation) : [],
		ready: attitude !== undefined && lines.some(({ points }) => points.length > 0),
	};
}

function cameraText({ photo: given }: Trace, { attitude, photo }: Solved): string {
	const middle = photo && attitude?.at(photo.width / 2, photo.height / 2);
	if (!attitude || !photo || !middle) return "";
	const camera = words.camera({
		bearing: bearingText(middle.bearing),
		altitude: heightText(middle.altitude),
		field: degrees(fieldAcrossPhoto(photo, attitude.scale)),
	});
	const sensor = readSensor(given.sensor);
	if (photo.scale !== undefined || photo.projection === "equirectangular" || !sensor) return told(camera);
	const length = (attitude.scale * Math.max(...sensor)) / Math.max(photo.width, photo.height);
	return `${told(camera)} ${told(words.lens({ length: length.toFixed(1) }))}`;
}

function notesOf({ problems, attitude, marks }: Solved): TraceAnswer["notes"] {
	const notes = problems.map((problem) => ({ text: told(problem), wrong: problem.key !== words.marksNeeded().key }));
	if (attitude?.ambiguous) notes.push({ text: told(words.ambiguous()), wrong: true });
	const wrong = marks.flatMap((mark, i) => (mark.disagrees ? [{ mark, number: i + 1 }] : []));
	const worst = Math.max(0, ...(attitude?.residuals ?? []));
	const [one] = wrong;
	if (one && wrong.length === 1)
		notes.push({
			text: told(
				words.oneWrong({ number: one.number, name: one.mark.known?.name ?? "", off: degrees(one.mark.residual ?? 0) }),
			),
			wrong: true,
		});
	else if (wrong.length > 1) {
		notes.push({ text: told(words.allWrong({ off: degrees(worst) })), wrong: true });
		notes.push({ text: told(words.cropped()), wrong: false });
	}
	return notes;
}

function markText({ known, residual }: Pick<SolvedMark, "known" | "residual">): Phrase {
	const { bearing, altitude } = known ?? { bearing: undefined, altitude: undefined };
	const direction =
		bearing === undefined
			? heightText(altitude ?? 0)
			: altitude === undefined
				? words.bearing({ bearing: bearingText(bearing) })
				: words.both({ bearing: bearingText(bearing), altitude: heightText(altitude) });
	return residual === undefined ? words.markBare({ direction }) : words.mark({ direction, off: offText(residual) });
}

/** What is less than half a hundredth of a degree is told as a hundredth. */
export const offText = (value: number): string => degrees(Math.max(0.01, value), 2);

function lineText(line: SolvedLine, evaluation: Evaluation): { readonly text: string; readonly wrong: boolean } {
	const { directions, points, part, name, problem } = line;
	if (problem) return { text: told(problem), wrong: true };
	const [from, until] = outlineOf(directions.map(({ bearing, altitude }) => [bearing, altitude])).span;
	const extent = directions.length > 0 && {
		count: points.length,
		from: bearingText(from),
		until: bearingText(until),
		highest: degrees(Math.max(...directions.map(({ altitude }) => altitude))),
		spread: offText(Math.max(...directions.map(({ plusMinus }) => plusMinus))),
	};
	const plain = extent ? words.within(extent) : words.points({ count: points.length });
	if (part === "skyline") return { text: told(plain), wrong: false };
	if (name.trim() === "") return { text: told(words.nameless({ line: plain })), wrong: true };
	if (points.length < 3) return { text: told(words.corners({ line: plain })), wrong: true };
	const { openings = [], obstructions = [] } = evaluation.site?.content ?? {};
	const there = part === "opening" ? openings : obstructions;
	return { text: told(there.some((one) => one.name === name) ? words.replaces({ line: plain }) : plain), wrong: false };
}

function placeText(seen: { bearing: number; altitude: number; plusMinus: number } | undefined): string {
	return seen
		? told(
				words.at({
					bearing: bearingText(seen.bearing),
					altitude: heightText(seen.altitude),
					spread: offText(seen.plusMinus),
				}),
			)
		: "";
}
