/** A static site of all plans of a folder: an index, and a page for each plan that leads to what was written of it. */
import type { JSX } from "preact";
import { renderToString } from "preact-render-to-string";
import { type EpochMs, isoText } from "../../earth/zone.ts";
import { told } from "../../text/sentence.ts";
import { shown } from "../../text/shown.ts";
import { htmlFile } from "../page/document.ts";
import { FindingText } from "../page/page.tsx";
import { STYLE } from "../page/style.ts";
import { type MarkedPlace, SiteMap } from "./map.tsx";
import type { ReportedFile, ReportedPlan } from "./record.ts";
import { words } from "./words.ts";

/** A page of the site by its path from the site's folder. */
export interface SiteFile {
	readonly path: string;
	readonly text: string;
}

export interface Report {
	/** The folder, as it was asked for. */
	readonly folder: string;
	/** In their order. */
	readonly plans: readonly ReportedPlan[];
	/** What could not be read, a sentence each. */
	readonly unread: readonly string[];
	readonly now: EpochMs;
	/** The path from the report's folder of a plan that another takes from; undefined where it lies outside. */
	readonly inFolder: (path: string) => string | undefined;
}

/** The folder of a plan in the site. What a plan may be called, a folder may too; its ending keeps them apart. */
export const placeOfPlan = (path: string): string => `plans/${path.replace(/\.lode\.yaml$/, "")}.plan`;

const INDEX = "index.html";

/** All pages beside those that are made of one plan alone. */
export function siteFiles(report: Report): readonly SiteFile[] {
	const links = linksOf(report);
	return [
		{
			path: INDEX,
			text: htmlOf(told(words.title({ folder: report.folder })), <Index report={report} links={links} />),
		},
		...report.plans.map((plan) => ({
			path: `${placeOfPlan(plan.path)}/${INDEX}`,
			text: htmlOf(plan.title, <PlanPage plan={plan} links={links} />),
		})),
	];
}

const htmlOf = (title: string, body: JSX.Element): string =>
	htmlFile({ title, style: STYLE + REPORT_STYLE, body: shown(renderToString(body)), program: "" });

const REPORT_STYLE = `
a { color: var(--blue); } td, th { vertical-align: top; } td:first-child { white-space: nowrap; }
@media (min-width: 900px) { .nights td { overflow-wrap: break-word; } .nights td:nth-child(2) { min-width: 15em; } .nights td:nth-child(2) div { overflow-wrap: anywhere; } .nights td:nth-child(3), .nights td:last-child { min-width: 8em; } }
`;

/** Who takes from whom, in both directions. */
interface Links {
	readonly plans: ReadonlyMap<string, ReportedPlan>;
	readonly users: ReadonlyMap<string, readonly ReportedPlan[]>;
	readonly inFolder: Report["inFolder"];
}

function linksOf({ plans, inFolder }: Report): Links {
	const users = new Map<string, ReportedPlan[]>();
	for (const plan of plans)
		for (const other of plan.takes) {
			const path = inFolder(other);
			if (path !== undefined) users.set(path, [...(users.get(path) ?? []), plan]);
		}
	return { plans: new Map(plans.map((plan) => [plan.path, plan])), users, inFolder };
}

/** Findings of a plan that the index shows at most. */
const MOST_FINDINGS = 3;

const addressed = (path: string): string => path.split("/").map(encodeURIComponent).join("/");

/** From the index. */
const hrefOf = (plan: ReportedPlan): string => `${addressed(placeOfPlan(plan.path))}/${INDEX}`;

