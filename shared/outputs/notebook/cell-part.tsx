/** A cell's part of the page, for a notebook: as HTML, as Markdown and as plain text, one after the other less rich. */
import type { JSX } from "preact";
import { renderToString } from "preact-render-to-string";
import { told } from "../../text/sentence.ts";
import { shown } from "../../text/shown.ts";
import { markdownText } from "../markdown/escaped.ts";
import { codeMarkdown, minutesMarkdown, stepsMarkdown } from "../markdown/summary.ts";
import { methodStateText } from "../method-state.ts";
import { ErrorEllipse, SideView, TurnView } from "../page/alignment-pictures.tsx";
import { AllSky } from "../page/all-sky.tsx";
import { ClockSlider } from "../page/clock-slider.tsx";
import { FinderChart } from "../page/finder-chart.tsx";
import { FramePicture } from "../page/frame-picture.tsx";
import { FindingText, Minutes, Steps, Values } from "../page/page.tsx";
import { Panorama } from "../page/panorama.tsx";
import { PoleDial } from "../page/pole-dial.tsx";
import { CELL_STYLE } from "../page/style.ts";
import { Moments, Timeline } from "../page/timeline.tsx";
import { Trail } from "../page/trail.tsx";
import type { FindingView, MethodView, PageView, TableView } from "../page/view.ts";
import { severityWord } from "../severity.ts";
import { numberedSteps } from "../steps.ts";
import { columnLines } from "../text/layout.ts";
import { words } from "./words.ts";

export interface CellPart {
	readonly html: string;
	readonly markdown: string;
	readonly text: string;
}

/**
 * The parts of some cells of the plan (one, as a rule); empty texts where there is nothing to say. `linkTo` is the
 * address of a code's explanation, where it can be opened.
 */
export function cellPart(view: PageView, cells: readonly number[], linkTo?: (code: string) => string): CellPart {
	const pieces = cells.map((cell) => pieceOf(view, cell)).filter((piece) => piece !== undefined);
	if (pieces.length === 0) return { html: "", markdown: "", text: "" };
	const body = shown(
		renderToString(
			<div class="lodebook-cell">
				{pieces.map((piece, i) => (
					<Part key={i} piece={piece} view={view} linkTo={linkTo} />
				))}
			</div>,
		),
	);
	return {
		html: `<style>${CELL_STYLE}</style>${body}`,
		markdown: pieces.map((piece) => markdownOf(piece, linkTo)).join("\n"),
		text: pieces.map(textOf).join("\n"),
	};
}

interface Piece {
	readonly kind: string;
	readonly verdict: string;
	readonly findings: readonly FindingView[];
	readonly cautions: readonly string[];
	readonly method: MethodView | undefined;
	readonly groups: TableView["groups"];
	readonly minutes: TableView["minutes"];
}

function pieceOf(view: PageView, cell: number): Piece | undefined {
	const kind = view.cells[cell] ?? "";
	const leads = kind === "plan";
	const method = view.methods.find((one) => one.cell === cell);
	const piece: Piece = {
		kind,
		verdict: leads ? view.verdict.text : "",
		// What is about the plan as a whole is said with its title.
		findings: view.findings.filter((finding) => finding.cell === cell || (leads && finding.cell === undefined)),
		cautions: leads ? view.cautions : (method?.cautions ?? []),
		method,
		groups: view.tables.find((table) => table.cell === cell)?.groups ?? [],
		minutes: view.tables.find((table) => table.cell === cell)?.minutes ?? [],
	};
	return leads || piece.findings.length > 0 || piece.method || piece.groups.length > 0 ? piece : undefined;
}

interface PartProps {
	readonly piece: Piece;
	readonly view: PageView;
	readonly linkTo: ((code: string) => string) | undefined;
}

function Part({ piece, view, linkTo }: PartProps) {
	const { kind, verdict, findings, cautions, method, groups, minutes } = piece;
	const picture = PICTURE[kind]?.(view, method);
	return (
		<div>
			{verdict !== "" && (
				<p>
					<span class={`verdict ${view.verdict.worst ?? ""}`}>{verdict}</span> <span class="soft">{view.where}</span>
				</p>
			)}
			{findings.length > 0 && (
				<ul class="plain">
					{findings.map(({ severity, message, code }) => (
						<li key={`${code} ${message}`}>
							<FindingText severity={severity} message={message} />{" "}
							{linkTo ? <a href={linkTo(code)}>{code}</a> : <span class="soft">{code}</span>}
						</li>
					))}
				</ul>
			)}
			{method && <p class="soft">{methodText(method, findings)}</p>}
			{method && method.notCleared !== "" && <p class="not-cleared">{method.notCleared}</p>}
			{cautions.length > 0 && (
				<details open={method !== undefined}>
					<summary>{told(words.cautions())}</summary>
					<ul class="plain care">
						{cautions.map((caution) => (
							<li key={caution}>{caution}</li>
						))}
					</ul>
				</details>
			)}
			{method?.works && <Steps method={method} />}
			<Minutes tables={minutes} />
			{picture}
			{groups.length > 0 &&
				(picture ? (
					<details>
						<summary>{told(words.values())}</summary>
						<Values groups={groups} />
					</details>
				) : (
					<Values groups={groups} />
				))}
		</div>
	);
}

