/** The sentences of `drift`. */
import { sentences } from "../../text/sentence.ts";

export const words = sentences("method.drift", {
	name: "drift test",
	doc: "The axis is corrected from the drift of test frames in two places of the sky.",
	needs: "a rough alignment by another method, two stars far apart in hour angle, half an hour or more",
	about: `After a rough alignment, two tracked test frames show how stars drift; the drifts give the axis error and
		the correction of tilt and pan. It needs neither a view of the pole nor an instrument, but it takes time, and
		two stars six hours of hour angle apart to correct both at once.`,
	rough: "Align roughly by another method, then start the tracker.",
	frame: `Take a test frame of {frame} with its middle at {at} on {star} ({height}, bearing {bearing}), the camera level, and
		measure how far the star moves right and up, in pixels.`,
	frameBrief: "test frame on {star} at {at}",
	log: "Write both drifts to the log: it then says how far to raise or lower the tilt and to turn the pan, facing the pole.",
	correctBall: `A ball head has no scales: put a star that is near due south or due north, and not high, in the middle of
		the live view. Raise or lower the axis until the star has moved up or down by the correction of the tilt; turn it until
		the star has moved sideways by the correction of the pan times the cosine of the star's altitude. One way at a time;
		lock, and look once more. Then take the two test frames again.`,
	pair: "{first}, then {second}",
	by: " with {first} and {second}, from {at} on",
	correct: "Correct both, then take the two test frames again.",
});
