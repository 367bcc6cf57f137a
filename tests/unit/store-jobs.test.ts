/** The browser's store in Node, on fake-indexeddb: an implementation of the standard's transactions, in memory. */
import 'fake-indexeddb/auto';
import { readFileSync } from 'node:fs';
import { openDB } from 'idb';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { readJob } from '../../src/job/read-job.ts';
import type { JobStore, StoredCalibration, StoredMicrophone } from '../../src/job/store/job-store.ts';
import { openStore } from '../../src/job/store/open-store.ts';
import { writeJob } from '../../src/job/write-job.ts';
import { gainRecord } from './job-records.ts';

const HATCHBACK = readFileSync(new URL('../../shared/examples/hatchback.job.json', import.meta.url), 'utf8');

let name = '';
let count = 0;
const stores: JobStore[] = [];

async function open(): Promise<JobStore> {
  const store = await openStore(name);
  stores.push(store);
  return store;
}

/** Changes what lies in the database behind the store's back. */
async function behind(
  work: (database: Awaited<ReturnType<typeof openDB>>) => Promise<unknown>,
): Promise<void> {
  const database = await openDB(name);
  await work(database);
  database.close();
}

beforeEach(() => {
  count += 1;
  name = `store-test-${count}`;
});

afterEach(() => {
  vi.restoreAllMocks();
  for (const store of stores.splice(0)) store.close();
});

describe('keeping jobs', () => {
  it('keeps many, and a change survives a new opening', async () => {
    const store = await open();
    const { job } = await store.importJob(HATCHBACK);
    await store.saveJob({ ...job, id: 'second', title: 'Second' });
    await store.saveJob({ ...job, vehicle: 'changed' });
    const again = await open();
    expect(
      again
        .getSnapshot()
        .jobs.map((one) => one.id)
        .sort(),
    ).toEqual(['hatchback', 'second']);
    expect((await again.openJob('hatchback')).vehicle).toBe('changed');
    await expect(again.openJob('third')).rejects.toThrow('There is no job "third" in this browser.');
  });

  it('takes a job away whole, with its records, and no other', async () => {
    const store = await open();
    const { job } = await store.importJob(HATCHBACK);
    const other = await store.saveJob({ ...job, id: 'hatchback-other' });
    await store.acceptRecord(job.id, gainRecord('r1'));
    await store.acceptRecord(other.id, gainRecord('r1'));
    await store.deleteJob(job.id);
    expect(store.getSnapshot().jobs.map(({ id, recordCount }) => [id, recordCount])).toEqual([
      ['hatchback-other', 1],
    ]);
    await expect(store.openJob(job.id)).rejects.toThrow('There is no job');
    // A record left behind would turn up again under a new job of the same name.
    expect((await store.saveJob(job)).records).toEqual([]);
    await store.deleteJob('never-there');
  });

  it('refuses to store what could not be read back', async () => {
    const store = await open();
    const { job } = await store.importJob(HATCHBACK);
    await expect(store.saveJob({ ...job, title: '' })).rejects.toThrow(/title is ""/);
    expect((await store.openJob('hatchback')).title).toBe(job.title);
  });

  it('gives React one snapshot until something changes, then another, and tells it', async () => {
    const store = await open();
    const heard = vi.fn();
    const stop = store.subscribe(heard);
    const before = store.getSnapshot();
    expect(store.getSnapshot()).toBe(before);
    await store.importJob(HATCHBACK);
    expect(heard).toHaveBeenCalled();
    expect(store.getSnapshot()).not.toBe(before);
    stop();
    const calls = heard.mock.calls.length;
    await store.acceptRecord('hatchback', gainRecord('a'));
    expect(heard.mock.calls.length).toBe(calls);
  });
});

