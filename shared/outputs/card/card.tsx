/** The card: what a hand, an eye and a cold finger need in the field, in one column. Complete without a script; live with it. */
import { renderToString } from "preact-render-to-string";
import type { Evaluation } from "../../evaluate/evaluate.ts";
import { told } from "../../text/sentence.ts";
import { shown } from "../../text/shown.ts";
import { nightClock } from "../clock.ts";
import type { Output } from "../output.ts";
import { htmlFile } from "../page/document.ts";
import { Care, DimButton, EveningPart, Fallbacks, LostPart, MethodPart, Shots } from "../page/page.tsx";
import { STYLE } from "../page/style.ts";
import { type PageView, pageView } from "../page/view.ts";
import { CARD_STYLE } from "./style.ts";
import { words } from "./words.ts";

export const card: Output = {
	name: "card",
	title: words.exported(),
	option: "--card",
	mediaType: "text/html",
	extension: "html",
	of: {
		plan: {
			help: words.help(),
			make({ evaluation, findings }, { pageScript }) {
				const view = pageView(evaluation, findings);
				return htmlFile({
					title: view.title,
					style: STYLE + CARD_STYLE,
					body: shown(renderToString(<Card view={view} evaluation={evaluation} />)),
					program: pageScript,
				});
			},
		},
	},
};

interface CardParts {
	readonly view: PageView;
	readonly evaluation: Evaluation;
}

function Card({ view, evaluation }: CardParts) {
	const { night } = evaluation;
	const [first, ...others] = view.methods;
	const { "civil-dusk": dusk, "civil-dawn": dawn } = night?.sky.sun ?? {};
	return (
		<div id="card" data-dusk={dusk} data-dawn={dawn}>
			<header>
				<div>
					<h1>{view.title}</h1>
					<p class="soft">{view.where}</p>
				</div>
				<DimButton />
			</header>
			<First view={view} evaluation={evaluation} />
			<Care cautions={view.cautions} />
			{view.evening.length > 0 && <EveningPart rows={view.evening} />}
			{first && <MethodPart method={first} place={0} />}
			<BeforeFrames view={view} />
			{view.shots.length > 0 && <Shots shots={view.shots} line={view.lines.targets} />}
			{others.length > 0 && <Fallbacks methods={others} />}
			{view.lost && <LostPart view={view.lost} />}
		</div>
	);
}

/** What is on and what is next: by the clock where there is a script, the verdict and the first step without. */
function First({ view, evaluation: { night } }: CardParts) {
	const rows = view.evening;
	const steps = rows.map(({ kind, at, until, from, say }) => ({
		at,
		until,
		waits: kind === "wait",
		now: night ? told(words.now({ time: nightClock(night, until), say })) : "",
		next: told(words.next({ time: from, say })),
	}));
	const [step] = steps;
	const end = Math.max(...rows.map(({ until }) => until));
	const [method] = view.methods;
	return (
		<div class="first">
			<p class={`verdict ${view.verdict.worst ?? ""}`}>{view.verdict.sentence}</p>
			{view.missing !== "" && <p>{view.missing}</p>}
			{step && (
				<div id="live" data-steps={JSON.stringify(steps)} data-wait={told(words.wait({ minutes: "{minutes}" }))}>
					<p class="next" id="live-now" />
					<p class="next" id="live-next">
						{step.next}
					</p>
					<p id="live-wait" />
				</div>
			)}
			{view.methodLine !== "" && <p>{view.methodLine}</p>}
			{method?.works && method.notCleared !== "" && <p class="not-cleared">{method.notCleared}</p>}
			{night && rows.length > 0 && <p>{told(words.back({ time: nightClock(night, end) }))}</p>}
			{night && <p class="soft">{told(words.zone({ zone: night.zone }))}</p>}
		</div>
	);
}

/** Settings that spoil a series when they are forgotten, and what a good test frame looks like. */
const BeforeFrames = ({ view: { shots } }: Pick<CardParts, "view">) => (
	<section aria-labelledby="camera-heading">
		<h2 id="camera-heading">{told(words.camera())}</h2>
		<ul class="plain">
			{[words.raw(), words.focus(), words.stabilisation(), words.reduction()].map(told).map((text) => (
				<li key={text}>{text}</li>
			))}
			{shots.map(({ target, index, interval }) => (
				<li key={index}>{told(words.interval({ target, interval: Number(interval.toFixed(1)) }))}</li>
			))}
		</ul>
		<h3>{told(words.test())}</h3>
		<p>{told(words.testText())}</p>
	</section>
);
