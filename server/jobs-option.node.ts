/** The option of a command that works on many plans. */
import { InvalidArgumentError, Option } from "commander";
import { sentences, told } from "../shared/text/sentence.ts";

const words = sentences("command.jobs", {
	jobs: "how many plans to work on at a time (default: one per core, at most 8)",
	whole: "It must be a whole number from 1 to 64.",
});

export const jobsOption = (): Option =>
	new Option("--jobs <number>", told(words.jobs())).argParser((text: string): number => {
		if (!/^[1-9]\d?$/.test(text) || Number(text) > 64) throw new InvalidArgumentError(told(words.whole()));
		return Number(text);
	});
