import { ratioToDb } from '../plan/units/ratio.ts';
import { limitedFundamental } from './limited-sine.ts';
import type { RigConfig, RigControls, RigTone } from './rig.ts';
import { checkRigConfig, rigSettings } from './settings.ts';

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
  /** Whether the tone reaches the probed channel at all. */
  fed: boolean;
  frequencyHz: number | null;
  stages: StageTruth[];
  /** Stages that flatten what they are given; the first one in the chain is to blame. */
  firstToClip: RigStage | null;
  clipped: boolean;
  /** Fundamental at the terminals, volts RMS. */
  outputVolts: number;
  /** The same were there no ceiling anywhere. */
  unlimitedVolts: number;
  /**
   * Overdrive of the whole chain up to the terminals, as one limiter: the
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

/**
 * Every stage is memoryless and the tone is the same on both sides, so the
 * chain is the radio's limiter and one sharp clamp behind it, all referred to
 * the radio's output.
 *
 * @throws RangeError as `PracticeRig` does
 */
export function rigTruth(config: RigConfig, controls: RigControls, tone: RigTone): RigTruth {
  checkRigConfig(config);
  const settings = rigSettings(config, controls, tone);
  const softness = config.radio.softness ?? 0;
  const radioCeiling = config.radio.ceilingPeakVolts;
  const converterGain = 10 ** (config.converter.gainDb / 20);
  const sides =
    settings.leftWeight * Math.sign(settings.leftPeak) + settings.rightWeight * Math.sign(settings.rightPeak);
  const radioPeak =
    sides === 0 ? 0 : Math.max(settings.leftPeak, settings.rightPeak) * settings.radioPeakVolts;
  const ampGain = sides * 10 ** (settings.amplifierGainDb / 20);

  const afterRadio = Math.min(radioPeak, radioCeiling);
  const intoConverter = converterGain * afterRadio;
  const intoAmplifier = ampGain * Math.min(intoConverter, config.converter.ceilingPeakVolts);
  const atTerminals = Math.min(intoAmplifier, settings.amplifierCeilingPeakVolts);
  const stages = [
    stageTruth('radio', radioPeak, radioCeiling, softness),
    stageTruth('converter', intoConverter, config.converter.ceilingPeakVolts),
    stageTruth('amplifier', intoAmplifier, settings.amplifierCeilingPeakVolts),
    stageTruth('input', atTerminals, config.input.voltsPerFs * Math.SQRT2),
  ];
  const chainGain = converterGain * ampGain;
  const clamp =
    chainGain === 0
      ? Number.POSITIVE_INFINITY
      : Math.min(
          config.converter.ceilingPeakVolts / converterGain,
          settings.amplifierCeilingPeakVolts / chainGain,
        );
  const fundamental = limitedFundamental({ peak: radioPeak, ceiling: radioCeiling, softness, clamp });
  const outputVolts = (chainGain * fundamental) / Math.SQRT2;
  const fed = radioPeak > 0 && chainGain > 0;
  return {
    fed,
    frequencyHz: fed ? tone.frequencyHz : null,
    stages,
    firstToClip: stages.find((stage) => stage.clips)?.stage ?? null,
    clipped: stages.some((stage) => stage.stage !== 'input' && stage.clips),
    outputVolts,
    unlimitedVolts: (chainGain * radioPeak) / Math.SQRT2,
    overdriveDb: fed ? ratioToDb(radioPeak / Math.min(radioCeiling, clamp)) : null,
    levelDbfs: fed ? ratioToDb(outputVolts / config.input.voltsPerFs) : null,
  };
}
