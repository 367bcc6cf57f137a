/**
 * What is said before anything is connected, wherever a divider is built or
 * used. Plain sentences, shown as they stand.
 */
const DIVIDER_CAUTIONS = {
  neverDirect:
    'Never feed speaker level into a line or microphone input without a divider: it destroys the input.',
  bridgedOutputs:
    'The output terminals of many amplifiers are bridged, so neither side is ground: a grounded input tied to one of them can destroy amplifier and computer. Use a divider that floats with a battery-powered device, or an isolating transformer.',
  voltageInjures: "An amplifier's output voltage can injure: switch off before touching the terminals.",
  checkFirst:
    'Check the finished divider with a multimeter, output against input, before the device is plugged in.',
  insulate:
    'Put the divider close to the amplifier, insulate every joint, and fit the shunt so that it cannot come loose.',
} as const;

/** For the divider with equal resistors in both wires. */
const SYMMETRICAL_CAUTION =
  'The resistors in both wires keep the current small if the input turns out to be grounded, but a grounded input then reads wrong: only a floating or truly balanced input reads the voltage between the two terminals.';

/** For a phone's headset socket. */
export const HEADSET_CAUTIONS = {
  battery: "Run the phone from its battery: its charging lead may tie it to the vehicle's ground.",
  contacts:
    'Common practice: tip left, first ring right, second ring ground, sleeve microphone; some older phones have ground and microphone the other way round. Measure the bias voltage first.',
  otherWay:
    'A phone that does not offer the socket as a microphone has not recognised a headset: see the recognition resistor.',
} as const;

/** Cautions for any divider, the ones that prevent damage first. */
export function dividerCautions(legs: 1 | 2): string[] {
  const { neverDirect, bridgedOutputs, voltageInjures, insulate, checkFirst } = DIVIDER_CAUTIONS;
  const symmetrical = legs === 2 ? [SYMMETRICAL_CAUTION] : [];
  return [neverDirect, bridgedOutputs, ...symmetrical, voltageInjures, insulate, checkFirst];
}
