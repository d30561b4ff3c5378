/** Values by what fits there: words, names, zones, guide stars and bodies tonight, nights, clock times, units. */
import { CompletionItemKind } from "vscode-languageserver";
import type { EvaluatedNight } from "../../../shared/cells/night/night.ts";
import type { EvaluatedSite } from "../../../shared/cells/site/site.ts";
import { clockOf } from "../../../shared/earth/zone.ts";
import type { Evaluation } from "../../../shared/evaluate/evaluate.ts";
import { momentsOf } from "../../../shared/evaluate/moments.ts";
import { fallbacks, type Proposed } from "../../../shared/evaluate/proposals.ts";
import { searchFilling, suggestionsFor, withCost } from "../../../shared/evaluate/suggestions.ts";
import { ALL_METHODS, type AnyMethod } from "../../../shared/methods/methods.ts";
import { degrees, errorDegrees } from "../../../shared/notation/angle.ts";
import { bearingWithPoint } from "../../../shared/notation/bearing.ts";
import { nightClock, nightSpan } from "../../../shared/notation/night-clock.ts";
import type { CompletionContext, Named, NameSpace, Notation, Offer } from "../../../shared/notation/notation.ts";
import { keyTemplate } from "../../../shared/plan/skeleton.ts";
import { hiddenBy } from "../../../shared/sky/cover.ts";
import { apparentDirection, BODY_NAMES, findBody, type SkyBody } from "../../../shared/sky/place.ts";
import { whereTrue } from "../../../shared/sky/roots.ts";
import { scalarText, written } from "../../../shared/text/scalar.ts";
import { type Phrase, sentences, told } from "../../../shared/text/sentence.ts";
import { hasGaps, type Template } from "../../../shared/text/template.ts";
import type { Place } from "./place.ts";
import type { Proposal } from "./proposal.ts";

/** How many names are offered at once, those that work and the brightest first. */
export const MOST_NAMES = 250;

const OFFER_KINDS: Readonly<Record<Offer["kind"], CompletionItemKind>> = {
	value: CompletionItemKind.Value,
	word: CompletionItemKind.EnumMember,
	name: CompletionItemKind.Reference,
	sky: CompletionItemKind.Constant,
	moment: CompletionItemKind.Event,
	mapping: CompletionItemKind.Struct,
};

const words = sentences("completion", {
	lens: "{focalLength} mm f/{fNumber}",
	bodyThen: "altitude {altitude}, bearing {bearing} half-way through your time on site",
	bodyLater: "in view {times}",
	below: "below the horizon while you are on site",
	hidden: "hidden while you are on site",
	neverWorks: "never works tonight",
	axis: "axis within {error} tonight{by}",
});

