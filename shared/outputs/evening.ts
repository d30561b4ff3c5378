/** The evening in order, as every face shows it: a row for each step. */
import { foregroundOf } from "../cells/targets/target.ts";
import type { Evaluation } from "../evaluate/evaluate.ts";
import type { EveningStep } from "../evaluate/evening/tasks.ts";
import { stepName } from "../evaluate/evening/words.ts";
import { durationText, minutesText } from "../notation/duration.ts";
import { Lines } from "../text/lines.ts";
import { sentences, told } from "../text/sentence.ts";
import { nightClock, nightSpan } from "./clock.ts";

const words = sentences("output.evening", {
	title: "The evening",
	frames: "{frames} × {exposure}",
	some: "{frames} of {planned} × {exposure}",
	latest: "no later than {time}",
	both: "{what}, {latest}",
	seconds: "{seconds} s",
});

/** A step as it is shown. */
export interface EveningRow {
	readonly kind: EveningStep["kind"];
	/** When it begins, and from when to when it takes, with the midnights that are between. */
	readonly from: string;
	readonly times: string;
	readonly duration: string;
	/** What is done. */
	readonly say: string;
	/** Frames, and how late it may begin; empty where there is nothing to say. */
	readonly about: string;
	/** Line of the plan it comes from, from 1; undefined where none does. */
	readonly line: number | undefined;
}

/** What the list is called. */
export const eveningTitle = (): string => told(words.title());

/** None without an evening. */
export function eveningRows(evaluation: Evaluation): readonly EveningRow[] {
	const { evening, night, targets, methods, plan } = evaluation;
	if (!evening || !night) return [];
	const clock = (at: number): string => nightClock(night, at);
	const lines = new Lines(plan.text);
	const framesOf = ({ kind, of, frames }: EveningStep): string => {
		const entry = of === undefined ? undefined : targets?.value?.[of]?.entry;
		if (!entry || (kind !== "sky" && kind !== "foreground" && kind !== "darks")) return "";
		const { exposure = 0, frames: planned = 1, darks = 0 } = entry;
		const ground = foregroundOf(entry) ?? {};
		if (kind === "darks") return told(words.frames({ frames: darks, exposure: exposureText(exposure) }));
		if (kind === "foreground")
			return told(words.frames({ frames: ground.frames ?? 1, exposure: exposureText(ground.exposure ?? exposure) }));
		const said = { exposure: exposureText(exposure) };
		return told(
			frames === undefined ? words.frames({ frames: planned, ...said }) : words.some({ frames, planned, ...said }),
		);
	};
	const lineOf = ({ kind, of }: EveningStep): number | undefined => {
		const cell = of === undefined ? undefined : kind === "align" ? methods[of]?.cell : targets?.cell;
		if (!cell || of === undefined) return undefined;
		const place = cell.read.places.get(kind === "align" ? "" : `${of}.name`);
		return place && lines.at(cell.start + (place.key ?? place.value).from).line + 1;
	};
	return evening.steps.map((step) => {
		const what = framesOf(step);
		const latest =
			step.latest !== undefined &&
			step.latest - step.from >= 60_000 &&
			(step.kind === "align" || step.kind === "set-up")
				? told(words.latest({ time: clock(step.latest) }))
				: "";
		return {
			kind: step.kind,
			from: clock(step.from),
			times: nightSpan(night, step),
			duration: minutesText((step.until - step.from) / 60_000),
			say: told(stepName(step, evaluation)),
			about: what !== "" && latest !== "" ? told(words.both({ what, latest })) : what + latest,
			line: lineOf(step),
		};
	});
}

/** An exposure as a camera has it: in seconds up to ten minutes. */
export const exposureText = (seconds: number): string =>
	seconds <= 600 ? told(words.seconds({ seconds: Number(seconds.toPrecision(3)) })) : durationText(seconds);
