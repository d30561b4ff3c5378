/** The keys of a `night` cell: its date, the clock times of arriving and leaving, how dark it must be. */
import { clock, type Decoded, date, mapping, optional, quantity, required } from "../../notation/shape.ts";

/** The night. */
export const night = mapping("The night", {
	date: required(date(), {
		doc: "The evening's date, `YYYY-MM-DD`. Times before noon belong to the next morning.",
		example: "2027-06-05",
	}),
	arrive: optional(clock(), { doc: "Clock time of arriving at the spot.", example: '"17:00"', otherwise: "noon" }),
	leave: optional(clock(), {
		doc: "Clock time of leaving the spot.",
		example: '"02:00"',
		otherwise: "noon of the next day",
	}),
	"sun-below": optional(quantity("angle", { min: 0, max: 30 }), {
		doc: "How far the Sun must be below the horizon for the sky to count as dark.",
		example: "18°",
		otherwise: "18° (astronomical twilight)",
	}),
	"moon-allowed": optional(quantity("share", { min: 0, max: 100 }), {
		doc: "Moon illumination up to which moonlight does not spoil the plan.",
		example: "15 %",
		otherwise: "0 %: the Moon must be down",
	}),
});

export type NightContent = Decoded<typeof night>;
