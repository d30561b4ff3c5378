import { Command, InvalidArgumentError, Option } from "commander";
import { mergePlans } from "../../shared/plan/merge.ts";
import { sentences, told } from "../../shared/text/sentence.ts";
import { CannotRun, readPlanFile } from "../files.node.ts";
import { HELP } from "../help-words.ts";
import { say } from "../terminal.node.ts";
import { replaceFile } from "../write-file.node.ts";

const words = sentences("command.merge", {
	more: "As git's merge driver and for its diffs:",
	exits: "0 merged, 1 there are conflicts, 2 something could not be read or written.",
	mergesTwoPlans: `Merges two versions of a plan, cell by cell, key by key, target by target, and writes the result over OURS.
			Where both changed the same thing in different ways, both versions are kept between conflict markers.`,
	planBothCame: "the version that both started from; an empty file if there was none",
	ourSideMerged: "our side: the merged plan is written over it",
	lengthConflictMarkers: "length of the conflict markers",
	whatPlanCalled: "name of the plan in messages",
	conflicts: "{path}: {count} conflict{s}; both versions are between the markers",
	notUtf8: "{path} is left as it is: not all of it is UTF-8",
	size: "a number from 7 to 100",
});

export const mergeCommand = (): Command =>
	new Command("merge")
		.description(told(words.mergesTwoPlans()))
		.argument("<base>", told(words.planBothCame()))
		.argument("<ours>", told(words.ourSideMerged()))
		.argument("<theirs>", "their side")
		.addOption(
			new Option("--marker-size <characters>", told(words.lengthConflictMarkers()))
				.default(7)
				.argParser((given: string) => {
					const size = Number(given);
					if (!Number.isInteger(size) || size < 7 || size > 100) throw new InvalidArgumentError(told(words.size()));
					return size;
				}),
		)
		.option("--path <path>", told(words.whatPlanCalled()))
		.addHelpText(
			"after",
			`\n${HELP.examples}\n  lodebook merge base.lode.yaml ours.lode.yaml theirs.lode.yaml\n\n${told(words.more())}\n  git config merge.lodebook.driver 'lodebook merge --marker-size %L --path %P -- %O %A %B'\n  git config diff.lodebook.textconv 'lodebook show'\n  echo '*.lode.yaml merge=lodebook diff=lodebook' >> .gitattributes\n\n${HELP.exitStatus} ${told(words.exits())}`,
		)
		.action((base: string, ours: string, theirs: string, { markerSize, path }: Options) => {
			const [b, o, t] = [base, ours, theirs].map(readPlanFile);
			if (!b || !o || !t) throw new Error("three files were asked for");
			for (const file of [b, o, t])
				if (!file.valid) throw new CannotRun(told(words.notUtf8({ path: path ?? file.path })));
			const { text, conflicts } = mergePlans(b.text, o.text, t.text, { size: markerSize });
			if (text !== o.text) replaceFile(o, text);
			if (conflicts === 0) return;
			say(told(words.conflicts({ path: path ?? ours, count: conflicts, s: conflicts === 1 ? "" : "s" })));
			process.exitCode = 1;
		});

interface Options {
	readonly markerSize: number;
	readonly path?: string;
}
