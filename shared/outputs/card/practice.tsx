/** The evening at home: any minute of it, run by the card's own clock. Shown where there is a script to run it. */
import { told } from "../../text/sentence.ts";
import type { EveningRow } from "../evening.ts";
import { endOf } from "./first.tsx";
import { words } from "./words.ts";

const MARGIN_MS = 30 * 60_000;

export function Practice({ rows }: { readonly rows: readonly EveningRow[] }) {
	const from = Math.min(...rows.map(({ at }) => at)) - MARGIN_MS;
	return (
		<>
			<div id="practising" class="screen" hidden>
				<strong>{told(words.practising())}</strong>{" "}
				<button type="button" id="practice-stop">
					{told(words.stop())}
				</button>
			</div>
			<details id="practice" class="screen" hidden>
				<summary>{told(words.practice())}</summary>
				<p>{told(words.practiceText())}</p>
				<div class="slider">
					<label for="practice-time">{told(words.practiceTime())}</label>
					<input id="practice-time" type="range" min={from} max={endOf(rows) + MARGIN_MS} step={60_000} value={from} />
					<output id="practice-clock" for="practice-time" />
				</div>
				<p>
					<button type="button" data-practice={-60_000}>
						{told(words.earlier())}
					</button>{" "}
					<button type="button" data-practice={60_000}>
						{told(words.later())}
					</button>
				</p>
			</details>
		</>
	);
}
