import { DRIVER_WIRING_WORDS, loadWords, wiringsFor } from '../../../job/load-words.ts';
import type { DriverGroup } from '../../../plan/chain.ts';
import { driverGroupLoadOhms } from '../../../plan/load/driver-group.ts';
import { PlanRefused } from '../../../plan/refused.ts';
import { ChoiceField } from '../../fields/ChoiceField.tsx';
import { NumberField } from '../../fields/NumberField.tsx';
import { DriverCircuit } from './drawing/DriverCircuit.tsx';

/** The wiring drawn, or why it cannot be made. */
function Wiring({ drivers }: { drivers: DriverGroup }) {
  try {
    const netOhms = driverGroupLoadOhms(drivers);
    return (
      <>
        <DriverCircuit drivers={drivers} netOhms={netOhms} />
        <p className="small soft">{loadWords(drivers, netOhms)}</p>
      </>
    );
  } catch (fault) {
    if (fault instanceof PlanRefused) return <p className="wrong small">{fault.message}</p>;
    throw fault;
  }
}

/** Number of drivers and coils changed, the wiring follows, so that no impossible one is left standing. */
function withCounts(
  drivers: DriverGroup,
  part: Pick<Partial<DriverGroup>, 'count' | 'coilsEach'>,
): DriverGroup {
  const next = { ...drivers, ...part };
  const wirings = wiringsFor(next.count);
  return {
    ...next,
    coilWiring: next.coilsEach === 1 ? 'single' : next.coilWiring === 'single' ? 'parallel' : next.coilWiring,
    driverWiring: wirings.includes(next.driverWiring) ? next.driverWiring : (wirings[0] ?? 'single'),
  };
}

/** The drivers on one channel and how their coils are joined. */
export function DriversForm({
  drivers,
  onChange,
}: {
  drivers: DriverGroup;
  onChange: (drivers: DriverGroup) => void;
}) {
  return (
    <fieldset className="drivers-form">
      <legend className="small">Drivers</legend>
      <div className="fields">
        <NumberField
          label="How many"
          value={drivers.count}
          least={1}
          most={8}
          whole
          onChange={(count) => onChange(withCounts(drivers, { count }))}
        />
        <ChoiceField
          label="Voice coils each"
          value={drivers.coilsEach === 1 ? '1' : '2'}
          choices={[
            { value: '1', words: 'one' },
            { value: '2', words: 'two' },
          ]}
          onChange={(coils) => onChange(withCounts(drivers, { coilsEach: coils === '1' ? 1 : 2 }))}
        />
        <NumberField
          label="One coil, Ω"
          value={drivers.coilOhms}
          above={0}
          onChange={(coilOhms) => onChange({ ...drivers, coilOhms })}
        />
        {drivers.coilsEach === 2 && (
          <ChoiceField
            label="Coils joined"
            value={drivers.coilWiring}
            choices={[
              { value: 'parallel', words: 'in parallel' },
              { value: 'series', words: 'in series' },
            ]}
            onChange={(coilWiring) => onChange({ ...drivers, coilWiring })}
          />
        )}
        {drivers.count > 1 && (
          <ChoiceField
            label="Drivers joined"
            value={drivers.driverWiring}
            choices={wiringsFor(drivers.count).map((value) => ({ value, words: DRIVER_WIRING_WORDS[value] }))}
            onChange={(driverWiring) => onChange({ ...drivers, driverWiring })}
          />
        )}
        <NumberField
          label="Continuous power of one, W"
          value={drivers.continuousWattsEach}
          above={0}
          onChange={(continuousWattsEach) => onChange({ ...drivers, continuousWattsEach })}
        />
      </div>
      <Wiring drivers={drivers} />
    </fieldset>
  );
}
