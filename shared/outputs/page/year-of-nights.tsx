/**
 * The nights of a year by their usable minutes: a row a month, a column a day of it. A square's area says the minutes, not
 * its colour, so that it reads alike in every theme, in red alone and without colours.
 */
import { renderToString } from "preact-render-to-string";
import { type CalendarDate, dayNumber, weekdayOf } from "../../earth/calendar.ts";
import { bestOfWeeks, type NightChoice, USABLE_MINUTES } from "../../evaluate/nights.ts";
import { dateText } from "../../notation/date.ts";
import { minutesText } from "../../notation/duration.ts";
import { told } from "../../text/sentence.ts";
import { shown } from "../../text/shown.ts";
import { nightText } from "../nights.ts";
import { Picture } from "./picture.tsx";
import { words } from "./words.ts";

/** Units of the picture: a night's place, what is left of it for the square, and where the first one is. */
const PLACE = 22;
const MOST = 17;
const LEFT = 92;
const TOP = 24;
const DAYS = 31;
/** Days that have a number above them. */
const NUMBERED = [1, 5, 10, 15, 20, 25, 30];

/** What a square means for who looks at the picture in one line; and each night by itself where it can be chosen. */
export const yearOfNights = (nights: readonly NightChoice[], present: CalendarDate | undefined): string =>
	shown(renderToString(<YearOfNights nights={nights} present={present} />));

interface Year {
	/** By date. */
	readonly nights: readonly NightChoice[];
	/** The date that the plan has. */
	readonly present: CalendarDate | undefined;
}

const monthOf = ({ year, month }: CalendarDate): number => year * 12 + month;

function YearOfNights({ nights, present }: Year) {
	const { best, others } = bestOfWeeks(nights);
	const [first, last] = [nights[0], nights.at(-1)];
	if (!first || !last) return null;
	const most = Math.max(0, ...[...best, ...others].map(({ minutes }) => minutes));
	const ringed = new Set(best);
	const months = monthOf(last.date) - monthOf(first.date) + 1;
	const isPresent = ({ date }: NightChoice): boolean => present !== undefined && dayNumber(date) === dayNumber(present);
	const xOf = ({ date }: NightChoice): number => LEFT + (date.day - 1) * PLACE;
	const yOf = ({ date }: NightChoice): number => TOP + (monthOf(date) - monthOf(first.date)) * PLACE;
	return (
		<figure class="year">
			<div class="scroll">
				<Picture
					viewBox={`0 0 ${LEFT + DAYS * PLACE + 1} ${TOP + months * PLACE + 1}`}
					title={told(words.yearTitle())}
					says={told(
						words.year({
							from: dateText(first.date),
							until: dateText(last.date),
							count: best.length + others.length,
							all: nights.length,
							best: best.map((one) => `${dateText(one.date)}, ${minutesText(one.minutes)}`).join("; "),
						}),
					)}
				>
					{NUMBERED.map((day) => (
						<text key={day} x={LEFT + (day - 0.5) * PLACE} y={TOP - 8} text-anchor="middle" class="quiet">
							{day}
						</text>
					))}
					{Array.from({ length: months }, (_, row) => {
						const month = monthOf(first.date) + row - 1;
						return (
							<text key={month} x={0} y={TOP + row * PLACE + 16}>
								{`${Math.floor(month / 12)}-${String((month % 12) + 1).padStart(2, "0")}`}
							</text>
						);
					})}
					{nights.map((night) => (
						<Night
							key={dateText(night.date)}
							night={night}
							x={xOf(night)}
							y={yOf(night)}
							side={most > 0 ? MOST * Math.sqrt(night.minutes / most) : 0}
							isBest={ringed.has(night)}
							isPresent={isPresent(night)}
						/>
					))}
					{nights.filter(isPresent).map((night) => (
						<rect
							key="present"
							x={xOf(night) - 1}
							y={yOf(night) - 1}
							width={PLACE + 2}
							height={PLACE + 2}
							fill="none"
							stroke="var(--ink)"
							stroke-width={3}
						/>
					))}
				</Picture>
			</div>
			<figcaption>{told(words.yearCaption({ most: minutesText(most) }))}</figcaption>
		</figure>
	);
}

interface Place {
	readonly night: NightChoice;
	readonly x: number;
	readonly y: number;
	readonly side: number;
	readonly isBest: boolean;
	readonly isPresent: boolean;
}

/** A night that has a usable minute can be chosen. */
function Night({ night, x, y, side, isBest, isPresent }: Place) {
	const { label, description, detail } = nightText(night);
	const weekday = weekdayOf(night.date);
	const middle = (PLACE - side) / 2;
	return (
		<g
			data-night={night.minutes < USABLE_MINUTES ? undefined : dateText(night.date)}
			data-present={isPresent ? "" : undefined}
			transform={`translate(${x} ${y})`}
		>
			<title>{[`${label}: ${description}`, detail].filter(Boolean).join("; ")}</title>
			<rect width={PLACE} height={PLACE} fill="var(--panel)" stroke="var(--line)" stroke-width={0.6} />
			{side > 0 && (
				<rect x={round(middle)} y={round(middle)} width={round(side)} height={round(side)} fill="var(--blue)" />
			)}
			{isBest && (
				<rect
					x={1}
					y={1}
					width={PLACE - 2}
					height={PLACE - 2}
					rx={5}
					fill="none"
					stroke="var(--ochre)"
					stroke-width={1.6}
				/>
			)}
			{(weekday === "fri" || weekday === "sat") && (
				<line x1={5} x2={PLACE - 5} y1={PLACE - 0.8} y2={PLACE - 0.8} stroke="var(--soft)" stroke-width={1.6} />
			)}
		</g>
	);
}

const round = (value: number): number => Math.round(value * 100) / 100;