/** What is drawn under a cell, by its kind. */
const PICTURE: Readonly<Record<string, (view: PageView, method: MethodView | undefined) => JSX.Element | undefined>> = {
	site: ({ panorama }) =>
		panorama && (
			<>
				<Panorama view={panorama} />
				<ClockSlider view={panorama} />
				<AllSky view={panorama} />
			</>
		),
	night: ({ timeline }) =>
		timeline && (
			<>
				<Timeline view={timeline} />
				<Moments view={timeline} />
			</>
		),
	method: (_, method) =>
		method?.alignment && (
			<div class="two">
				<SideView view={method.alignment} />
				{method.alignment.dial && <PoleDial view={method.alignment.dial} />}
				{method.finder && <FinderChart view={method.finder} />}
				{method.alignment.turn && <TurnView turn={method.alignment.turn} />}
				{method.alignment.ellipse && <ErrorEllipse view={method.alignment.ellipse} />}
			</div>
		),
	targets: ({ trail, frames }) =>
		trail || frames.length > 0 ? (
			<div class="two">
				{frames.map((frame) => (
					<FramePicture key={frame.line} view={frame} />
				))}
				{trail && <Trail view={trail} />}
			</div>
		) : undefined,
};

/** Whether the reason why a method does not work stands among the findings. */
const whyIsTold = ({ why }: MethodView, findings: readonly FindingView[]): boolean =>
	findings.some(({ message }) => message === why);

const methodText = (method: MethodView, findings: readonly FindingView[]): string =>
	methodStateText(method, { whyIsTold: whyIsTold(method, findings) });

const wordOf = (severity: FindingView["severity"]): string => told(words.findingWord({ word: severityWord(severity) }));

function markdownOf(
	{ verdict, findings, cautions, method, groups, minutes }: Piece,
	linkTo: PartProps["linkTo"],
): string {
	const linked = (code: string): string => (linkTo ? `[${codeMarkdown(code)}](${linkTo(code)})` : codeMarkdown(code));
	const out: string[] = [];
	if (verdict !== "") out.push(`**${markdownText(verdict)}**`);
	if (findings.length > 0)
		out.push(
			findings
				.map(({ severity, message, code }) => `- **${wordOf(severity)}** ${markdownText(message)} ${linked(code)}`)
				.join("\n"),
		);
	if (method) out.push(markdownText(methodText(method, findings)));
	if (method && method.notCleared !== "") out.push(`**${markdownText(method.notCleared)}**`);
	if (cautions.length > 0)
		out.push(
			`**${markdownText(told(words.cautions()))}**`,
			cautions.map((caution) => `- ${markdownText(caution)}`).join("\n"),
		);
	if (method?.works && method.steps.length > 0) out.push(stepsMarkdown(method.steps));
	for (const { of, rows } of groups)
		out.push(
			`| ${markdownText(of === "" ? told(words.values()) : of)} | |\n|:--|:--|\n${rows.map(({ label, text }) => `| ${markdownText(label)} | **${markdownText(text)}** |`).join("\n")}`,
		);
	out.push(...minutes.map(minutesMarkdown));
	return `${out.join("\n\n")}\n`;
}

function textOf({ verdict, findings, cautions, method, groups, minutes }: Piece): string {
	const lines: string[] = verdict === "" ? [] : [verdict];
	for (const { severity, message, code } of findings)
		lines.push(told(words.finding({ word: severityWord(severity), message, code })));
	if (method) lines.push(methodText(method, findings));
	if (method && method.notCleared !== "") lines.push(method.notCleared);
	if (cautions.length > 0) lines.push(told(words.cautions()), ...cautions.map((caution) => `  ${caution}`));
	if (method?.works) lines.push(...numberedSteps(method.steps, { number: (text) => `  ${text}` }));
	for (const { of, rows } of groups) {
		if (of !== "") lines.push(of);
		for (const { label, text } of rows) lines.push(`${of === "" ? "" : "  "}${told(words.value({ label, text }))}`);
	}
	for (const { title, head, rows } of minutes)
		lines.push(title, ...columnLines([head, ...rows.map((row) => row.columns)]));
	return `${lines.join("\n")}\n`;
}
