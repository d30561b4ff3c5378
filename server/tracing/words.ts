/** What the panel says while one traces on a photo. */
import { sentences } from "../../shared/text/sentence.ts";

/** Answers. */
export const words = sentences("tracing", {
	badTime: "`{text}` is not a date and a clock time of the site, such as `2027-06-05 18:12:30`.",
	badFocalLength: "`{text}` is not a focal length between 1 mm and 5000 mm, such as `24 mm`.",
	badSensor: "`{text}` is not a sensor size, such as `36 x 24 mm` or `full-frame`.",
	noSensor: "A focal length needs the size of the sensor too. Fill it in, or leave both to the marks.",
	marksNeeded: "Mark two things of known direction, far apart in the photo; three where the focal length is not known.",
	few: "{found} marked with a known direction: two are needed, one of them with its bearing and altitude.",
	fewFree: `{found} marked with a known direction: without a focal length three are needed, one of them with its bearing
		and altitude.`,
	together: "The marks are too near to each other, or all in one direction. Mark something far from them.",
	outside: "Mark {number} is outside the photo.",
	undetermined: "These marks do not fix where the camera pointed. Mark one more thing, far from the others.",
	noSky: "The lens shows nothing at point {number}.",
	low: "A part of it is {altitude}° below the horizon; a plan accepts points down to 30° below it.",
	camera: "The camera looked at bearing {bearing}, {altitude}; {field} across.",
	lens: "Focal length from the marks: {length} mm on this sensor.",
	oneWrong: "Mark {number}, {name}, disagrees with the others by {off}: check what it is, and where it was put.",
	allWrong: "The marks disagree by up to {off}, and nothing shows which one is wrong: add another.",
	ambiguous: "Two camera attitudes fit these marks; the more level one is used. Mark one more thing.",
	cropped: `A photo that was cropped, or taken with a lens that bends lines, cannot fit: the middle of the photo must
		be the middle of the lens.`,
	mark: "{direction}; the photo is {off} off",
	markBare: "{direction}",
	bearing: "bearing {bearing}",
	both: "bearing {bearing}, {altitude}",
	points: "{count} points",
	within: "{count} points, bearing {from} to {until}, highest {highest}, ± {spread}",
	replaces: "{line}; it replaces the plan's",
	nameless: "{line}; it needs a name",
	corners: "{line}; it needs three or more",
	at: "bearing {bearing}, {altitude} ± {spread}",
	pole: "pole",
	guide: "{name}, {clock}",
	hour: "{clock} h",
});

/** Why a photo is not opened. */
export const photoWords = sentences("tracing.photo", {
	kind: "{name} is not a JPEG or PNG file.",
	size: "{name}: its size is not where it should be. Save the photo again as JPEG or PNG.",
	large: "{name} has {width} × {height} pixels; at most {most} megapixels are opened. Save it smaller.",
});

/** Why nothing is written. */
export const writeWords = sentences("tracing.write", {
	noSite: "The plan has no site cell to write into.",
	notSolved: "Nothing was written: where the camera looked is not known yet. {why}",
	nothing: "Nothing was written: nothing is traced. Choose what to trace, and click along it.",
	wrong: "Nothing was written: {name}: {why}",
	corners: "Nothing was written: `{name}` has {count} points; an outline takes 3 to 500.",
	loose: "Nothing was written: the window `{name}` belongs to no obstruction that is traced here.",
	nameless: "Nothing was written: an opening or an obstruction needs a name.",
	crosses: "Nothing was written: the outline of `{name}` crosses itself between its corners {first} and {second}.",
	many: "Nothing was written: the skyline has {count} points; a plan takes 2000.",
	taken: `Nothing was written: the site's {key} come from another file. Trace into that file, or write the {key} into this
		site first.`,
	notEditable: "Nothing was written: the site cannot be edited as it is written. Add the keys by hand.",
	taken95: ", taken {time}",
	skyline: "Skyline, bearing {from} to {until}",
});

/** The panel's own labels. */
export const labels = sentences("tracing.panel", {
	title: "Trace on a photo",
	forSite: "For the site {name}. The photo stays in this panel: it is not saved or sent anywhere.",
	forNoSite: "The plan has no site with coordinates that can be read. Give it a site first.",
	choose: "Choose a Photo",
	first:
		"Choose a JPEG or PNG that was taken from the spot, whole and not cropped. Then mark what you know, and trace what you see.",
	canvas: "The photo",
	keys: `Arrow keys move the cross-hairs, with Shift by one pixel; Space sets a point there; Enter ends a line; Backspace takes
		the last point away. 1 to 6 choose the tool; plus, minus and 0 zoom. A wheel or two fingers zoom and move.`,
	tools: "Tool",
	move: "Move",
	mark: "Mark",
	skyline: "Skyline",
	opening: "Opening",
	obstruction: "Obstruction",
	window: "Window in it",
	windowOf: "Window of {name}",
	undo: "Undo",
	redo: "Redo",
	zoomIn: "Zoom in",
	zoomOut: "Zoom out",
	fit: "Whole photo",
	endLine: "End the line",
	photo: "Photo",
	time: "Taken at (site's clock)",
	focalLength: "Focal length (empty: from the marks)",
	sensor: "Sensor",
	projection: "Lens",
	rectilinear: "Straight lines stay straight",
	equidistant: "Fisheye, equidistant",
	equisolid: "Fisheye, equal solid angle",
	equirectangular: "Whole panorama, equirectangular",
	marks: "Marks",
	markHelp: `What each is: a landmark of the plan, Sun, Moon, a planet or a star, the celestial pole, the level horizon, or a
		direction such as 134°M, 2.5°. Never look at the Sun through a camera's finder.`,
	what: "What mark {number} is",
	lines: "Traced",
	lineHelp: "Click along an edge, or draw along it. A skyline ends where you end it; other lines close by themselves.",
	name: "Name of line {number}",
	remove: "Remove",
	write: "Write into the Plan",
	sky: "Show tonight's sky",
	newOpening: "opening",
	newObstruction: "arch",
});
