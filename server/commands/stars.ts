import { Command, InvalidArgumentError } from "commander";
import { isoText } from "../../shared/earth/zone.ts";
import { evaluate } from "../../shared/evaluate/evaluate.ts";
import { nightFor } from "../../shared/evaluate/proposals.ts";
import { costOf, suggestionsFor } from "../../shared/evaluate/suggestions.ts";
import { listOf } from "../../shared/methods/lists.ts";
import { ALL_METHODS } from "../../shared/methods/methods.ts";
import { answerText } from "../../shared/outputs/json/json.ts";
import { sentences, told } from "../../shared/text/sentence.ts";
import { CannotRun, readText } from "../files.node.ts";
import { HELP } from "../help-words.ts";
import { joinedPlan } from "../library.node.ts";
import { paint } from "../terminal.node.ts";

const words = sentences("command.stars", {
	costs: "{line}  {cost}",
	mustBeNumber: "It must be a number.",
	listsGuideStars:
		"Lists the guide stars that pass the aim point tonight while you are on site, in view and in the dark, the best first; and the bodies or pairs of stars that the plan's other methods can use.",
	faintestStarList: "faintest star to list",
	alsoListBright: "also list bright stars in twilight",
	howFarFrom: "how far from the aim point a star may pass, in degrees (default: the method's reach, or 1)",
	siteSCoordinates:
		"{path}: the site's coordinates and the night's date are needed; lodebook check says what is wrong with them",
});

interface Options {
	readonly json?: boolean;
	readonly faintest: number;
	readonly twilight?: boolean;
	readonly reach?: number;
}

const number = (text: string): number => {
	const value = Number(text);
	if (!Number.isFinite(value)) throw new InvalidArgumentError(told(words.mustBeNumber()));
	return value;
};

export const starsCommand = (): Command =>
	new Command("stars")
		.description(told(words.listsGuideStars()))
		.argument("<file>", "a plan file")
		.option("--json", HELP.json)
		.option("--faintest <magnitude>", told(words.faintestStarList()), number, 4.5)
		.option("--twilight", told(words.alsoListBright()))
		.option("--reach <degrees>", told(words.howFarFrom()), number)
		.addHelpText("after", `\n${HELP.example}\n  lodebook stars samples/roofless-chapel.lode.yaml --faintest 3.5`)
		.action((path: string, options: Options) => {
			const evaluation = evaluate(joinedPlan(path, readText(path)));
			const { methods, tonight, night } = evaluation;
			if (!tonight || !night) throw new CannotRun(told(words.siteSCoordinates({ path })));
			const { faintest, reach, twilight = false } = options;
			const searching = ALL_METHODS.flatMap((method) => {
				const { kind, search } = method;
				const lists = listOf(kind);
				const content = methods.find(({ value }) => value?.method.kind === kind)?.value?.content;
				const listing = lists?.listing;
				// A list that every plan gets is made for a method at its defaults where the plan has none.
				if (!listing || !(listing.always || content)) return [];
				const wanted = listing.always ? { faintest, twilight, ...(reach === undefined ? {} : { reach }) } : {};
				const own = content ?? { kind };
				const its = nightFor(evaluation, method) ?? tonight;
				const found = search ? suggestionsFor(evaluation, method, own, wanted) : (lists?.find?.(own, its) ?? []);
				return [{ method, own, wanted, listing, found }];
			});
			// What every plan gets comes first.
			const lists = searching.sort((a, b) => Number(b.listing.always) - Number(a.listing.always));
			if (options.json) {
				const iso = (at: number): string => isoText(night.zone, at);
				const record = Object.assign(
					{},
					...lists.map(({ own, listing, found }) => ({
						...listing.about?.(own, tonight),
						[listing.name]: found.map((one) => listing.record(one, iso)),
					})),
				);
				process.stdout.write(answerText(record));
				return;
			}
			const lines = lists.flatMap(({ method, own, wanted, listing, found }) => {
				const all = listing.text(found, own, tonight, wanted);
				// The lines of what was found are the last ones.
				const head = all.length - found.length;
				return all.map(({ text, soft }, i) => {
					const one = found[i - head];
					const cost = one && method.search && costOf(tonight, method, own, one.at);
					return { text: cost ? `${told(words.costs({ line: text.trimEnd(), cost }))}\n` : text, soft };
				});
			});
			process.stdout.write(lines.map(({ text, soft }) => (soft ? paint(text, "dim") : text)).join(""));
		});
