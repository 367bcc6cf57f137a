/** Speed at 0 degrees Celsius, m/s. */
const SPEED_AT_FREEZING = 331.3;
const FREEZING_KELVIN = 273.15;

/** A parked vehicle, from a polar night to a closed cabin in the sun. */
const COLDEST_CELSIUS = -50;
const HOTTEST_CELSIUS = 90;

/**
 * Speed of sound in air, m/s, as of an ideal gas: `331.3 sqrt(1 + T / 273.15)`. Within 0.04 m/s of ISO 9613-1
 * (343.2 m/s at 20 degrees) and of `sqrt(1.4 R T / M)` over -20 to 50 degrees. Humidity, at most +0.5 % in
 * a hot damp cabin, is left out. The linear rule of thumb would be 1.25 m/s high at 50 degrees.
 *
 * @throws RangeError outside -50 to 90 degrees
 */
export function speedOfSound(airCelsius: number): number {
  if (!(airCelsius >= COLDEST_CELSIUS && airCelsius <= HOTTEST_CELSIUS)) {
    throw new RangeError(
      `An air temperature of ${airCelsius} °C cannot be meant: it must lie from ${COLDEST_CELSIUS} to ${HOTTEST_CELSIUS} °C.`,
    );
  }
  return SPEED_AT_FREEZING * Math.sqrt(1 + airCelsius / FREEZING_KELVIN);
}
