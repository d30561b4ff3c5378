/** What a head that is not level does to a bearing. */
import { RAD } from "../sky/vector.ts";

/**
 * What a head tilted sideways by one degree does to a bearing taken from a mark at altitude `altitude` and `turn`
 * degrees clockwise of the pole, with the tilt by scale: across the meridian, degrees on the sky.
 *
 * The tilted pan turns about an axis that leans sideways by b. A point at altitude h, Δ from the line it leans about,
 * is then found b tan h cos Δ away in bearing. For the axis (h = φ, Δ = 0) less the mark, times cos φ:
 * b (sin φ − cos φ tan h cos Δ).
 */
export function levelEffect(latitude: number, altitude: number, turnFromPole: number): number {
	const phi = Math.abs(latitude) * RAD;
	return Math.sin(phi) - Math.cos(phi) * Math.tan(altitude * RAD) * Math.cos(turnFromPole * RAD);
}