export function valuesAt(place: Place, shape: Notation): readonly Proposal[] {
	if (place.kind === "method" && place.path === "kind") return methodKinds(place);
	const { context } = place;
	// In the quotes that are typed, if any are.
	const old = /^["']/.exec(context.prefix)?.[0] ?? "";
	return shape
		.complete(contextOf(place))
		.map(({ label, shown, detail, kind, yaml, order, filter, ofTyped }, i): Proposal => {
			const text: Template =
				yaml === undefined
					? [scalarText(label, { flow: context.flow, old })]
					: typeof yaml === "string"
						? [yaml]
						: yaml;
			return {
				label: shown ?? label,
				beside: typeof detail === "string" ? detail : told(detail),
				kind: OFFER_KINDS[kind],
				rank: `4${String(order ?? i).padStart(4, "0")}`,
				filter: filter ?? (typeof yaml === "object" ? label : String(text[0])),
				text,
				ofTyped: ofTyped ?? false,
				needsGaps: hasGaps(text),
			};
		});
}

/** Kinds of method: those that would work tonight first, the finest of them, each with the keys it needs. */
function methodKinds(place: Place): readonly Proposal[] {
	const { evaluation, cell } = place;
	const proposed = fallbacks(evaluation, cell);
	const others = ALL_METHODS.filter((method) => !proposed.some((one) => one.method === method));
	return [
		...proposed.map((one) => ({ method: one.method, of: one as Proposed | undefined })),
		...others.map((method) => ({ method, of: undefined })),
	].map(
		({ method, of }, i): Proposal => ({
			label: method.kind,
			beside: of ? told(words.axis({ error: errorDegrees(of.radius95), by: [of.by] })) : told(method.words.doc()),
			doc: told(method.words.doc()),
			kind: CompletionItemKind.EnumMember,
			rank: `4${String(i).padStart(4, "0")}`,
			text: [method.kind, ...keysWith(place, method, of)],
		}),
	);
}

/** The keys that a method is begun with and that the cell has not, each on a line. */
function keysWith({ cell, context }: Place, method: AnyMethod, of: Proposed | undefined): Template {
	if (context.flow) return [];
	const break_ = `\n${" ".repeat(context.indent)}`;
	const missing = (key: string): boolean => !cell.read.places.has(key);
	if (of) {
		const keys = Object.entries(of.keys).filter(([key]) => missing(key));
		return keys.map(([key, value]) => `${break_}${key}: ${written(value)}`);
	}
	return (method.begins ?? []).filter(missing).flatMap((key): Template => {
		const field = method.keys[key];
		return field ? [break_, ...keyTemplate(key, field)] : [];
	});
}

/** What notations ask of the plan. */
function contextOf(place: Place): CompletionContext {
	const { evaluation, context } = place;
	return {
		source: context.prefix,
		typed: context.prefix.replace(/^["']/, "").toLowerCase(),
		most: MOST_NAMES,
		zoneThere: () => evaluation.site?.zoneThere,
		names: (space) => namesOf(space, evaluation),
		nights: () => place.nights?.(evaluation) ?? [],
		moments() {
			const { night } = evaluation;
			return night
				? momentsOf(evaluation).map(({ at, what }) => ({
						name: clockOf(night.zone, at),
						shown: nightClock(night, at),
						detail: what,
					}))
				: [];
		},
		ranked: () => rankedTonight(place),
		bodies: (known) => bodiesNamed(place, known),
		useless: uselessIn(place),
	};
}

function namesOf(space: NameSpace, { plan, site, lenses, landmarks }: Evaluation): readonly Named[] {
	if (space === "lens") {
		return plan.cells.flatMap(({ read }) => {
			if (read.kind !== "lens" || !read.content?.name) return [];
			const { name } = read.content;
			const camera = lenses.find(({ value }) => value?.name === name)?.value?.camera;
			return { name, detail: camera ? words.lens({ focalLength: camera.focalLength, fNumber: camera.fNumber }) : "" };
		});
	}
	const named =
		space === "landmark"
			? (site?.content.landmarks ?? [])
			: [
					...(site?.content.openings ?? []),
					...(site?.content.obstructions ?? []).filter(({ window }) => window !== undefined),
				];
	return named.flatMap(({ name }) => {
		if (!name) return [];
		const landmark = landmarks.find((one) => one.name === name);
		return { name, detail: landmark ? bearingWithPoint(landmark.bearing) : "" };
	});
}

/** Stars and bodies that work here tonight, as the method's own search says. */
function rankedTonight({ evaluation, cell, path }: Place): readonly Named[] {
	const { night } = evaluation;
	const content = cell.read.kind === "method" ? cell.read.content : undefined;
	const method = content && searchFilling(path);
	if (!night || !content || !method?.search) return [];
	const { detail } = method.search;
	return suggestionsFor(evaluation, method, content).map((found) => ({
		name: found.name,
		detail: withCost(evaluation, method, content, found, detail(found, night)),
	}));
}

/** How far apart the moments are at which one looks whether something is in view: what shows itself for less is hardly seen. */
const LOOK_EVERY_MS = 15 * 60_000;

/** Why something cannot be used: never in view while on site, or never there where a method wants it. */
function uselessIn({ evaluation, cell, path }: Place): CompletionContext["useless"] {
	const { night, site, tonight } = evaluation;
	const method = searchFilling(path);
	const content = cell.read.kind === "method" ? cell.read.content : undefined;
	return (name) => {
		if (!night || !site) return undefined;
		const body = findBody(name);
		if (!body) return undefined;
		if (method && tonight && content) {
			const { at: _, ...rest } = content;
			const setUp = method.setUp({ ...rest, [path]: name }, tonight);
			return setUp.windows.length === 0 ? words.neverWorks() : undefined;
		}
		const { from, until } = night.onSite;
		let isUp = false;
		for (let at = from; at <= until; at += LOOK_EVERY_MS) {
			const by = hiddenBy(site.cover, apparentDirection(body, site.spot, at));
			if (by === undefined) return undefined;
			isUp ||= by !== "horizon";
		}
		return isUp ? words.hidden() : words.below();
	};
}

/** Bodies where they may be named, and where they are half-way through the time on site. */
function bodiesNamed({ evaluation }: Place, known: ReadonlySet<string>): readonly Named[] {
	const { night, site } = evaluation;
	return BODY_NAMES.filter((name) => !known.has(name)).map((name) => {
		const body = findBody(name);
		return { name, detail: body && site && night ? whereThen(body, site, night) : "" };
	});
}

/** Where a body is half-way through the time on site, if it is in view then; else when it is. */
function whereThen(body: SkyBody, { spot, cover }: EvaluatedSite, night: EvaluatedNight): Phrase {
	const { from, until } = night.onSite;
	const then = apparentDirection(body, spot, (from + until) / 2);
	const seen =
		hiddenBy(cover, then) === undefined
			? []
			: whereTrue(
					(at) => hiddenBy(cover, apparentDirection(body, spot, at)) === undefined,
					night.onSite,
					LOOK_EVERY_MS,
				);
	return seen.length > 0
		? words.bodyLater({ times: seen.map((one) => nightSpan(night, one)).join(", ") })
		: words.bodyThen({ altitude: degrees(then.altitude), bearing: bearingWithPoint(then.azimuth) });
}
