import type { JobAmplifier } from '../../../job/document.ts';
import type { ChannelRating, PowerRating } from '../../../plan/chain.ts';
import { TickField } from '../../fields/ChoiceField.tsx';
import { NumberField } from '../../fields/NumberField.tsx';
import { TextField } from '../../fields/TextField.tsx';

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
          onClick={() => onChange({ ...rating, ratings: [...rating.ratings, { watts: 50, loadOhms: 2 }] })}
        >
          Add a rating
        </button>
      </div>
    </fieldset>
  );
}

export function AmplifierForm({
  amplifier,
  onChange,
  onRemove,
}: {
  amplifier: JobAmplifier;
  onChange: (amplifier: JobAmplifier) => void;
  onRemove: (() => void) | null;
}) {
  const { bridged } = amplifier;
  return (
    <div className="part-body">
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
          onChange={(channelCount) => onChange({ ...amplifier, channelCount })}
        />
        <NumberField
          label="Supply of the rating, V"
          value={amplifier.ratedSupplyVolts}
          above={0}
          onChange={(ratedSupplyVolts) => onChange({ ...amplifier, ratedSupplyVolts })}
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
      {onRemove !== null && (
        <button type="button" className="act plain" onClick={onRemove}>
          Remove this amplifier
        </button>
      )}
    </div>
  );
}
