import type { MeterAccuracy } from '../../../../procedure/supply/supply.ts';
import { NumberField } from '../../../fields/NumberField.tsx';
import { supplySession } from '../../../session/supply-session.ts';

/** How far the multimeter may be trusted, as its sheet says. */
export function MeterSheet({ meter }: { meter: MeterAccuracy }) {
  const set = (part: Partial<MeterAccuracy>) =>
    supplySession.hand({ type: 'meter', meter: { ...meter, ...part } });
  return (
    <details>
      <summary>
        The multimeter: ±({meter.percentOfReading} % + {meter.digits} digits)
      </summary>
      <div className="fields">
        <NumberField
          label="DC volts, % of reading"
          value={meter.percentOfReading}
          least={0}
          most={20}
          onChange={(percentOfReading) => set({ percentOfReading })}
        />
        <NumberField
          label="and digits"
          value={meter.digits}
          least={0}
          most={200}
          onChange={(digits) => set({ digits })}
        />
      </div>
      <p className="small soft">
        Type every digit that the meter shows: how many there are says how fine it reads.
      </p>
    </details>
  );
}
