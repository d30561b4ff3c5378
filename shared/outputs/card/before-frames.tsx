/** Before the first frame: settings that spoil a series when they are forgotten, and what a good test frame looks like. */
import { told } from "../../text/sentence.ts";
import type { Shot } from "../shot-list.ts";
import { words } from "./words.ts";

/** What is set on the camera, one sentence each; the interval of each series. */
export const beforeFrames = (shots: readonly Shot[]): readonly string[] => [
	...[words.raw(), words.focus(), words.stabilisation(), words.reduction()].map(told),
	...shots
		.filter(({ at, until, interval }) => until - at > interval * 1000)
		.map(({ target, interval }) => told(words.interval({ target, interval: Number(interval.toFixed(1)) }))),
];

/** The corner of a frame as it is magnified: what its stars look like, and what that says. */
const LOOKS = ["good", "streaks", "rings", "leaning"] as const;

/** Where stars are drawn in the square of 60 by 60, and how bright. */
const STARS = [
	[14, 16, 2.6],
	[44, 12, 1.8],
	[30, 32, 3.2],
	[12, 46, 1.7],
	[47, 47, 2.3],
] as const;

/** A corner magnified, four times: round; all streaked alike; blown up; streaked along an arc. */
export const TestFrame = () => (
	<>
		<div class="looks">
			{LOOKS.map((look) => (
				<figure key={look}>
					<svg viewBox="0 0 60 60" role="img" aria-label={told(words[look]())}>
						<rect x="0.5" y="0.5" width="59" height="59" fill="none" stroke="var(--ink)" />
						{STARS.map(([x, y, size]) => (
							<StarLook key={x} look={look} x={x} y={y} size={size} />
						))}
					</svg>
					<figcaption>{told(words[look]())}</figcaption>
				</figure>
			))}
		</div>
		<p>{told(words.testText())}</p>
	</>
);

interface StarParts {
	readonly look: (typeof LOOKS)[number];
	readonly x: number;
	readonly y: number;
	readonly size: number;
}

function StarLook({ look, x, y, size }: StarParts) {
	const streak = { stroke: "var(--ink)", "stroke-width": size * 1.6, "stroke-linecap": "round" } as const;
	switch (look) {
		case "streaks":
			return <path d={`M${x - 5},${y + 2}l10,-4`} {...streak} />;
		case "leaning": {
			// About a middle at the lower left: the further out, the longer.
			const [right, up] = [x / 60, (60 - y) / 60];
			return <path d={`M${x - up * 5},${y - right * 5}l${up * 10},${right * 10}`} {...streak} />;
		}
		case "rings":
			return <circle cx={x} cy={y} r={size * 2.1} fill="none" stroke="var(--ink)" stroke-width="1.2" />;
		default:
			return <circle cx={x} cy={y} r={size} fill="var(--ink)" />;
	}
}