function Index({ report, links }: { readonly report: Report; readonly links: Links }) {
	const { folder, plans, unread, now } = report;
	const dated = plans
		.filter(({ night }) => night !== undefined)
		.sort((a, b) => ((a.night?.date ?? "") < (b.night?.date ?? "") ? -1 : a.night?.date === b.night?.date ? 0 : 1));
	const undated = plans.filter(({ night, kind }) => night === undefined && kind !== "library");
	const libraries = plans.filter(({ kind }) => kind === "library");
	const wrong = plans.filter(({ findings }) => findings.some(({ severity }) => severity !== "info"));
	return (
		<>
			<h1>{told(words.title({ folder }))}</h1>
			<p class="soft">
				{told(
					words.made({ count: plans.length, s: plans.length === 1 ? "" : "s", date: isoText("UTC", now).slice(0, 10) }),
				)}
			</p>
			{dated.length > 0 && (
				<Section heading={told(words.nights())}>
					<div class="scroll">
						<table class="nights">
							<thead>
								<tr>
									{[
										words.date(),
										words.plan(),
										words.site(),
										words.dark(),
										words.usable(),
										words.moon(),
										words.align(),
										words.verdict(),
									].map((head) => (
										<th key={head.key} scope="col">
											{told(head)}
										</th>
									))}
								</tr>
							</thead>
							<tbody>
								{dated.map((plan) => (
									<NightRow key={plan.path} plan={plan} />
								))}
							</tbody>
						</table>
					</div>
				</Section>
			)}
			<MapPart plans={plans} />
			{undated.length > 0 && (
				<Section heading={told(words.undated())}>
					<ul>
						{undated.map((plan) => (
							<li key={plan.path}>
								<PlanLink plan={plan} href={hrefOf(plan)} />. {plan.verdict.text}
							</li>
						))}
					</ul>
				</Section>
			)}
			{libraries.length > 0 && (
				<Section heading={told(words.libraries())}>
					<ul>
						{libraries.map((plan) => (
							<li key={plan.path}>
								<PlanLink plan={plan} href={hrefOf(plan)} />. {told(words.usedBy())}:{" "}
								<Users of={plan} links={links} up="" />. {plan.verdict.text}
							</li>
						))}
					</ul>
				</Section>
			)}
			{wrong.length > 0 && (
				<Section heading={told(words.findings())}>
					{wrong.map((plan) => (
						<section key={plan.path}>
							<h3>
								<PlanLink plan={plan} href={hrefOf(plan)} />
							</h3>
							<Findings findings={plan.findings.filter(({ severity }) => severity !== "info")} most={MOST_FINDINGS} />
						</section>
					))}
				</Section>
			)}
			{unread.length > 0 && (
				<Section heading={told(words.unread())}>
					<ul>
						{unread.map((message) => (
							<li key={message}>{message}</li>
						))}
					</ul>
				</Section>
			)}
		</>
	);
}

function NightRow({ plan }: { readonly plan: ReportedPlan }) {
	const { night, site, methodLine, verdict } = plan;
	return (
		<tr>
			<td>{night?.date}</td>
			<td>
				<a href={hrefOf(plan)}>{plan.title}</a>
				<div class="soft">{plan.path}</div>
			</td>
			<td>{site}</td>
			<td>{night?.dark}</td>
			<td>{night?.usable}</td>
			<td>{night?.moon}</td>
			<td>{methodLine}</td>
			<td>
				<span class={`verdict ${verdict.worst ?? ""}`}>{verdict.text}</span>
			</td>
		</tr>
	);
}

/** One mark for a place, which leads to the first plan there. */
function MapPart({ plans }: { readonly plans: readonly ReportedPlan[] }) {
	const places = new Map<string, MarkedPlace>();
	for (const plan of [...plans].sort((a, b) => Number(a.kind === "library") - Number(b.kind === "library")))
		for (const place of plan.places) {
			const key = `${place.latitude.toFixed(4)} ${place.longitude.toFixed(4)}`;
			if (!places.has(key)) places.set(key, { ...place, href: hrefOf(plan) });
		}
	if (places.size === 0) return null;
	return (
		<Section heading={told(words.map())}>
			<SiteMap places={[...places.values()]} />
		</Section>
	);
}

type Inside = JSX.Element | false | readonly Inside[];

const Section = ({ heading, children }: { readonly heading: string; readonly children: Inside }) => (
	<section>
		<h2>{heading}</h2>
		{children}
	</section>
);

