/** What a zone that does not fit the coordinates suggests: swapped, a sign slipped, or simply another zone. */
import { isZone, offsetAt, zoneAt } from "../../earth/zone.ts";
import type { Evaluation } from "../../evaluate/evaluate.ts";
import type { Cell } from "../../plan/plan.ts";
import { cellsOf } from "../../plan/plan.ts";
import { type Phrase, sentences } from "../../text/sentence.ts";

const words = sentences("site/place-and-zone", { zone: "in {zone}", sea: "at sea, in UTC{offset}" });

/** Where coordinates lie by their zone. At sea its name counts the hours westward: `Etc/GMT+4` is four behind UTC. */
export function whereIn(zone: string): Phrase {
	if (!zone.startsWith("Etc/GMT")) return words.zone({ zone });
	return words.sea({ offset: zone.slice(7).replace(/./, (sign) => (sign === "+" ? "−" : "+")) });
}

export interface PlaceSlip {
	readonly cell: Cell;
	readonly zone: string;
	readonly zoneThere: string;
	readonly latitude: number;
	readonly longitude: number;
	readonly kind: "swapped" | "latitude-sign" | "longitude-sign" | "other-zone";
}

/** Undefined while coordinates and zone fit, or one of them is not known. */
export function placeSlip({ plan, site, night }: Evaluation): PlaceSlip | undefined {
	const cell = cellsOf(plan, "site")[0];
	if (!site || !cell) return undefined;
	const { latitude, longitude } = site.spot;
	const { zoneThere } = site;
	const zone = site.content.timezone;
	if (zone === undefined || !isZone(zone)) return undefined;
	if (zoneThere === zone) return undefined;
	const slip = { cell, zone, zoneThere, latitude, longitude };
	if (zoneAt(-latitude, longitude) === zone) return { ...slip, kind: "latitude-sign" };
	if (zoneAt(latitude, -longitude) === zone) return { ...slip, kind: "longitude-sign" };
	if (Math.abs(longitude) <= 90 && zoneAt(longitude, latitude) === zone) return { ...slip, kind: "swapped" };
	// Zones of one offset that night are as good as each other: borders of the table are a few kilometres off.
	const when = night ? night.sky.span.from : 0;
	return offsetAt(zoneThere, when) === offsetAt(zone, when) ? undefined : { ...slip, kind: "other-zone" };
}

/** `32.4123 S`. */
export function coordinateText(key: "latitude" | "longitude", value: number): string {
	const letter = key === "latitude" ? (value < 0 ? "S" : "N") : value < 0 ? "W" : "E";
	return `${Number(Math.abs(value).toFixed(6))} ${letter}`;
}
