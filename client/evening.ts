/** Evenings as the user's calendar has them: in the zone of the machine the editor runs on, not in UTC. */

/** The date of the evening in so many days, as plans write it. */
export function eveningIn(days: number, now = new Date()): string {
	const then = new Date(now.getFullYear(), now.getMonth(), now.getDate() + days);
	const two = (number: number): string => String(number).padStart(2, "0");
	return `${String(then.getFullYear()).padStart(4, "0")}-${two(then.getMonth() + 1)}-${two(then.getDate())}`;
}
