import { alternatorRippleHz, engineRpmOfRipple } from '../../dsp/noise/pulley-order.ts';
import type { Finding } from '../procedure.ts';
import { belowTargetDb } from './levels.ts';
import type { Hum, NoiseState, Ripple, SteadyTone, WayIn } from './noise.ts';
import { ENGINE_STATES } from './noise.ts';
import { movingComb } from './ripple.ts';
import { ENGINE_WORDS, hertz, levelWords, listed, minus } from './words.ts';

type Facts = Omit<NoiseState, 'instruction' | 'findings' | 'acceptance' | 'wanted'>;

/** A whine below what the job allows is told, and said to be faint. */
function faint(levelDbfs: number, { task }: Facts): string {
  const belowDb = belowTargetDb(levelDbfs, task);
  return belowDb !== null && belowDb >= task.noiseDb ? ' It is faint: inside what this job allows.' : '';
}

/** Everything that is wrong, the engine first. */
export function findingsOf(facts: Facts): Finding[] {
  return [
    ...(facts.ripple === null ? [] : [whine(facts.ripple, facts)]),
    ...(facts.hum === null ? [] : [mainsHum(facts.hum, facts)]),
    ...facts.steadyTones.map((tone) => steadyTone(tone, facts)),
    ...clicks(facts),
    ...highFloor(facts),
  ];
}

/** Figures side by side in one sentence. */
function sentenceOf(figures: readonly string[]): string {
  return `${figures.join('; ')}.`;
}

function whine(ripple: Ripple, facts: Facts): Finding {
  const comb = loudest(ripple);
  return {
    fault: 'engine-whine',
    sentence: `${whineWords(ripple)}.${faint(comb.levelDbfs, facts)}`,
    evidence: sentenceOf([
      `${levelWords(comb.levelDbfs, facts.task)}, ${comb.overFloorDb.toFixed(0)} dB over the floor beside it`,
      ...courseWords(ripple),
      ...rpmWords(ripple.idle?.fundamentalHz ?? null, facts.rpm.idle),
      ...leadWords(ripple),
    ]),
    remedy: WHINE_REMEDY[ripple.wayIn],
  };
}

function loudest({ idle, revved }: Ripple) {
  if (idle === null) return revved!;
  return revved === null || idle.levelDbfs >= revved.levelDbfs ? idle : revved;
}

function whineWords({ idle, revved, course }: Ripple): string {
  const comb = idle ?? revved!;
  const at = hertz(comb.fundamentalHz);
  if (idle !== null && revved !== null) {
    return `A whine of ${at} at idle becomes ${hertz(revved.fundamentalHz)} with the engine revved`;
  }
  if (course === 'unknown') return `A tone of ${at} comes with the running engine`;
  return `A whine of ${at} is heard only ${idle === null ? ENGINE_WORDS.revved : ENGINE_WORDS.idle}`;
}

function courseWords({ pitchRatio, rpmRatio, course }: Ripple): string[] {
  if (course === 'unknown') return ['whether it follows the engine, a recording at another speed tells'];
  if (pitchRatio === null) return ['it is gone, or out of hearing, at the other speed'];
  const times = `its pitch goes ${pitchRatio.toFixed(2)} times`;
  if (rpmRatio === null) return [`${times}: it moves with the engine`];
  const counter = `the engine's speed ${rpmRatio.toFixed(2)} times`;
  return [
    course === 'follows'
      ? `${times}, ${counter}: it follows the engine`
      : `${times}, ${counter}: it moves, but not in step`,
  ];
}

/** Usual drives (see `AlternatorDrive`): a hint, no proof. */
const SLOWEST_DRIVE = { pulleyRatio: 2, polePairs: 6 };
const FASTEST_DRIVE = { pulleyRatio: 3, polePairs: 8 };

/** Which engine speed a ripple would be, or whether it fits the one that was read. */
export function rpmWords(idleHz: number | null, idleRpm: number | null): string[] {
  if (idleHz === null) return [];
  if (idleRpm === null) {
    const from = engineRpmOfRipple(idleHz, FASTEST_DRIVE);
    const to = engineRpmOfRipple(idleHz, SLOWEST_DRIVE);
    return [`an alternator of usual build makes it at ${from.toFixed(0)} to ${to.toFixed(0)} rpm`];
  }
  const from = alternatorRippleHz(idleRpm, SLOWEST_DRIVE);
  const to = alternatorRippleHz(idleRpm, FASTEST_DRIVE);
  const fits =
    idleHz >= from && idleHz <= to ? 'which fits' : 'which does not fit: it may be another machine';
  return [
    `an alternator of usual build makes ${from.toFixed(0)} to ${to.toFixed(0)} Hz at ${idleRpm.toFixed(0)} rpm, ${fits}`,
  ];
}

