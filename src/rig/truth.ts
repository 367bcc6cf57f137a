import { ratioToDb } from '../plan/units/ratio.ts';
import { type ChannelDrive, channelDrive, radioSinePeakVolts } from './channel-drive.ts';
import { checkRigConfig } from './check-config.ts';
import { limitedFundamental } from './limited-sine.ts';
import type { RigConfig, RigControls, RigSineTone } from './rig.ts';
import { rigSettings } from './settings.ts';

type RigStage = 'radio' | 'converter' | 'amplifier' | 'input';

interface StageTruth {
  stage: RigStage;
  /** Peak volts that reach this stage's ceiling, referred to its output, and the ceiling itself. */
  drivenPeakVolts: number;
  ceilingPeakVolts: number;
  /** How far the stage is driven past its ceiling, dB; negative is headroom, `null` without a tone. */
  overdriveDb: number | null;
  /** Whether this stage flattens the wave it is given. A soft one begins to bend `softness` below its ceiling. */
  clips: boolean;
}

/** What the rig does, noise apart, in closed form: the truth that readings are held against. */
export interface RigTruth {
  /** Whether the tone reaches the probed point at all. */
  fed: boolean;
  frequencyHz: number | null;
  /** -1 where the wires are the wrong way round. */
  polarity: 1 | -1;
  /** Stages up to the probed point, and the input. */
  stages: StageTruth[];
  /** Stages that flatten what they are given; the first one in the chain is to blame. */
  firstToClip: RigStage | null;
  clipped: boolean;
  /** Fundamental at the probed point, volts RMS. */
  outputVolts: number;
  /** The same were there no ceiling anywhere. */
  unlimitedVolts: number;
  /**
   * Overdrive of the whole chain up to the probed point, as one limiter: the
   * unlimited sine against the lowest ceiling in the chain, dB.
   */
  overdriveDb: number | null;
  /** Level of the fundamental that the input should read, were the input without a ceiling. */
  levelDbfs: number | null;
}

/** A stage's truth from its drive and ceiling. */
function stageTruth(
  stage: RigStage,
  drivenPeakVolts: number,
  ceilingPeakVolts: number,
  softness = 0,
): StageTruth {
  return {
    stage,
    drivenPeakVolts,
    ceilingPeakVolts,
    overdriveDb: drivenPeakVolts > 0 ? ratioToDb(drivenPeakVolts / ceilingPeakVolts) : null,
    clips: drivenPeakVolts > ceilingPeakVolts * (1 - softness),
  };
}

/** The chain up to the probed point: which stages it has, and what it does to the tone. */
interface ProbedChain extends ChannelDrive {
  hasConverter: boolean;
  /** `null` ahead of the amplifiers. */
  amplifierCeilingPeakVolts: number | null;
  polarity: 1 | -1;
}

function probedChain(config: RigConfig, controls: RigControls, tone: RigSineTone): ProbedChain {
  const { channels } = rigSettings(config, controls, tone);
  const index = config.channels.findIndex((candidate) => candidate.id === controls.probe);
  const channel = config.channels[index];
  if (channel !== undefined) {
    const { ceilingPeakVolts } = channels[index]!;
    const drive = channelDrive(config, controls, channel, tone);
    return {
      ...drive,
      hasConverter: true,
      amplifierCeilingPeakVolts: ceilingPeakVolts,
      polarity: channel.polarity,
    };
  }
  if (controls.probe === 'cabin') {
    throw new RangeError('In the cabin several channels add up: ask cabinTruth for each of them.');
  }
  const isLeft = controls.probe.endsWith('left');
  const isFed = tone.channels === 'both' || tone.channels === (isLeft ? 'left' : 'right');
  const hasConverter = controls.probe.startsWith('converter');
  return {
    radioPeakVolts: isFed ? radioSinePeakVolts(config, controls, tone) : 0,
    converterGain: hasConverter ? 10 ** (config.converter.gainDb / 20) : 1,
    amplifierGain: 1,
    hasConverter,
    amplifierCeilingPeakVolts: null,
    polarity: 1,
  };
}

function stagesOf(config: RigConfig, chain: ProbedChain): StageTruth[] {
  const { radio, converter, input } = config;
  const stages = [stageTruth('radio', chain.radioPeakVolts, radio.ceilingPeakVolts, radio.softness ?? 0)];
  let volts = Math.min(chain.radioPeakVolts, radio.ceilingPeakVolts);
  if (chain.hasConverter) {
    stages.push(stageTruth('converter', chain.converterGain * volts, converter.ceilingPeakVolts));
    volts = Math.min(chain.converterGain * volts, converter.ceilingPeakVolts);
  }
  if (chain.amplifierCeilingPeakVolts !== null) {
    stages.push(stageTruth('amplifier', chain.amplifierGain * volts, chain.amplifierCeilingPeakVolts));
    volts = Math.min(chain.amplifierGain * volts, chain.amplifierCeilingPeakVolts);
  }
  stages.push(stageTruth('input', volts, input.voltsPerFs * Math.SQRT2));
  return stages;
}

/**
 * Every stage is memoryless at one frequency and the tone is the same on both
 * sides, so the chain is the radio's limiter and one sharp clamp behind it, all
 * referred to the radio's output. Where a filter stands between two stages that
 * both clip, see `channelVolts`.
 *
 * @throws RangeError as `PracticeRig` does, and for the cabin, where no one chain is probed
 */
export function rigTruth(config: RigConfig, controls: RigControls, tone: RigSineTone): RigTruth {
  checkRigConfig(config);
  const chain = probedChain(config, controls, tone);
  const { radioPeakVolts, converterGain, amplifierGain } = chain;
  const stages = stagesOf(config, chain);
  const chainGain = converterGain * amplifierGain;
  const clamp =
    chainGain === 0
      ? Number.POSITIVE_INFINITY
      : Math.min(
          chain.hasConverter ? config.converter.ceilingPeakVolts / converterGain : Number.POSITIVE_INFINITY,
          (chain.amplifierCeilingPeakVolts ?? Number.POSITIVE_INFINITY) / chainGain,
        );
  const softness = config.radio.softness ?? 0;
  const ceiling = config.radio.ceilingPeakVolts;
  const fundamental = limitedFundamental({ peak: radioPeakVolts, ceiling, softness, clamp });
  const outputVolts = (chainGain * fundamental) / Math.SQRT2;
  const fed = radioPeakVolts > 0 && chainGain > 0;
  return {
    fed,
    frequencyHz: fed ? tone.frequencyHz : null,
    polarity: chain.polarity,
    stages,
    firstToClip: stages.find((stage) => stage.clips)?.stage ?? null,
    clipped: stages.some((stage) => stage.stage !== 'input' && stage.clips),
    outputVolts,
    unlimitedVolts: (chainGain * radioPeakVolts) / Math.SQRT2,
    overdriveDb: fed ? ratioToDb(radioPeakVolts / Math.min(ceiling, clamp)) : null,
    levelDbfs: fed ? ratioToDb(outputVolts / config.input.voltsPerFs) : null,
  };
}