const PlanLink = ({ plan, href }: { readonly plan: ReportedPlan; readonly href: string }) => (
	<>
		<a href={href}>{plan.title}</a> <span class="soft">{plan.path}</span>
	</>
);

/** `up`: the way from the page to the site's folder. */
function Users({ of, links, up }: { readonly of: ReportedPlan; readonly links: Links; readonly up: string }) {
	const users = links.users.get(of.path) ?? [];
	if (users.length === 0) return <>{told(words.nobody())}</>;
	return (
		<>
			{users.map((plan, i) => (
				<span key={plan.path}>
					{i > 0 ? ", " : ""}
					<a href={`${up}${hrefOf(plan)}`}>{plan.title}</a>
				</span>
			))}
		</>
	);
}

function Findings({
	findings,
	most = Number.POSITIVE_INFINITY,
}: {
	readonly findings: ReportedPlan["findings"];
	readonly most?: number;
}) {
	return (
		<ul class="plain findings">
			{findings.slice(0, most).map(({ severity, message, code, line }) => (
				<li key={`${line} ${code} ${message}`} class={severity}>
					<FindingText severity={severity} message={message} /> <span class="soft">{told(words.line({ line }))}</span>{" "}
					<code>{code}</code>
				</li>
			))}
			{findings.length > most && <li class="soft">{told(words.more({ count: findings.length - most }))}</li>}
		</ul>
	);
}

function PlanPage({ plan, links }: { readonly plan: ReportedPlan; readonly links: Links }) {
	const up = "../".repeat(placeOfPlan(plan.path).split("/").length);
	const { title, summary, where, verdict, methodLine, night, findings, takes, files, path } = plan;
	return (
		<>
			<p>
				<a href={`${up}${INDEX}`}>{told(words.all())}</a>
			</p>
			<h1>{title}</h1>
			{summary !== "" && <p>{summary}</p>}
			<p class="soft">{[where, path].filter((text) => text !== "").join(" · ")}</p>
			<p class={`verdict ${verdict.worst ?? ""}`}>{verdict.sentence}</p>
			{methodLine !== "" && <p>{methodLine}</p>}
			{night && (
				<dl>
					{(
						[
							[words.dark(), night.dark],
							[words.usable(), night.usable],
							[words.moon(), night.moon],
						] as const
					)
						.filter(([, text]) => text !== "")
						.map(([label, text]) => (
							<div key={label.key}>
								<dt>{told(label)}</dt>
								<dd>{text}</dd>
							</div>
						))}
				</dl>
			)}
			{files.length > 0 && (
				<Section heading={told(words.pages())}>
					<ul>
						{files.map((file) => (
							<li key={file.name}>
								<a href={encodeURIComponent(file.name)}>{labelOf(file, plan)}</a>
							</li>
						))}
					</ul>
				</Section>
			)}
			{takes.length > 0 && (
				<Section heading={told(words.takes())}>
					<ul>
						{takes.map((other) => (
							<li key={other}>
								<Taken path={other} links={links} up={up} />
							</li>
						))}
					</ul>
				</Section>
			)}
			{(plan.kind === "library" || links.users.has(path)) && (
				<Section heading={told(words.usedBy())}>
					<p>
						<Users of={plan} links={links} up={up} />
					</p>
				</Section>
			)}
			<Section heading={told(words.verdict())}>
				{findings.length === 0 ? <p>{told(words.none())}</p> : <Findings findings={findings} />}
			</Section>
		</>
	);
}

function Taken({ path, links, up }: { readonly path: string; readonly links: Links; readonly up: string }) {
	const inside = links.inFolder(path);
	const plan = inside === undefined ? undefined : links.plans.get(inside);
	if (!plan) return <>{told(words.elsewhere({ path }))}</>;
	return <PlanLink plan={plan} href={`${up}${hrefOf(plan)}`} />;
}

function labelOf({ kind, of }: ReportedFile, plan: ReportedPlan): string {
	if (kind === "member") return told(words.cardOf({ name: of }));
	if (plan.kind === "group") return told(kind === "page" ? words.sheet() : words.sheetCard());
	return told(kind === "page" ? words.page() : words.card());
}
