/** Pictures of the page, each as one file. */
import type { JSX } from "preact";
import { renderToString } from "preact-render-to-string";
import { sentences } from "../../text/sentence.ts";
import type { Output } from "../output.ts";
import { ErrorEllipse, SideView, TurnView } from "../page/alignment-pictures.tsx";
import { Panorama } from "../page/panorama.tsx";
import { STYLE } from "../page/style.ts";
import { Timeline } from "../page/timeline.tsx";
import { Trail } from "../page/trail.tsx";
import { type PageView, pageView } from "../page/view.ts";

const words = sentences("output.svg", {
	help: "write one picture",
	notEnough: "there is not enough in the plan for the picture {name}",
});

/** Pictures by name. */
export const PICTURES = {
	panorama: ({ panorama }) => panorama && <Panorama view={panorama} />,
	timeline: ({ timeline }) => timeline && <Timeline view={timeline} />,
	"side-view": ({ alignment }) => alignment && <SideView view={alignment} />,
	"turn-view": ({ alignment }) => alignment?.turn && <TurnView turn={alignment.turn} />,
	"error-ellipse": ({ alignment }) => alignment && <ErrorEllipse view={alignment.ellipse} />,
	trail: ({ trail }) => trail && <Trail view={trail} />,
} as const satisfies Readonly<Record<string, (view: PageView) => JSX.Element | false | undefined>>;

export type PictureName = keyof typeof PICTURES;

const NAMES = Object.keys(PICTURES) as readonly PictureName[];

/** One picture, by its name. */
export const svg: Output = {
	name: "svg",
	option: "--svg",
	choice: { name: "picture", among: NAMES },
	mediaType: "image/svg+xml",
	extension: "svg",
	of: {
		plan: {
			help: words.help(),
			make({ evaluation, findings }, _, name) {
				const known = NAMES.find((one) => one === name);
				const made = known && pictureDocument(known, pageView(evaluation, findings));
				return made ?? { why: words.notEnough({ name }) };
			},
		},
	},
};

/** A picture of the page as an SVG file; undefined when the plan does not hold enough for it. */
export function pictureDocument(name: PictureName, view: PageView): string | undefined {
	const drawn = PICTURES[name](view);
	const picture = drawn && /<svg[\s\S]*<\/svg>/.exec(renderToString(drawn))?.[0];
	if (!picture) return undefined;
	const [width = "0", height = "0"] = (/viewBox="[-\d.]+ [-\d.]+ ([\d.]+) ([\d.]+)"/.exec(picture) ?? []).slice(1);
	const head = `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}"`;
	const styled = picture.replace("<svg", head).replace(/>/, `><style>${STYLE}</style>`);
	return `<?xml version="1.0" encoding="UTF-8"?>\n${styled}\n`;
}
