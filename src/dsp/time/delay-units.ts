import { speedOfSound } from './speed-of-sound.ts';

/** By definition (international yard and pound agreement of 1959). */
const CENTIMETRES_PER_INCH = 2.54;

/** Centimetres that sound travels per millisecond. */
function centimetresPerMillisecond(airCelsius: number): number {
  return speedOfSound(airCelsius) / 10;
}

/** Path of a delay; inverse of `centimetresToMilliseconds`. Either sign. */
export function millisecondsToCentimetres(milliseconds: number, airCelsius: number): number {
  return milliseconds * centimetresPerMillisecond(airCelsius);
}

/** Delay of a path; inverse of `millisecondsToCentimetres`. */
export function centimetresToMilliseconds(centimetres: number, airCelsius: number): number {
  return centimetres / centimetresPerMillisecond(airCelsius);
}

/** Path of a delay; inverse of `inchesToMilliseconds`. */
export function millisecondsToInches(milliseconds: number, airCelsius: number): number {
  return millisecondsToCentimetres(milliseconds, airCelsius) / CENTIMETRES_PER_INCH;
}

/** Delay of a path; inverse of `millisecondsToInches`. */
export function inchesToMilliseconds(inches: number, airCelsius: number): number {
  return centimetresToMilliseconds(inches * CENTIMETRES_PER_INCH, airCelsius);
}