describe('an accepted record', () => {
  it('is there for whoever opens the store after the promise resolved, without any closing', async () => {
    const store = await open();
    await store.importJob(HATCHBACK);
    await store.acceptRecord('hatchback', gainRecord('a'));
    const afterKill = await open();
    expect((await afterKill.openJob('hatchback')).records).toEqual([gainRecord('a')]);
  });

  it('is promised only when its transaction has completed, and that with strict durability', async () => {
    const store = await open();
    await store.importJob(HATCHBACK);
    const order: string[] = [];
    const begin = IDBDatabase.prototype.transaction;
    const spy = vi.spyOn(IDBDatabase.prototype, 'transaction').mockImplementation(function (
      this: IDBDatabase,
      ...args
    ) {
      const transaction = begin.apply(this, args);
      if (args[1] === 'readwrite') transaction.addEventListener('complete', () => order.push('complete'));
      return transaction;
    });
    await store.acceptRecord('hatchback', gainRecord('a'));
    order.push('resolved');
    expect(order).toEqual(['complete', 'resolved']);
    const writing = spy.mock.calls.filter((call) => call[1] === 'readwrite');
    expect(writing).toHaveLength(1);
    expect(writing[0]?.[2]).toEqual({ durability: 'strict' });
  });

  it('is wholly there or not at all when the end comes in the middle', async () => {
    const store = await open();
    await store.importJob(HATCHBACK);
    const before = writeJob(await store.openJob('hatchback'));
    // The tab dies between the record and the body: the browser rolls the transaction back.
    vi.spyOn(IDBObjectStore.prototype, 'put').mockImplementation(function (this: IDBObjectStore) {
      this.transaction.abort();
      throw new DOMException('killed', 'AbortError');
    });
    await expect(store.acceptRecord('hatchback', gainRecord('a'))).rejects.toThrow('killed');
    vi.restoreAllMocks();
    const afterKill = await open();
    expect(writeJob(await afterKill.openJob('hatchback'))).toBe(before);
    await afterKill.acceptRecord('hatchback', gainRecord('a'));
    expect((await afterKill.openJob('hatchback')).records).toHaveLength(1);
  });

  it('that is not awaited leaves nothing half for whoever opens next', async () => {
    const store = await open();
    await store.importJob(HATCHBACK);
    const stamp = (await store.openJob('hatchback')).updatedAt;
    const pending = store.acceptRecord('hatchback', gainRecord('a'));
    const other = await open();
    const seen = await other.openJob('hatchback');
    expect(seen.records.length === 1).toBe(seen.updatedAt !== stamp);
    await pending;
  });

  it('is never replaced: its id is taken for good', async () => {
    const store = await open();
    await store.importJob(HATCHBACK);
    await store.acceptRecord('hatchback', gainRecord('a'));
    const other = gainRecord('a', '2027-01-01T00:00:00.000Z');
    await expect(store.acceptRecord('hatchback', other)).rejects.toThrow(/never replaced/);
    const job = await store.openJob('hatchback');
    expect((await store.saveJob({ ...job, records: [other] })).records).toEqual([gainRecord('a')]);
    expect((await store.saveJob({ ...job, records: [] })).records).toEqual([gainRecord('a')]);
  });

  it('must be valid, and its job must be there', async () => {
    const store = await open();
    await expect(store.acceptRecord('hatchback', gainRecord('a'))).rejects.toThrow(/no job "hatchback"/);
    await store.importJob(HATCHBACK);
    const broken = gainRecord('a');
    broken.result.volts = Number.NaN;
    await expect(store.acceptRecord('hatchback', broken)).rejects.toThrow(/result\.volts/);
  });
});

describe('two tabs on one job', () => {
  it('both keep what they accept, in the order of accepting, and hear of each other', async () => {
    const one = await open();
    await one.importJob(HATCHBACK);
    const two = await open();
    const stale = await two.openJob('hatchback');
    await Promise.all([
      one.acceptRecord('hatchback', gainRecord('a')),
      two.acceptRecord('hatchback', gainRecord('b')),
    ]);
    await two.acceptRecord('hatchback', gainRecord('c'));
    // The second tab saves a plan that it opened before any of them.
    const saved = await two.saveJob({ ...stale, vehicle: 'from the second tab' });
    expect(saved.records.map((record) => record.id).sort()).toEqual(['a', 'b', 'c']);
    expect(saved.records.at(-1)?.id).toBe('c');
    await vi.waitFor(() =>
      expect(one.getSnapshot().jobs[0]).toMatchObject({ recordCount: 3, vehicle: 'from the second tab' }),
    );
  });
});

