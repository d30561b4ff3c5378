/** The site that examples of rules about the tide have. */
export const seaCave = (place = "sea-cave"): string => `name: Cave of the terns
latitude: 32.4123 S
longitude: 54.3622 W
timezone: America/Montevideo
place: [${place}]`;
