import { DEFAULT_TOLERANCES } from '../tolerances.ts';

type Raw = Record<string, unknown>;

const isRaw = (value: unknown): value is Raw =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** What is there already stays: a record of this version may have joined a body that an older one wrote. */
function filled(value: unknown, blank: Raw): unknown {
  return isRaw(value) ? { ...blank, ...value } : value;
}

function eachFilled(list: unknown, blank: Raw): unknown {
  return Array.isArray(list) ? list.map((entry) => filled(entry, blank)) : list;
}

/** Version 1 knew gains alone, set at the planned level, without bursts or a named stage. */
const NEW_IN_GAIN = { overlapDb: null, bursts: null, clippingStage: null };

function withGainResult(record: unknown): unknown {
  if (!isRaw(record) || record.kind !== 'gain') return record;
  return { ...record, result: filled(record.result, NEW_IN_GAIN) };
}

/** Version 1 to 2: nothing of what is new was known, so all of it is noted as unknown. */
export function wholePath(document: Raw): Raw {
  return {
    ...document,
    source: filled(document.source, { loadResistors: null, highestVolts: null }),
    converter: filled(document.converter, { ratioDb: null, turnOn: 'unknown' }),
    amplifiers: eachFilled(document.amplifiers, { class: null, wiring: null }),
    channels: eachFilled(document.channels, { slopes: { highPass: null, lowPass: null }, speakerRun: null }),
    records: Array.isArray(document.records) ? document.records.map(withGainResult) : document.records,
    tolerances: filled(document.tolerances ?? {}, DEFAULT_TOLERANCES),
  };
}
