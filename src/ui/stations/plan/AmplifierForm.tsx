import type { JobAmplifier } from '../../../job/document.ts';
import type { ChannelRating, PowerRating } from '../../../plan/chain.ts';
import { ChoiceField, TickField } from '../../fields/ChoiceField.tsx';
import { NumberField } from '../../fields/NumberField.tsx';
import { TextField } from '../../fields/TextField.tsx';

/** A row for the load that is halfway to the next: what data sheets list after it. */
function nextRating(ratings: readonly PowerRating[]): PowerRating {
  const lowest = ratings.reduce((least, row) => (row.loadOhms < least.loadOhms ? row : least));
  return { watts: lowest.watts, loadOhms: lowest.loadOhms / 2 };
}

/** Ratings as the data sheet lists them: so many watts into so many ohms. */
function RatingForm({
  legend,
  rating,
  onChange,
}: {
  legend: string;
  rating: ChannelRating;
  onChange: (rating: ChannelRating) => void;
}) {
  const setRow = (index: number, part: Partial<PowerRating>) =>
    onChange({
      ...rating,
      ratings: rating.ratings.map((row, at) => (at === index ? { ...row, ...part } : row)),
    });
  return (
    <fieldset className="rating">
      <legend className="small">{legend}</legend>
      {rating.ratings.map((row, index) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: rows have no identity but their place.
        <div className="rating-row" key={index}>
          <NumberField
            label="Power, W"
            value={row.watts}
            above={0}
            onChange={(watts) => setRow(index, { watts })}
          />
          <NumberField
            label="into, Ω"
            value={row.loadOhms}
            above={0}
            refuse={(loadOhms) =>
              rating.ratings.some((other, at) => at !== index && other.loadOhms === loadOhms)
                ? `${loadOhms} Ω is rated above or below already.`
                : null
            }
            onChange={(loadOhms) => setRow(index, { loadOhms })}
          />
          {rating.ratings.length > 1 && (
            <button
              type="button"
              className="act plain"
              onClick={() => onChange({ ...rating, ratings: rating.ratings.filter((_, at) => at !== index) })}
            >
              Remove
            </button>
          )}
        </div>
      ))}
      <div className="rating-row">
        <NumberField
          label="Smallest load allowed, Ω"
          value={rating.minimumLoadOhms}
          above={0}
          onChange={(minimumLoadOhms) => onChange({ ...rating, minimumLoadOhms })}
        />
        <button
          type="button"
          className="act"
          onClick={() => onChange({ ...rating, ratings: [...rating.ratings, nextRating(rating.ratings)] })}
        >
          Add a rating
        </button>
      </div>
    </fieldset>
  );
}

const CLASSES = [
  { value: 'AB', words: 'AB' },
  { value: 'D', words: 'D' },
  { value: 'unknown', words: 'not known' },
] as const;

/** An amplifier as its data sheet states it. */
export function AmplifierForm({
  amplifier,
  used,
  onChange,
}: {
  amplifier: JobAmplifier;
  /** How many of its channels the job uses. */
  used: number;
  onChange: (amplifier: JobAmplifier) => void;
}) {
  const { bridged } = amplifier;
  return (
    <>
      <div className="fields">
        <TextField
          label="Name"
          value={amplifier.name}
          onChange={(name) => onChange({ ...amplifier, name })}
        />
        <NumberField
          label="Channels"
          value={amplifier.channelCount}
          least={1}
          most={16}
          whole
          refuse={(count) =>
            count < used ? `${used} channels are in use here, so it must be ${used} or more.` : null
          }
          onChange={(channelCount) => onChange({ ...amplifier, channelCount })}
        />
        <NumberField
          label="Supply of the rating, V"
          value={amplifier.ratedSupplyVolts}
          above={0}
          onChange={(ratedSupplyVolts) => onChange({ ...amplifier, ratedSupplyVolts })}
        />
        <ChoiceField
          label="Class"
          value={amplifier.class ?? 'unknown'}
          choices={CLASSES}
          onChange={(stage) => onChange({ ...amplifier, class: stage === 'unknown' ? null : stage })}
        />
      </div>
      <RatingForm
        legend="Continuous power of one channel"
        rating={amplifier.perChannel}
        onChange={(perChannel) => onChange({ ...amplifier, perChannel })}
      />
      <TickField
        label="Two channels may be bridged"
        value={bridged !== null}
        onChange={(may) =>
          onChange({
            ...amplifier,
            bridged: may ? { ratings: [{ loadOhms: 4, watts: 100 }], minimumLoadOhms: 4 } : null,
          })
        }
      />
      {bridged !== null && (
        <RatingForm
          legend="Continuous power, bridged"
          rating={bridged}
          onChange={(next) => onChange({ ...amplifier, bridged: next })}
        />
      )}
    </>
  );
}
