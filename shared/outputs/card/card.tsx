/** The card: what a hand, an eye and a cold finger need in the field, in one column. Complete without a script; live with it. */
import { renderToString } from "preact-render-to-string";
import type { Evaluation } from "../../evaluate/evaluate.ts";
import { told } from "../../text/sentence.ts";
import { shown } from "../../text/shown.ts";
import type { Output } from "../output.ts";
import { htmlFile } from "../page/document.ts";
import { Care, DimButton, EveningPart, Fallbacks, LostPart, MethodPart, methodsInParts, Shots } from "../page/page.tsx";
import { STYLE } from "../page/style.ts";
import { type PageView, pageView } from "../page/view.ts";
import { beforeFrames, TestFrame } from "./before-frames.tsx";
import { DriftPart, driftView } from "./drift-part.tsx";
import { First } from "./first.tsx";
import { type HandView, handView } from "./hand.ts";
import { Paper } from "./paper.tsx";
import { Practice } from "./practice.tsx";
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
					body: shown(renderToString(<Card view={view} hand={handView(evaluation)} evaluation={evaluation} />)),
					program: pageScript,
				});
			},
		},
	},
};

interface CardParts {
	readonly view: PageView;
	readonly hand: HandView | undefined;
	readonly evaluation: Evaluation;
}

function Card({ view, hand, evaluation }: CardParts) {
	const { night } = evaluation;
	const { first, corrections, fallbacks } = methodsInParts(view);
	const drift = driftView(evaluation);
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
			<First view={view} hand={hand} night={night} />
			{view.evening.length > 0 && <Practice rows={view.evening} />}
			<div class="rest">
				<Care cautions={view.cautions} />
				{view.evening.length > 0 && <EveningPart rows={view.evening} />}
				{first && <MethodPart method={first} place={0} />}
				{corrections.map((method) => (
					<MethodPart key={method.line} method={method} place={1} />
				))}
				<BeforeFrames view={view} />
				{drift && <DriftPart view={drift} />}
				{view.shots.length > 0 && <Shots shots={view.shots} line={view.lines.targets} />}
				{fallbacks.length > 0 && <Fallbacks methods={fallbacks} />}
				{view.lost && <LostPart view={view.lost} />}
			</div>
			<p class="screen">
				<label>
					<input type="checkbox" id="print-rest" /> {told(words.rest())}
				</label>
			</p>
			<Paper view={view} hand={hand} night={night} />
		</div>
	);
}

/** Settings that spoil a series when they are forgotten, and what a good test frame looks like. */
const BeforeFrames = ({ view: { shots } }: Pick<CardParts, "view">) => (
	<section aria-labelledby="camera-heading">
		<h2 id="camera-heading">{told(words.camera())}</h2>
		<ul class="plain">
			{beforeFrames(shots).map((text) => (
				<li key={text}>{text}</li>
			))}
		</ul>
		<h3>{told(words.test())}</h3>
		<TestFrame />
	</section>
);
