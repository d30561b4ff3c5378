/** Sensor formats by name. */
/** Sensor formats by name, width and height in millimetres. Nominal sizes, common practice; makers differ by 0.5 mm. */
export const SENSOR_FORMATS: Readonly<Record<string, readonly [number, number]>> = {
	"full-frame": [36, 24],
	"aps-c": [23.5, 15.6],
	"micro-four-thirds": [17.3, 13],
	"medium-format-44x33": [43.8, 32.9],
	"one-inch": [13.2, 8.8],
};
