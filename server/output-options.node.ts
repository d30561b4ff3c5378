/** The options of a command that name outputs, made from their table; and what is asked for with them. */
import { type Command, InvalidArgumentError, Option } from "commander";
import type { Materials, Output } from "../shared/outputs/output.ts";
import { type MadeOf, outputsOf } from "../shared/outputs/outputs.ts";
import type { Ground } from "../shared/outputs/page/style.ts";
import { listText } from "../shared/text/list.ts";
import { sentences, told } from "../shared/text/sentence.ts";
import { environment } from "./environment.node.ts";
import { CannotRun } from "./files.node.ts";

const words = sentences("command.outputs", {
	noOutputWithout: "{material} has no output without an option",
	lodebookCheckSays: "{from}: {why}; lodebook check says what is wrong",
	together: "{options} cannot be given together: one answer at a time.",
	twice: "It can be given once only: one answer at a time.",
});

/** An output that was asked for. */
export interface Asked<M extends keyof Materials> {
	/** Its option without the dashes. */
	readonly name: string;
	/** Throws what the reader is told when it cannot be made; `from`: what the reader knows the material by. */
	readonly text: (of: Materials[M], from: string, ground?: Ground) => string;
}

interface OutputOptions<M extends keyof Materials> {
	/** Gives a command the options of all outputs that can be made of the material. */
	readonly addTo: (command: Command) => Command;
	/** The output asked for; the one without an option where none is. Throws when there is more than one. */
	readonly asked: (options: object) => Asked<M>;
}

export function outputOptions<M extends keyof Materials>(
	material: M,
	outputs: readonly Output[] | undefined,
): OutputOptions<M> {
	const known = outputsOf(material, outputs).map((made) => ({ made, option: optionOf(made) }));
	return {
		addTo(command) {
			for (const { option } of known) if (option) command.addOption(option);
			return command;
		},
		asked(options) {
			const values = new Map<string, unknown>(Object.entries(options));
			const [first, ...others] = known.flatMap(({ made, option }) => {
				const value = option && values.get(option.attributeName());
				return option && value !== undefined ? [askedFor(made, option.name(), value)] : [];
			});
			if (first && others.length > 0) {
				const names = [first, ...others].map(({ name }) => `--${name}`);
				throw new InvalidArgumentError(told(words.together({ options: listText(names) })));
			}
			if (first) return first;
			const standard = known.find(({ option }) => option === undefined)?.made;
			if (!standard) throw new Error(told(words.noOutputWithout({ material })));
			return askedFor(standard, standard.output.name, true);
		},
	};
}

/** `value`: the argument of its option, or true. */
const askedFor = <M extends keyof Materials>({ making }: MadeOf<M>, name: string, value: unknown): Asked<M> => ({
	name,
	text(of, from, ground) {
		const made = making.make(of, environment(ground), typeof value === "string" ? value : "");
		if (typeof made === "string") return made;
		throw new CannotRun(told(words.lodebookCheckSays({ from, why: told(made.why) })));
	},
});

function optionOf<M extends keyof Materials>({ output, making }: MadeOf<M>): Option | undefined {
	const { option, choice } = output;
	if (option === undefined) return undefined;
	const help = told(making.help);
	return choice ? once(new Option(`${option} <${choice.name}>`, help).choices(choice.among)) : new Option(option, help);
}

/** An option whose argument does not silently take the place of one given before. */
function once(option: Option): Option {
	const { parseArg } = option;
	return option.argParser((value: string, before: unknown) => {
		if (before !== undefined) throw new InvalidArgumentError(told(words.twice()));
		return parseArg ? parseArg(value, before) : value;
	});
}