describe('export and import', () => {
  it('carry a job to another browser and back without adding it twice', async () => {
    const store = await open();
    await store.importJob(HATCHBACK);
    await store.acceptRecord('hatchback', gainRecord('a'));
    const file = await store.exportJob('hatchback');
    expect(file.fileName).toBe('hatchback-four-doors-and-a-subwoofer.job.json');
    expect(readJob(file.text).records).toEqual([gainRecord('a')]);
    expect((await store.importJob(file.text)).outcome).toBe('already-here');
    expect(store.getSnapshot().jobs).toHaveLength(1);
  });

  it('keep both where another job has the id, and know a second import of the same', async () => {
    const store = await open();
    await store.importJob(HATCHBACK);
    const other = HATCHBACK.replace('"vehicle": "', '"vehicle": "Another: ');
    const kept = await store.importJob(other);
    expect(kept).toMatchObject({ outcome: 'kept-both', job: { id: 'hatchback-2' } });
    expect((await store.openJob('hatchback')).vehicle).not.toMatch(/^Another/);
    expect((await store.openJob('hatchback-2')).vehicle).toMatch(/^Another/);
    expect((await store.importJob(other)).outcome).toBe('already-here');
    expect(store.getSnapshot().jobs).toHaveLength(2);
  });

  it('store nothing of what cannot be read', async () => {
    const store = await open();
    await expect(store.importJob('{')).rejects.toThrow(/not JSON/);
    await expect(store.importJob(HATCHBACK.replace('"version": 2', '"version": 9'))).rejects.toThrow(
      /newer Kneepoint/,
    );
    expect(store.getSnapshot().jobs).toEqual([]);
  });
});

describe('a stored job of a newer version', () => {
  it('is kept byte for byte, listed with its reason, and neither opened nor written over', async () => {
    const store = await open();
    const { job } = await store.importJob(HATCHBACK);
    const newer = { id: 'hatchback', document: { ...job, version: 3, surprise: true } };
    await behind((database) => database.put('jobs', newer));
    const again = await open();
    expect(again.getSnapshot().jobs[0]?.refused).toMatch(/version 3, made by a newer Kneepoint/);
    await expect(again.openJob('hatchback')).rejects.toThrow(/newer Kneepoint/);
    await expect(again.saveJob(job)).rejects.toThrow(/kept as it is/);
    await expect(again.acceptRecord('hatchback', gainRecord('a'))).rejects.toThrow(/kept as it is/);
    expect((await again.importJob(HATCHBACK)).outcome).toBe('kept-both');
    await behind(async (database) => expect(await database.get('jobs', 'hatchback')).toEqual(newer));
  });

  it('and a database of a newer Kneepoint is refused with a sentence', async () => {
    (await openDB(name, 99)).close();
    await expect(openStore(name)).rejects.toThrow('The jobs here were stored by a newer Kneepoint; reload');
  });

  it('a newer Kneepoint in another tab is let in, and this one says what to do', async () => {
    const store = await open();
    (await openDB(name, 99)).close();
    expect(store.getSnapshot().trouble).toMatch(/reload this page/);
  });
});

