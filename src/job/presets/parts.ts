/** Parts to begin with. Their ratings are common sizes, not those of the parts at hand. */
import { settingToneHz } from '../../plan/tone/setting-tone.ts';
import type { JobAmplifier, JobChannel } from '../document.ts';

type Band = JobChannel['band'];

const SETTING = { overlapDb: 5, levelDbfs: -5, toleranceDb: 0.5 };

interface GivenChannel {
  id: string;
  name: string;
  fedBy: JobChannel['fedBy'];
  amplifierId: string;
  band: Band;
  watts: number;
  bridged?: boolean;
}

function channel({ id, name, fedBy, amplifierId, band, watts, bridged = false }: GivenChannel): JobChannel {
  return {
    id,
    name,
    amplifierId,
    bridged,
    drivers: {
      count: 1,
      coilsEach: 1,
      coilOhms: 4,
      coilWiring: 'single',
      driverWiring: 'single',
      continuousWattsEach: watts,
    },
    fedBy,
    summedInputs: fedBy === 'both' ? 2 : 1,
    band,
    slopes: { highPass: null, lowPass: null },
    tone: { frequencyHz: settingToneHz(band), levelDbfs: SETTING.levelDbfs },
    overlapDb: SETTING.overlapDb,
    toleranceDb: SETTING.toleranceDb,
    speakerRun: null,
  };
}

/** Left and right of one place: "front" gives `front-left`, "Front left door". */
export function pair(place: string, what: string, given: { amplifierId: string; band: Band; watts: number }) {
  return (['left', 'right'] as const).map((side) =>
    channel({
      ...given,
      id: `${place}-${side}`,
      name: `${place[0]?.toUpperCase()}${place.slice(1)} ${side}${what === '' ? '' : ` ${what}`}`,
      fedBy: side,
    }),
  );
}

export const DOOR_BAND: Band = { highPassHz: 80, lowPassHz: null };
const SUBWOOFER_BAND: Band = { highPassHz: 25, lowPassHz: 80 };

/** Fed from the sum of both sides. */
export function subwoofer(given: { amplifierId: string; watts: number; bridged?: boolean }): JobChannel {
  return channel({ ...given, id: 'subwoofer', name: 'Subwoofer', fedBy: 'both', band: SUBWOOFER_BAND });
}

const COUNT_WORDS: Record<number, string> = { 2: 'Two', 4: 'Four', 6: 'Six' };

/** 50 W a channel into 4 ohm. */
export function severalChannels(
  id: string,
  channelCount: 2 | 4 | 6,
  bridged: JobAmplifier['bridged'] = null,
): JobAmplifier {
  return {
    id,
    name: `${COUNT_WORDS[channelCount]}-channel amplifier`,
    channelCount,
    perChannel: { ratings: [{ loadOhms: 4, watts: 50 }], minimumLoadOhms: 2 },
    bridged,
    ratedSupplyVolts: 14.4,
    class: null,
    wiring: null,
  };
}

export const MONO: JobAmplifier = {
  id: 'mono',
  name: 'Mono amplifier',
  channelCount: 1,
  perChannel: { ratings: [{ loadOhms: 4, watts: 250 }], minimumLoadOhms: 2 },
  bridged: null,
  ratedSupplyVolts: 14.4,
  class: null,
  wiring: null,
};
