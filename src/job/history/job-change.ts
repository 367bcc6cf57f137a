/** What one edit changed, in words short enough for a button. */
import type { Job } from '../document.ts';

export interface JobChange {
  /** "power of Mono amplifier", "adding Channel 3". */
  what: string;
  /** Same for further typing into the same field; `null` where each change stands for itself. */
  field: string | null;
}

/** What the leaves of a job are called; a leaf that is not here is named by its own key. */
const LEAF_WORDS: Record<string, string> = {
  adjustable: 'adjusting',
  areaMm2: 'size of a wire',
  amplifierId: 'amplifier',
  bridged: 'bridging',
  channelCount: 'number of channels',
  class: 'class',
  coilOhms: 'coil ohms',
  coilsEach: 'voice coils',
  coilWiring: 'wiring of the coils',
  continuousWattsEach: 'continuous power',
  count: 'number of drivers',
  driverWiring: 'wiring of the drivers',
  fedBy: 'feed',
  fuseAmps: 'fuse',
  fuseMetresFromBattery: 'way to the fuse',
  frequencyHz: 'setting tone',
  ground: 'ground wire',
  highestInputVolts: 'highest input',
  highPassHz: 'high-pass',
  levelDbfs: 'level of the tone',
  loadOhms: 'load of a rating',
  lowPassHz: 'low-pass',
  material: 'material of a wire',
  metres: 'length of a wire',
  minimumLoadOhms: 'smallest load',
  positive: 'supply wire',
  ratedSupplyVolts: 'supply of the rating',
  ratioDb: 'ratio',
  speakerRun: 'speaker wire',
  summedInputs: 'inputs summed',
  supplyVolts: 'supply found',
  title: 'name of this job',
  toleranceDb: 'brackets',
  turnOn: 'turning on',
  watts: 'power',
};

const UNIT = /(Volts|Ohms|Watts|Hz|Db|Dbfs|Amps|Metres|Mm2|Ms|Seconds)$/;

/** "speakerRun" becomes "speaker run", "delayMs" becomes "delay". */
function leafWords(key: string): string {
  const bare = key.replace(UNIT, '');
  return (
    LEAF_WORDS[key] ?? (bare === '' ? key : bare).replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`)
  );
}

interface Leaf {
  path: string[];
  isTyped: boolean;
}

type Fields = Record<string, unknown>;

function isFields(value: unknown): value is Fields {
  return typeof value === 'object' && value !== null;
}

/** Every place at which two values differ; a list that grew or shrank is one place. */
function differences(before: unknown, after: unknown, path: string[] = []): Leaf[] {
  if (before === after) return [];
  const comparable = isFields(before) && isFields(after) && Array.isArray(before) === Array.isArray(after);
  if (!comparable || (Array.isArray(before) && before.length !== (after as unknown as unknown[]).length)) {
    const isTyped = [before, after].every(
      (value) => value === null || ['number', 'string'].includes(typeof value),
    );
    return [{ path, isTyped }];
  }
  const keys = new Set([...Object.keys(before), ...Object.keys(after)]);
  return [...keys].flatMap((key) => differences(before[key], after[key], [...path, key]));
}

function ofField(leaves: readonly Leaf[], place: string, name: string | null): JobChange | null {
  const [first] = leaves;
  if (first === undefined) return null;
  const named = [...first.path].reverse().find((key) => !/^\d+$/.test(key)) ?? place;
  const what = name === null ? leafWords(named) : `${leafWords(named)} of ${name}`;
  return { what, field: first.isTyped ? `${place}.${first.path.join('.')}` : null };
}

interface Part {
  id: string;
  name: string;
}

function listed(names: readonly string[]): string {
  return names.length <= 2 ? names.join(' and ') : `${names.length} parts`;
}

/** Parts of a list are told apart by their id. */
function ofParts(before: readonly Part[], after: readonly Part[], place: string): JobChange[] {
  const lacking = (from: readonly Part[], other: readonly Part[]) =>
    from.filter(({ id }) => !other.some((one) => one.id === id)).map(({ name }) => name);
  const added = lacking(after, before);
  const removed = lacking(before, after);
  if (added.length > 0) return [{ what: `adding ${listed(added)}`, field: null }];
  if (removed.length > 0) return [{ what: `removing ${listed(removed)}`, field: null }];
  const changes = before.flatMap((part) => {
    const now = after.find((one) => one.id === part.id);
    return ofField(differences(part, now), `${place}.${part.id}`, part.name) ?? [];
  });
  if (changes.length > 0) return changes;
  const moved = before.find((part, index) => after[index]?.id !== part.id);
  return moved === undefined ? [] : [{ what: `moving ${moved.name}`, field: null }];
}

/** Not edited by hand, and never undone. */
const APART: ReadonlySet<string> = new Set([
  'id',
  'records',
  'signOffs',
  'updatedAt',
  'amplifiers',
  'channels',
]);

/** Name of the part that a place inside source or converter belongs to. */
function nameAt(job: Job, [part, ...inside]: string[]): string | null {
  if (inside.length === 0 || (part !== 'source' && part !== 'converter')) return null;
  return job[part]?.name ?? null;
}

/** What leads from one state of a job to the next, its records aside; `null` where nothing does. */
export function jobChange(before: Job, after: Job): JobChange | null {
  const own = (job: Job) => Object.fromEntries(Object.entries(job).filter(([key]) => !APART.has(key)));
  const parts = [
    ...ofParts(before.amplifiers, after.amplifiers, 'amplifiers'),
    ...ofParts(before.channels, after.channels, 'channels'),
  ];
  const leaves = differences(own(before), own(after));
  const rest = ofField(leaves, 'job', nameAt(before, leaves[0]?.path ?? []));
  const all = rest === null ? parts : [...parts, rest];
  const [first] = all;
  if (first === undefined) return null;
  return all.length === 1 ? first : { what: `${first.what} and more`, field: null };
}
