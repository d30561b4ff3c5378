/**
 * Annual parallaxes of the nearest stars of the table, by Hipparcos number, milliarcseconds. Those left out move
 * by 0.17″ at most.
 *
 * Hipparcos (ESA 1997; van Leeuwen 2007) as given by SIMBAD, in sefstars.txt of Debian's swe-basic-data
 * 4.0-20221111 (CC0). It does not list 70 (p) Ophiuchi: van Leeuwen 2007, from memory. The two of alpha Centauri have
 * one parallax.
 */
export const PARALLAXES: ReadonlyMap<number, number> = new Map([
	[71683, 742], // alpha1 Centauri
	[71681, 742], // alpha2 Centauri
	[32349, 379.21], // Sirius
	[16537, 310.94], // epsilon Eridani
	[104214, 286.82], // 61 Cygni
	[37279, 284.56], // Procyon
	[108870, 276.06], // epsilon Indi
	[8102, 273.96], // tau Ceti
	[19849, 200.62], // omicron2 Eridani
	[88601, 196.72], // p Ophiuchi
	[97649, 194.95], // Altair
	[96100, 173.77], // sigma Draconis
	[3821, 167.98], // eta Cassiopeiae
]);
