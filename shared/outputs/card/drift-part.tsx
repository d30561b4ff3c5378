/** The drift table: what a star's drift says, and what to turn for it, without a computer. */
import { DRIFT_SECONDS, type DriftField, driftFields } from "../../alignment/drift-table.ts";
import type { Evaluation } from "../../evaluate/evaluate.ts";
import { degrees } from "../../notation/angle.ts";
import { pixelScaleArcsec } from "../../optics/camera.ts";
import { hiddenBy } from "../../sky/cover.ts";
import { type Phrase, sentences, told } from "../../text/sentence.ts";
import { pointingOf, pointingText } from "../pointing.ts";

const words = sentences("output.drift", {
	title: "Drift table",
	// Common practice, no source.
	how: `If a test frame shows streaks, read the axis off one star: camera level, tracker running at the stars' rate,
		two short frames {minutes} min apart. Magnify the same star on both and count the pixels by which it moved
		across its path; any movement along the path, the way it trails with the tracker stopped, comes from the drive.
		Pixels are counted with the {length} mm lens; a longer one shows more. Counted by eye it is
		good to half a pixel, a turn of {half}.`,
	twice: "Do both in this order, lock, and look once more.",
	by: "By {knob}",
	near: "a star near {pointing}",
	panKnob: "the pan",
	tiltKnob: "the tilt",
	azimuthKnob: "the azimuth knob",
	altitudeKnob: "the altitude knob",
	toRight:
		"It moved {way}: bring the pole end of the axis to the right, as you face the pole. It moved {against}: to the left.",
	toLeft:
		"It moved {way}: bring the pole end of the axis to the left, as you face the pole. It moved {against}: to the right.",
	raise: "It moved {way}: raise the pole end of the axis. It moved {against}: lower it.",
	lower: "It moved {way}: lower the pole end of the axis. It moved {against}: raise it.",
	moved: "moved by",
	pixels: "{count} px",
	up: "up",
	down: "down",
	right: "right",
	left: "left",
	both: "{upright} and {sideways}",
	noTilt: "No star far from the meridian is in view: the tilt cannot be read like this.",
});

/** The table with what is done for it. */
export interface DriftView {
	readonly title: string;
	readonly how: string;
	readonly fields: readonly { readonly knob: string; readonly place: string; readonly rule: string }[];
	readonly head: readonly string[];
	readonly rows: readonly (readonly string[])[];
	/** What to do then, or what cannot be read from the spot. */
	readonly after: string;
}

/** Pixels that are told: of these, those that ask for turns within reason. */
const PIXELS = [1, 2, 3, 5, 10, 20, 50];
/** Rows at least, and the widest turn, degrees. */
const FEWEST = 3;
const WIDEST = 4;
/** Refraction, and a star that is beside the place, leave so much however far it is magnified, degrees. */
const FINEST = 0.1;

/** Undefined where nothing is tracked, or no star near the meridian can be seen. */
export function driftView(evaluation: Evaluation): DriftView | undefined {
	const { site, targets, tracker, lenses } = evaluation;
	const tracked = targets?.value?.find((target) => target?.tracked);
	const lens = tracked?.lens ?? lenses[0]?.value;
	if (!site || !tracked || !lens) return undefined;
	const fields = driftFields(site.spot.latitude, (direction) => hiddenBy(site.cover, direction) === undefined);
	// The tilt can be read once the pan is right.
	if (fields[0]?.turns !== "pan") return undefined;
	const scale = pixelScaleArcsec(lens.camera);
	const isWedge = tracker?.head === "wedge";
	const knobs = {
		pan: told(isWedge ? words.azimuthKnob() : words.panKnob()),
		tilt: told(isWedge ? words.altitudeKnob() : words.tiltKnob()),
	};
	const turnOf = ({ perArcsec }: DriftField, pixels: number): number => Math.abs(perArcsec * pixels * scale);
	// Half a pixel by eye: common practice, no source.
	const half = Math.max(FINEST, ...fields.map((field) => turnOf(field, 0.5)));
	return {
		title: told(words.title()),
		how: told(words.how({ minutes: DRIFT_SECONDS / 60, length: lens.camera.focalLength, half: degrees(half, 1) })),
		fields: fields.map((field) => ({
			knob: told(words.by({ knob: knobs[field.turns] })),
			place: told(words.near({ pointing: pointingText(pointingOf(field.direction, evaluation)) })),
			rule: ruleOf(field),
		})),
		after: told(fields.length > 1 ? words.twice() : words.noTilt()),
		head: [told(words.moved()), ...fields.map(({ turns }) => knobs[turns])],
		rows: PIXELS.filter((pixels, i) => i < FEWEST || fields.every((field) => turnOf(field, pixels) <= WIDEST)).map(
			(count) => [told(words.pixels({ count })), ...fields.map((field) => degrees(turnOf(field, count), 1))],
		),
	};
}

/** Told for the way that a level frame shows as up, or to the right where that is the plainer one. */
function ruleOf({ turns, north, perArcsec }: DriftField): string {
	const isNorth = Math.abs(north.up) > SLANT ? north.up > 0 : north.right > 0;
	const sign = isNorth ? 1 : -1;
	const ways = {
		way: wayOf(sign * north.right, sign * north.up),
		against: wayOf(-sign * north.right, -sign * north.up),
	};
	const turn = sign * perArcsec;
	const rule = turns === "pan" ? (turn > 0 ? words.toRight : words.toLeft) : turn > 0 ? words.raise : words.lower;
	return told(rule(ways));
}

/** From this part of a way on it is told: the sine of 20°. */
const SLANT = 0.34;

function wayOf(right: number, up: number): Phrase {
	const upright = up > 0 ? words.up() : words.down();
	const sideways = right > 0 ? words.right() : words.left();
	if (Math.abs(right) < SLANT) return upright;
	return Math.abs(up) < SLANT ? sideways : words.both({ upright, sideways });
}

/** How the axis is corrected by what stars do on the frames. */
export const DriftPart = ({ view }: { readonly view: DriftView }) => (
	<section aria-labelledby="drift-heading">
		<h2 id="drift-heading">{view.title}</h2>
		<p>{view.how}</p>
		<ol>
			{view.fields.map(({ knob, place, rule }) => (
				<li key={knob}>
					<strong>{knob}:</strong> {place}. {rule}
				</li>
			))}
		</ol>
		<table>
			<thead>
				<tr>
					{view.head.map((text) => (
						<th key={text}>{text}</th>
					))}
				</tr>
			</thead>
			<tbody>
				{view.rows.map((row) => (
					<tr key={row.join()}>
						{row.map((text, i) => (
							<td key={view.head[i]} class={i > 0 ? "value" : undefined}>
								{text}
							</td>
						))}
					</tr>
				))}
			</tbody>
		</table>
		<p>{view.after}</p>
	</section>
);
