/** The card's first screen: whether it works, what is on and what is next with its numbers, what hands set. */
import type { EvaluatedNight } from "../../cells/night/night.ts";
import type { EpochMs } from "../../earth/zone.ts";
import { told } from "../../text/sentence.ts";
import { nightClock, siteClockOf } from "../clock.ts";
import type { EveningRow } from "../evening.ts";
import { FindingText } from "../page/page.tsx";
import type { PageView } from "../page/view.ts";
import type { HandView } from "./hand.ts";
import type { LiveMinutes } from "./live.ts";
import { words } from "./words.ts";

interface FirstParts {
	readonly view: PageView;
	readonly hand: HandView | undefined;
	readonly night: EvaluatedNight | undefined;
}

/** By the clock where there is a script, the first step without. */
export function First({ view, hand, night }: FirstParts) {
	const [method] = view.methods;
	const serious = seriousOf(view);
	const names = view.cautions.map(nameOfCaution).filter((name, i, all) => name !== "" && all.indexOf(name) === i);
	return (
		<div class="first">
			<p class={`verdict ${view.verdict.worst ?? ""}`}>{view.verdict.sentence}</p>
			{view.missing !== "" && <p>{view.missing}</p>}
			{night && view.evening.length > 0 && <Live view={view} night={night} />}
			{names.length > 0 && (
				<p>
					<a href="#care-heading">{told(words.safety({ names: names.join(", ") }))}</a>
				</p>
			)}
			{hand && <Hand hand={hand} />}
			{method?.works && method.notCleared !== "" && <p class="not-cleared">{method.notCleared}</p>}
			{serious.length > 0 && (
				<ul class="plain findings" aria-label={told(words.reading())}>
					{serious.map(({ severity, message, code, line }) => (
						<li key={`${line} ${code} ${message}`} class={severity}>
							<FindingText severity={severity} message={message} />
						</li>
					))}
				</ul>
			)}
			{view.methodLine !== "" && <p>{view.methodLine}</p>}
			{night && view.evening.length > 0 && <p>{told(words.back({ time: nightClock(night, endOf(view.evening)) }))}</p>}
			{night && <p class="soft">{told(words.zone({ zone: night.zone }))}</p>}
		</div>
	);
}

/** What may spoil the evening, the worst first. */
export const seriousOf = ({ findings }: PageView): PageView["findings"] =>
	findings.filter(({ severity }) => severity !== "info");

/** What a caution is of stands before its colon. */
const nameOfCaution = (text: string): string => text.slice(0, Math.max(0, text.indexOf(":")));

/** When the last step ends. */
export const endOf = (rows: readonly EveningRow[]): EpochMs => Math.max(...rows.map(({ until }) => until));

/** What is on and what is next, each with its numbers. */
function Live({ view: { evening: rows, shots }, night }: { readonly view: PageView; readonly night: EvaluatedNight }) {
	const panels = shots.flatMap((shot) => shot.panels.flatMap(({ due }) => due));
	const steps = rows.map(({ kind, at, until, from, say, about, others = "" }) => ({
		at,
		until,
		waits: kind === "wait",
		now: told(words.now({ time: nightClock(night, until), say })),
		next: told(words.next({ time: from, say })),
		// The numbers of an alignment stand below, larger.
		about: kind === "align" ? others : about,
	}));
	const [step] = steps;
	if (!step) return null;
	return (
		<div
			id="live"
			data-steps={JSON.stringify(steps)}
			data-panels={panels.length > 0 ? JSON.stringify(panels) : undefined}
			data-clock={JSON.stringify(siteClockOf(night, step.at, endOf(rows)))}
			data-site={told(words.site({ time: "{time}" }))}
			data-wait={told(words.wait({ minutes: "{minutes}" }))}
			data-wait-long={told(words.waitLong({ hours: "{hours}", minutes: "{minutes}" }))}
		>
			<p id="live-clock" class="soft" />
			<p class="next" id="live-now" />
			<p id="live-now-about" />
			<p id="live-panel" />
			<p class="next" id="live-next">
				{step.next}
			</p>
			<p id="live-wait" />
			<p id="live-next-about">{step.about}</p>
		</div>
	);
}

/** The numbers that hands set, and those of this minute. */
function Hand({ hand }: { readonly hand: HandView }) {
	const { minutes } = hand;
	const live: LiveMinutes | undefined = minutes && {
		...(minutes.planned === undefined ? {} : { planned: minutes.planned }),
		until: minutes.until,
		rows: minutes.rows.map(({ at, clock, texts }) => [at, clock, ...texts]),
	};
	return (
		<div class="hand">
			<p>
				<strong>{hand.heading}</strong>
			</p>
			<HandNumbers hand={hand} />
			{minutes && (
				<div
					id="minute"
					hidden
					data-minutes={JSON.stringify(live)}
					data-late={told(words.late({ minutes: "{minutes}", time: "{time}" }))}
				>
					<p id="late" class="next" />
					<table>
						<thead>
							<tr>
								<th>{told(words.minutes())}</th>
								<td class="value" />
								<td class="value" />
							</tr>
						</thead>
						<tbody>
							{minutes.labels.map((label) => (
								<tr key={label}>
									<th>{label}</th>
									<td class="value" />
									<td class="value" />
								</tr>
							))}
						</tbody>
					</table>
				</div>
			)}
			{hand.star !== "" && <p id="star">{hand.star}</p>}
			{hand.fallbacks.map((text) => (
				<p key={text}>{text}</p>
			))}
		</div>
	);
}

/** Tilt, compass, clock: large. */
export const HandNumbers = ({ hand: { tilt, compass, bearing, clock } }: { readonly hand: HandView }) => (
	<dl class="set">
		{(
			[
				[words.tilt(), tilt],
				[words.compass(), compass],
				[words.bearing(), bearing],
				[words.clock(), clock],
			] as const
		)
			.filter(([, text]) => text !== "")
			.map(([label, text]) => (
				<div key={told(label)}>
					<dt>{told(label)}</dt>
					<dd>{text}</dd>
				</div>
			))}
	</dl>
);
