/** Layouts to begin from, in general terms; every figure is there to be replaced by the data sheets'. */
import type { JobAmplifier, JobChannel } from '../document.ts';
import { DOOR_BAND, MONO, pair, severalChannels, subwoofer } from './parts.ts';

export interface Layout {
  title: string;
  sentence: string;
  amplifiers: JobAmplifier[];
  channels: JobChannel[];
}

const DOORS = { amplifierId: 'doors', band: DOOR_BAND, watts: 50 };
const FRONT = pair('front', 'door', DOORS);
const REAR = pair('rear', 'door', DOORS);

/** Bridged into 4 ohm each of the two channels sees 2 ohm: twice one channel's power there, 75 W being a common size. */
const BRIDGED = { ratings: [{ loadOhms: 4, watts: 150 }], minimumLoadOhms: 4 };

/** Where three drivers a side divide the band: common practice, to be replaced by the drivers' own limits. */
const THREE_WAY = {
  tweeter: { highPassHz: 3500, lowPassHz: null },
  midrange: { highPassHz: 350, lowPassHz: 3500 },
  woofer: { highPassHz: 60, lowPassHz: 350 },
};

export const LAYOUTS = {
  'front-pair': {
    title: 'Front pair',
    sentence: 'A two-channel amplifier on the front doors.',
    amplifiers: [severalChannels('doors', 2)],
    channels: FRONT,
  },
  'four-doors': {
    title: 'Doors, front and rear',
    sentence: 'A four-channel amplifier on front and rear doors.',
    amplifiers: [severalChannels('doors', 4)],
    channels: [...FRONT, ...REAR],
  },
  'front-pair-and-subwoofer': {
    title: 'Two doors and a subwoofer',
    sentence: 'A two-channel amplifier on the front doors, a mono amplifier on one subwoofer.',
    amplifiers: [severalChannels('doors', 2), MONO],
    channels: [...FRONT, subwoofer({ amplifierId: 'mono', watts: 250 })],
  },
  'four-doors-and-subwoofer': {
    title: 'Four doors and a subwoofer',
    sentence: 'A four-channel amplifier on the doors, a mono amplifier on one subwoofer.',
    amplifiers: [severalChannels('doors', 4), MONO],
    channels: [...FRONT, ...REAR, subwoofer({ amplifierId: 'mono', watts: 250 })],
  },
  'six-channels-bridged-subwoofer': {
    title: 'Six channels, subwoofer bridged',
    sentence: 'One six-channel amplifier: four doors, and two channels bridged on one subwoofer.',
    amplifiers: [severalChannels('doors', 6, BRIDGED)],
    channels: [...FRONT, ...REAR, subwoofer({ amplifierId: 'doors', watts: 250, bridged: true })],
  },
  'three-way-front': {
    title: 'Three-way front',
    sentence: 'A six-channel amplifier: tweeter, midrange and woofer of each side on a channel of their own.',
    amplifiers: [severalChannels('front', 6)],
    channels: [
      ...pair('tweeter', '', { amplifierId: 'front', band: THREE_WAY.tweeter, watts: 30 }),
      ...pair('midrange', '', { amplifierId: 'front', band: THREE_WAY.midrange, watts: 40 }),
      ...pair('woofer', '', { amplifierId: 'front', band: THREE_WAY.woofer, watts: 60 }),
    ],
  },
  'subwoofer-only': {
    title: 'Subwoofer only',
    sentence: 'The doors stay with the radio; a mono amplifier on one subwoofer.',
    amplifiers: [MONO],
    channels: [subwoofer({ amplifierId: 'mono', watts: 250 })],
  },
} as const satisfies Record<string, Layout>;
