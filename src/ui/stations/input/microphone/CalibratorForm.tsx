import { CALIBRATOR_CLASSES, type SoundCalibrator } from '../../../../plan/calibration/sound-scale.ts';
import { ChoiceField } from '../../../fields/ChoiceField.tsx';
import { NumberField } from '../../../fields/NumberField.tsx';

const LEVELS = [
  { value: '94', words: '94 dB' },
  { value: '114', words: '114 dB' },
] as const;

const FREQUENCIES = [
  { value: '1000', words: '1 kHz' },
  { value: '250', words: '250 Hz' },
] as const;

type KnownBy = (typeof CALIBRATOR_CLASSES)[number]['id'] | 'certificate';

const KNOWN_BY: readonly { value: KnownBy; words: string }[] = [
  ...CALIBRATOR_CLASSES.map(({ id, name, withinDb }) => ({ value: id, words: `${name}: ±${withinDb} dB` })),
  { value: 'certificate', words: 'as its certificate says' },
];

/** What the calibrator gives: as printed on it, and how surely. */
export function CalibratorForm({
  calibrator,
  onChange,
}: {
  calibrator: SoundCalibrator;
  onChange: (next: SoundCalibrator) => void;
}) {
  const { levelDb, frequencyHz, withinDb } = calibrator;
  const ofClass = CALIBRATOR_CLASSES.find((one) => one.withinDb === withinDb && isRound(levelDb));
  const knownBy: KnownBy = ofClass?.id ?? 'certificate';
  const choose = (next: KnownBy) => {
    const found = CALIBRATOR_CLASSES.find((one) => one.id === next);
    const level = found === undefined ? levelDb : nearestRound(levelDb);
    onChange({ ...calibrator, levelDb: level, withinDb: found?.withinDb ?? CERTIFICATE_WITHIN_DB });
  };
  return (
    <>
      <div className="fields">
        {knownBy === 'certificate' ? (
          <>
            <NumberField
              label="Level on its certificate, dB"
              value={levelDb}
              least={80}
              most={130}
              onChange={(level) => onChange({ ...calibrator, levelDb: level })}
            />
            <NumberField
              label="known to ± dB"
              value={withinDb}
              above={0}
              most={3}
              onChange={(within) => onChange({ ...calibrator, withinDb: within })}
            />
          </>
        ) : (
          <ChoiceField
            label="Its level"
            value={levelDb === 114 ? '114' : '94'}
            choices={LEVELS}
            onChange={(level) => onChange({ ...calibrator, levelDb: Number(level) })}
          />
        )}
        <ChoiceField
          label="Its frequency"
          value={frequencyHz === 250 ? '250' : '1000'}
          choices={FREQUENCIES}
          onChange={(hertz) => onChange({ ...calibrator, frequencyHz: Number(hertz) })}
        />
        <ChoiceField label="Its level is known by" value={knownBy} choices={KNOWN_BY} onChange={choose} />
      </div>
      <p className="small soft">
        The limits of the classes are from memory of IEC 60942:2003; the certificate knows better.
      </p>
    </>
  );
}

/** What a laboratory leaves open, to begin with (common practice); the certificate's own figure goes in its place. */
const CERTIFICATE_WITHIN_DB = 0.2;

function isRound(levelDb: number): boolean {
  return levelDb === 94 || levelDb === 114;
}

function nearestRound(levelDb: number): number {
  return levelDb > 104 ? 114 : 94;
}
