import { outOfRange } from './out-of-range.ts';
import type { RigConfig } from './rig.ts';
import { ratedSupplyVolts } from './supply.ts';

/** @throws RangeError naming the figure that cannot be simulated */
export function checkRigConfig(config: RigConfig): void {
  const { radio, converter, input } = config;
  if (!Number.isInteger(config.sampleRateHz) || config.sampleRateHz < 8000 || config.sampleRateHz > 192_000) {
    throw outOfRange('A sample rate', config.sampleRateHz, 'a whole number of hertz from 8000 to 192000');
  }
  if (config.channels.length === 0) throw new RangeError('A practice rig needs at least one channel.');
  const softness = radio.softness ?? 0;
  if (!(softness >= 0 && softness < 1)) throw outOfRange('A softness', softness, 'from 0 to below 1');
  const positive: [string, number][] = [
    ['A number of volume steps', radio.volumeSteps],
    ['A radio voltage', radio.fullScaleVolts],
    ['A radio ceiling', radio.ceilingPeakVolts],
    ['A converter ceiling', converter.ceilingPeakVolts],
    ['A voltage per full scale', input.voltsPerFs],
    ['A rated supply', ratedSupplyVolts(config)],
    ...config.channels.flatMap((channel): [string, number][] => [
      [`A ceiling of channel "${channel.id}"`, channel.ceilingPeakVolts],
      [`A load of channel "${channel.id}"`, channel.loadOhms],
      [`An efficiency of channel "${channel.id}"`, channel.efficiency],
    ]),
  ];
  for (const [what, value] of positive) {
    if (!(value > 0 && Number.isFinite(value))) throw outOfRange(what, value, 'above 0');
  }
}
