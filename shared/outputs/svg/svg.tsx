/** Pictures of the page, each as one file. */
import type { JSX } from "preact";
import { renderToString } from "preact-render-to-string";
import { sentences } from "../../text/sentence.ts";
import { shown } from "../../text/shown.ts";
import type { Output } from "../output.ts";
import { ErrorEllipse, SideView, TurnView } from "../page/alignment-pictures.tsx";
import { AllSky } from "../page/all-sky.tsx";
import { FinderChart } from "../page/finder-chart.tsx";
import { FramePicture } from "../page/frame-picture.tsx";
import { Panorama } from "../page/panorama.tsx";
import { PoleDial } from "../page/pole-dial.tsx";
import { type Ground, literal, pictureStyle } from "../page/style.ts";
import { Timeline } from "../page/timeline.tsx";
import { Trail } from "../page/trail.tsx";
import { type PageView, pageView } from "../page/view.ts";

const words = sentences("output.svg", {
	exported: "Picture (SVG)",
	help: "write one picture",
	notEnough: "the plan lacks what the picture {name} needs",
});

/** Pictures by name. */
export const PICTURES = {
	panorama: ({ panorama }) => panorama && <Panorama view={panorama} still />,
	"all-sky": ({ panorama }) => panorama && <AllSky view={panorama} still />,
	"panorama-figures": ({ panorama }) => panorama && <Panorama view={panorama} still figures />,
	"all-sky-figures": ({ panorama }) => panorama && <AllSky view={panorama} still figures />,
	timeline: ({ timeline }) => timeline && <Timeline view={timeline} still />,
	"finder-chart": ({ methods: [method] }) => method?.finder && <FinderChart view={method.finder} />,
	"side-view": ({ alignment }) => alignment && <SideView view={alignment} />,
	"turn-view": ({ alignment }) => alignment?.turn && <TurnView turn={alignment.turn} />,
	"pole-dial": ({ alignment }) => alignment?.dial && <PoleDial view={alignment.dial} />,
	"error-ellipse": ({ alignment }) => alignment?.ellipse && <ErrorEllipse view={alignment.ellipse} />,
	frame: ({ frames: [frame] }) => frame && <FramePicture view={frame} />,
	trail: ({ trail }) => trail && <Trail view={trail} />,
} as const satisfies Readonly<Record<string, (view: PageView) => JSX.Element | false | undefined>>;

export type PictureName = keyof typeof PICTURES;

const NAMES = Object.keys(PICTURES) as readonly PictureName[];

/** One picture, by its name. */
export const svg: Output = {
	name: "svg",
	title: words.exported(),
	option: "--svg",
	choice: { name: "picture", among: NAMES },
	mediaType: "image/svg+xml",
	extension: "svg",
	of: {
		plan: {
			help: words.help(),
			make({ evaluation, findings }, { ground }, name) {
				const known = NAMES.find((one) => one === name);
				const made = known && pictureDocument(known, pageView(evaluation, findings), ground);
				return made ?? { why: words.notEnough({ name }) };
			},
		},
	},
};

/** The tag that opens the picture: what stands in its attributes is quoted, so that it ends at the first `>` outside. */
const OPENING = /<svg((?:\s+[\w:-]+="[^"]*")*)\s*>/;
/** The colours that a picture names: only where they stand as attributes. */
const NAMED = /="var\(--\w+\)"/g;

/** A picture drawn for a narrow column is a file so many times as large, its text smaller against it. */
const NARROW = 600;
const ENLARGED = 3;
const SMALL_TEXT = "9px";

/** What a picture that is as wide as there is room has as a file: pixels. */
const WIDTH = "1200";
const boxOf = (attributes: string): readonly string[] => [
	"0",
	"0",
	WIDTH,
	/height="(\d+)"/.exec(attributes)?.[1] ?? "0",
];

/**
 * A picture of the page as an SVG file of its own: literal colours on their ground, nothing that a script would need.
 * Undefined when the plan does not hold enough for it.
 */
export function pictureDocument(name: PictureName, view: PageView, ground: Ground = "light"): string | undefined {
	const drawn = PICTURES[name](view);
	const markup = drawn ? shown(renderToString(drawn)) : "";
	const opening = OPENING.exec(markup);
	if (!opening) return undefined;
	const [tag, attributes = ""] = opening;
	const box = /viewBox="([-\d.]+) ([-\d.]+) ([\d.]+) ([\d.]+)"/.exec(attributes)?.slice(1) ?? boxOf(attributes);
	const [x = "0", y = "0", width = "0", height = "0"] = box;
	const inside = markup.slice(opening.index + tag.length, markup.lastIndexOf("</svg>"));
	const isNarrow = Number(width) < NARROW;
	const times = isNarrow ? ENLARGED : 1;
	const size = `width="${Number(width) * times}" height="${Number(height) * times}"`;
	const paper = `<rect x="${x}" y="${y}" width="${width}" height="${height}" fill="var(--paper)"/>`;
	const picture = `${paper}${inside}`.replace(NAMED, (colour) => literal(colour, ground));
	const others = attributes.replace(/ (?:width|height)="[^"]*"/g, "");
	const head = `<svg xmlns="http://www.w3.org/2000/svg" ${size}${others}>`;
	return `<?xml version="1.0" encoding="UTF-8"?>\n${head}<style>${pictureStyle(ground, isNarrow ? SMALL_TEXT : undefined)}</style>${picture}</svg>\n`;
}
