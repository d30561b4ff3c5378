/** The slider that turns the sky of the panorama by the clock; without a script it does nothing. */
import { told } from "../../text/sentence.ts";
import { siteClockText } from "../site-clock.ts";
import type { PanoramaView } from "./view.ts";
import { words } from "./words.ts";

export const ClockSlider = ({ view }: { readonly view: PanoramaView }) => (
	<div class="slider">
		<label for="time">{told(words.clock())}</label>
		<input id="time" type="range" min={view.from} max={view.until} step={60_000} value={view.at} />
		<output id="clock" for="time">
			{siteClockText(view.clock, view.at)}
		</output>
		<label class="switch">
			<input id="figures" type="checkbox" /> {told(words.figures())}
		</label>
	</div>
);