describe('what is known of a device', () => {
  const device = { deviceId: 'd1', groupId: 'g1', label: 'Seat microphone' };
  const at = '2026-04-01T08:00:00.000Z';
  const microphone = (id: string, change: Partial<StoredMicrophone> = {}): StoredMicrophone => ({
    id,
    at,
    device,
    inputChannel: 0,
    file: {
      name: 'seat.txt',
      meaning: 'reads-high',
      points: [
        { frequencyHz: 100, levelDb: 0.4 },
        { frequencyHz: 10_000, levelDb: -1.2 },
      ],
    },
    ...change,
  });

  it('keeps a microphone’s file and what a calibrator gave, for their channel, through another opening', async () => {
    const store = await open();
    await store.addMicrophone(microphone('m1'));
    const calibrator = { levelDb: 94, frequencyHz: 1000, withinDb: 0.4 };
    const scale = { splAtFullScaleDb: 121.3, uncertaintyDb: 0.26, calibrator, placements: 2 };
    await store.addSoundScale({ id: 's1', at, device, inputChannel: 0, scale });
    const again = await open();
    expect(again.microphoneFor(device, 0)).toEqual({ known: microphone('m1'), match: 'device' });
    expect(again.soundScaleFor({ ...device, deviceId: 'other' }, 0)).toMatchObject({
      known: { scale },
      match: 'label-and-group',
    });
    expect(again.microphoneFor(device, 1)).toBeNull();
    expect(again.soundScaleFor(device, 1)).toBeNull();
  });

  it('is never replaced: going without the file stands beside it and counts from then on', async () => {
    const store = await open();
    await store.addMicrophone(microphone('m1'));
    await store.addMicrophone(microphone('m2', { at: '2026-04-02T08:00:00.000Z', file: null }));
    expect(store.microphoneFor(device, 0)?.known.file).toBeNull();
    expect(store.getSnapshot().microphones.map((one) => one.id)).toEqual(['m2', 'm1']);
    await expect(store.addMicrophone(microphone('m1', { file: null }))).rejects.toThrow();
    expect(store.getSnapshot().microphones.at(-1)).toEqual(microphone('m1'));
  });

  it('finds a place in a store of before microphones, and everything in it is still there', async () => {
    const first = await openDB(name, 1, {
      upgrade(fresh) {
        fresh.createObjectStore('jobs', { keyPath: 'id' });
        fresh.createObjectStore('records', { keyPath: ['jobId', 'recordId'] });
        fresh.createObjectStore('calibrations', { keyPath: 'id' });
      },
    });
    const { records: _, ...document } = readJob(HATCHBACK);
    const calibration = { id: 'c1', at, device, inputChannel: 0, voltsPerFs: 35, basis: 'multimeter' };
    await first.add('jobs', { id: document.id, document });
    await first.add('records', { jobId: document.id, recordId: 'r1', sequence: 0, record: gainRecord('r1') });
    await first.add('calibrations', calibration);
    first.close();
    const store = await open();
    expect((await store.openJob('hatchback')).records).toEqual([gainRecord('r1')]);
    expect(store.getSnapshot().calibrations).toEqual([calibration]);
    await store.addMicrophone(microphone('m1'));
    expect(store.microphoneFor(device, 0)?.known.id).toBe('m1');
  });
});

describe('calibrations', () => {
  const line = { deviceId: 'd1', groupId: 'g1', label: 'Line input' };
  const calibration = (
    id: string,
    at: string,
    change: Partial<StoredCalibration> = {},
  ): StoredCalibration => ({
    id,
    voltsPerFs: 35,
    uncertaintyDb: 0.05,
    deviceLabel: line.label,
    at,
    basis: 'multimeter',
    device: line,
    inputChannel: 0,
    ...change,
  });

  it('are found by device, then by label and group, then by label alone, newest first, for their channel', async () => {
    const store = await open();
    await store.addCalibration(calibration('old', '2026-01-01T00:00:00.000Z'));
    await store.addCalibration(calibration('new', '2026-02-01T00:00:00.000Z'));
    await store.addCalibration(calibration('right', '2026-03-01T00:00:00.000Z', { inputChannel: 1 }));
    const again = await open();
    const found = (device: typeof line, channel = 0) => {
      const match = again.calibrationFor(device, channel);
      return match === null ? null : [match.known.id, match.match];
    };
    expect(found(line)).toEqual(['new', 'device']);
    expect(found(line, 1)).toEqual(['right', 'device']);
    expect(found({ ...line, deviceId: 'rotated' })).toEqual(['new', 'label-and-group']);
    expect(found({ ...line, deviceId: 'default' })).toEqual(['new', 'label-and-group']);
    expect(found({ deviceId: 'x', groupId: 'y', label: 'Line input' })).toEqual(['new', 'label']);
    expect(found({ deviceId: 'x', groupId: 'y', label: 'Another' })).toBeNull();
    expect(found({ deviceId: 'x', groupId: 'g1', label: '' })).toBeNull();
  });

  it('are never replaced', async () => {
    const store = await open();
    await store.addCalibration(calibration('one', '2026-01-01T00:00:00.000Z'));
    await expect(store.addCalibration(calibration('one', '2026-02-01T00:00:00.000Z'))).rejects.toThrow();
    expect(store.getSnapshot().calibrations.map((one) => one.at)).toEqual(['2026-01-01T00:00:00.000Z']);
  });
});