function leadWords({ lossUnpluggedDb }: Pick<Ripple, 'lossUnpluggedDb'>): string[] {
  if (lossUnpluggedDb === null) return [];
  if (lossUnpluggedDb < 0.5) return ['with the input unplugged it is as loud'];
  return [`with the input unplugged it is ${minus(lossUnpluggedDb.toFixed(0))} dB lower`];
}

const WHINE_REMEDY: Record<WayIn, string> = {
  'amplifier-supply':
    'It remains with the input unplugged, so it comes in at the amplifier: look first at its ground point, then at its supply wire.',
  'signal-lead':
    'It goes with the signal lead, so it comes in ahead of the amplifier: look first for a second ground (radio or converter grounded elsewhere), then for a lead beside a supply wire.',
  both: 'Part of it goes with the signal lead: look first at the grounds of converter and amplifier, which should meet in one place.',
  'not-told':
    "Pull the signal lead out of the amplifier's input and record once more: what remains comes in at the amplifier's ground or supply, what goes came along the lead.",
};

function mainsHum(hum: Hum, facts: Facts): Finding {
  const strongest =
    hum.strongestOrder === 1
      ? 'itself the strongest'
      : `the strongest at ${hum.strongestOrder * hum.nominalHz} Hz`;
  return {
    fault: 'mains-hum',
    sentence: `Mains hum of ${hum.nominalHz} Hz is heard; it is not made by the vehicle.${faint(hum.levelDbfs, facts)}`,
    evidence: sentenceOf([
      `${hum.fundamentalHz.toFixed(2)} Hz and its multiples, ${strongest}`,
      levelWords(hum.levelDbfs, facts.task),
      `heard ${listed(hum.heardIn.map((engine) => ENGINE_WORDS[engine]))}`,
      ...leadWords(hum),
    ]),
    remedy: HUM_REMEDY,
  };
}

export const HUM_REMEDY =
  'Run the laptop on its battery, unplug every charger from vehicle and computer, and record again: hum that goes was a ground loop through them.';

function steadyTone({ comb, heard }: SteadyTone, facts: Facts): Finding {
  const at = hertz(comb.fundamentalHz);
  return {
    fault: 'steady-tone',
    sentence:
      heard === 'always'
        ? `A tone of ${at} stands in the noise with the engine off.`
        : `A tone of ${at} comes with the running engine and does not follow its speed.`,
    evidence: `${levelWords(comb.levelDbfs, facts.task)}, ${comb.overFloorDb.toFixed(0)} dB over the floor beside it.`,
    remedy:
      heard === 'always'
        ? 'See that the source is paused; then switch off, one after the other, what is supplied beside the amplifier: chargers, converters, fans.'
        : 'Look for what the ignition switches on: fuel pump, fan, a supply that switches.',
  };
}

function clicks({ takes }: Facts): Finding[] {
  const heard = ENGINE_STATES.flatMap((engine) => {
    const reading = takes[engine];
    const count = reading?.interruptions.clicks.length ?? 0;
    return reading === null || count === 0
      ? []
      : [`${count} in ${reading.seconds.toFixed(0)} s ${ENGINE_WORDS[engine]}`];
  });
  if (heard.length === 0) return [];
  return [
    {
      fault: 'clicks',
      sentence: 'Clicks stand out of the noise.',
      evidence: `Counted ${listed(heard)}.`,
      remedy:
        'If they come with the engine only, look for ignition leads near the signal lead; else move each plug in turn and look for one that makes them.',
    },
  ];
}

/** Too much noise that no comb explains. */
function highFloor({ worst, takes, task }: Facts): Finding[] {
  const loudest = worst === null ? null : takes[worst.engine];
  // A whine that moves counts as floor wherever it passes.
  if (loudest === null || movingComb(loudest) !== null) return [];
  const { floorDbfs } = loudest.floor;
  const belowDb = belowTargetDb(floorDbfs, task);
  if (belowDb === null || belowDb >= task.noiseDb) return [];
  return [
    {
      fault: 'high-floor',
      sentence: 'The noise floor itself is higher than this job allows.',
      evidence: `${minus(belowDb.toFixed(1))} dB below the target with hum and whine left out; at least ${task.noiseDb} dB are asked for.`,
      remedy:
        "Turn the source and the converter up and this amplifier's gain down by as much; what the measuring input itself hisses counts in, so read it with its leads joined as well.",
    },
  ];
}
