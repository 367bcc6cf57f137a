/** A sign-off freezes a job: the same value hashes alike however it is spelt, and another value never does. */
import 'fake-indexeddb/auto';
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { openDB } from 'idb';
import { afterEach, describe, expect, it } from 'vitest';
import type { Job } from '../../src/job/document.ts';
import { edited, NO_HISTORY, undone } from '../../src/job/history/history.ts';
import { recordStanding } from '../../src/job/progress/job-progress.ts';
import { readJob } from '../../src/job/read-job.ts';
import { canonicalJson } from '../../src/job/sign-off/canonical.ts';
import { JobAltered, readUnaltered, writeSealed } from '../../src/job/sign-off/sealed-file.ts';
import { signedJob, signJob } from '../../src/job/sign-off/sign-job.ts';
import { signOffStanding } from '../../src/job/sign-off/sign-off-standing.ts';
import type { JobStore } from '../../src/job/store/job-store.ts';
import { openStore } from '../../src/job/store/open-store.ts';
import { sha256Hex } from '../../src/job/store/sha256.ts';
import { writeJob } from '../../src/job/write-job.ts';
import { gainRecord } from './job-records.ts';
import { crossoverOf, levelOf } from './station-records.ts';

const HATCHBACK = readFileSync(new URL('../../shared/examples/hatchback.job.json', import.meta.url), 'utf8');
const JOB: Job = { ...readJob(HATCHBACK), records: [gainRecord('a')] };
const BY = { id: 's1', at: '2026-03-14T12:00:00.000Z', signedBy: 'Invented Name', note: 'as delivered' };

/** By another implementation of SHA-256 than the browser's. */
const nodeSha256 = async (text: string) => createHash('sha256').update(text, 'utf8').digest('hex');

async function signed(job = JOB): Promise<Job> {
  return { ...job, signOffs: [await signJob(job, BY, nodeSha256)] };
}

describe('the canonical form', () => {
  it('sorts keys by code units and leaves no space, as RFC 8785 does', () => {
    expect(canonicalJson({ b: [1, 1e21, -0, 'é\n'], 'a b': null, B: { z: true, y: undefined } })).toBe(
      '{"B":{"z":true},"a b":null,"b":[1,1e+21,0,"é\\n"]}',
    );
  });

  it('is the same whatever the order of the keys', () => {
    const shuffled = (value: unknown, turn: number): unknown => {
      if (Array.isArray(value)) return value.map((one) => shuffled(one, turn));
      if (typeof value !== 'object' || value === null) return value;
      const entries = Object.entries(value).map(([key, inner]) => [key, shuffled(inner, turn)] as const);
      const at = turn % Math.max(1, entries.length);
      return Object.fromEntries([...entries.slice(at), ...entries.slice(0, at)].reverse());
    };
    fc.assert(
      fc.property(fc.jsonValue(), fc.nat(7), (value, turn) => {
        expect(canonicalJson(shuffled(value, turn))).toBe(canonicalJson(value));
        // Nothing is lost on the way either, but for the sign of a zero.
        expect(JSON.parse(canonicalJson(value))).toEqual(JSON.parse(JSON.stringify(value)));
      }),
    );
  });

  it('refuses what a file could not hold', () => {
    expect(() => canonicalJson({ volts: Number.NaN })).toThrow('NaN has no place in JSON');
    expect(() => canonicalJson([undefined])).toThrow('undefined has no place in JSON');
  });
});

describe('signing', () => {
  it('hashes alike in the browser and in Node', async () => {
    for (const text of ['', 'abc', canonicalJson(JOB)])
      expect(await sha256Hex(text)).toBe(await nodeSha256(text));
    // FIPS 180-4, the example of one block.
    expect(await sha256Hex('abc')).toBe('ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad');
  });

  it('holds the job as it stood, without earlier sign-offs, and needs a name', async () => {
    const again = await signJob(await signed(), { ...BY, id: 's2' }, nodeSha256);
    expect(again.content).not.toHaveProperty('signOffs');
    expect(writeJob(signedJob(again))).toBe(writeJob(JOB));
    await expect(signJob(JOB, { ...BY, signedBy: ' ' }, nodeSha256)).rejects.toThrow('needs the name');
  });

  it('is not taken away by undo', async () => {
    const before = JOB;
    const after = { ...before, supplyVolts: 13.1 };
    const history = edited(NO_HISTORY, before, after);
    const { signOffs } = await signed();
    expect(undone(history, { ...after, signOffs })?.job).toEqual({ ...before, signOffs });
  });
});

describe('where a sign-off stands', () => {
  it('is current until a record is added or the plan is changed, and a copy under another id is no change', async () => {
    expect(signOffStanding(JOB)).toEqual({ standing: 'none' });
    const job = await signed();
    expect(signOffStanding(job).standing).toBe('current');
    expect(signOffStanding({ ...job, id: 'hatchback-2', updatedAt: BY.at }).standing).toBe('current');
    expect(signOffStanding({ ...job, records: [...job.records, gainRecord('b')] })).toMatchObject({
      standing: 'outdated',
      why: 'One record was added since it was signed.',
    });
    expect(signOffStanding({ ...job, supplyVolts: 13.3 })).toMatchObject({
      standing: 'outdated',
      why: 'The plan was changed since it was signed: supply found.',
    });
  });
});

describe('another tolerance', () => {
  it('makes stale what was judged by the earlier one, and nothing else', () => {
    const records = [gainRecord('a'), crossoverOf('c', 80), levelOf('l')];
    const marks = (tolerances: Partial<Job['tolerances']>) => {
      const job = { ...JOB, records, tolerances: { ...JOB.tolerances, ...tolerances } };
      return records.map((record) => recordStanding(job, record).mark);
    };
    const before = marks({});
    expect(before.slice(1)).toEqual(['done', 'done']);
    expect(marks({ cornerPercent: 5 })).toEqual([before[0], 'stale', 'done']);
    expect(marks({ balanceDb: 0.3 })).toEqual([before[0], 'done', 'stale']);
  });
});

describe('a file with sign-offs', () => {
  it('comes back as it was', async () => {
    const job = await signed();
    expect(await readUnaltered(await writeSealed(job, nodeSha256), nodeSha256)).toEqual(job);
    expect(await writeSealed(JOB, nodeSha256)).toBe(writeJob(JOB));
  });

  it('is refused when any one digit in it is edited, wherever it stands', async () => {
    const text = await writeSealed(await signed(), nodeSha256);
    const digits = [...text.matchAll(/\d/g)].map(({ index }) => index);
    await fc.assert(
      fc.asyncProperty(fc.constantFrom(...digits), fc.integer({ min: 1, max: 9 }), async (at, step) => {
        const other = (Number(text[at]) + step) % 10;
        const bent = `${text.slice(0, at)}${other}${text.slice(at + 1)}`;
        const isSame = (() => {
          try {
            return canonicalJson(JSON.parse(bent)) === canonicalJson(JSON.parse(text));
          } catch {
            return false;
          }
        })();
        // A digit beyond what a double holds changes no figure.
        fc.pre(!isSame);
        await expect(readUnaltered(bent, nodeSha256)).rejects.toThrow();
      }),
      { numRuns: 400 },
    );
  });
});

/** The refusal of a job bent after it was signed. */
async function refusal(bend: (job: Job) => Job, seal = false): Promise<JobAltered> {
  const bent = bend(structuredClone(await signed()));
  const text = seal ? await writeSealed(bent, nodeSha256) : writeJob(bent);
  const fault: unknown = await readUnaltered(text, nodeSha256).then(
    () => null,
    (error: unknown) => error,
  );
  if (fault instanceof JobAltered) return fault;
  throw new Error(`not refused as altered: ${String(fault)}`);
}

describe('what was altered is named', () => {
  it.each(['signedBy', 'note', 'at'] as const)('in the %s of a sign-off', async (key) => {
    const { alterations, message } = await refusal((job) => {
      const [first] = job.signOffs;
      if (first) first[key] = key === 'at' ? '2027-03-14T12:00:00.000Z' : 'Somebody Else';
      return job;
    }, true);
    expect(alterations.map(({ what }) => what)).toEqual(['sign-off']);
    expect(message).toMatch(
      /^This job was altered after it was signed: the sign-off by .* says its SHA-256 is [0-9a-f]{64}, and it is [0-9a-f]{64}; /,
    );
  });

  it('in what was signed', async () => {
    const { alterations } = await refusal((job) => {
      const [first] = job.signOffs;
      if (first) first.content.supplyVolts = 14.9;
      return job;
    }, true);
    expect(alterations.map(({ what }) => what)).toEqual(['sign-off']);
  });

  it('in a record that was signed, or that is gone', async () => {
    const bent = await refusal((job) => {
      const [first] = job.records;
      if (first?.kind === 'gain') first.result.volts = 17.9;
      return job;
    }, true);
    expect(bent.alterations).toMatchObject([
      { what: 'record', recordId: 'a', signed: { result: { volts: 17.3 } } },
    ]);
    const gone = await refusal((job) => ({ ...job, records: [] }), true);
    expect(gone.alterations).toMatchObject([{ what: 'record', recordId: 'a', found: null }]);
  });

  it('in the file as a whole, where the chain was changed outside the app', async () => {
    const text = await writeSealed(await signed(), nodeSha256);
    const bent = text.replace('"watts": 75', '"watts": 76');
    expect(bent).not.toBe(text);
    await expect(readUnaltered(bent, nodeSha256)).rejects.toThrow(/the file says its SHA-256 is/);
  });

  it('and a new record, or another chain, is no alteration', async () => {
    const job = await signed();
    const grown = { ...job, supplyVolts: 13.3, records: [...job.records, gainRecord('b')] };
    expect(await readUnaltered(await writeSealed(grown, nodeSha256), nodeSha256)).toEqual(grown);
  });
});

describe('in the store', () => {
  const stores: JobStore[] = [];
  let count = 0;
  async function open(name = `sign-off-test-${++count}`): Promise<{ store: JobStore; name: string }> {
    const store = await openStore(name);
    stores.push(store);
    return { store, name };
  }
  afterEach(() => {
    for (const store of stores.splice(0)) store.close();
  });

  it('a sign-off outlives the tab, every save and every edit, and is never replaced', async () => {
    const { store, name } = await open();
    await store.importJob(writeJob(JOB));
    const signOff = await signJob(JOB, BY, nodeSha256);
    await store.addSignOff(JOB.id, signOff);
    await store.saveJob({ ...JOB, vehicle: 'other', signOffs: [] });
    const again = await open(name);
    expect((await again.store.openJob(JOB.id)).signOffs).toEqual([signOff]);
    await expect(again.store.addSignOff(JOB.id, signOff)).rejects.toThrow('never replaced');
    await expect(again.store.addSignOff(JOB.id, { ...signOff, id: 's2' })).rejects.toThrow('and it is');
    const bent = { ...signOff, note: 'bent' };
    expect((await again.store.saveJob({ ...JOB, signOffs: [bent] })).signOffs).toEqual([signOff]);
  });

  it('opens what was stored before there were sign-offs, and signs it', async () => {
    const name = `sign-off-test-${++count}`;
    const { records: _, signOffs: __, ...document } = JOB;
    const before = await openDB(name, 2, {
      upgrade(fresh) {
        fresh.createObjectStore('jobs', { keyPath: 'id' });
        fresh.createObjectStore('records', { keyPath: ['jobId', 'recordId'] });
        for (const store of ['calibrations', 'microphones', 'soundScales']) {
          fresh.createObjectStore(store, { keyPath: 'id' });
        }
      },
    });
    await before.put('jobs', { id: JOB.id, document });
    await before.put('records', { jobId: JOB.id, recordId: 'a', sequence: 0, record: gainRecord('a') });
    before.close();
    const { store } = await open(name);
    expect(await store.openJob(JOB.id)).toEqual({ ...JOB, signOffs: [] });
    const signOff = await signJob(JOB, BY, nodeSha256);
    expect((await store.addSignOff(JOB.id, signOff)).signOffs).toEqual([signOff]);
  });

  it('takes in what was exported, once, and nothing of what was altered', async () => {
    const { store } = await open();
    await store.importJob(writeJob(JOB));
    await store.addSignOff(JOB.id, await signJob(JOB, BY, nodeSha256));
    const { text } = await store.exportJob(JOB.id);
    expect((await store.importJob(text)).outcome).toBe('already-here');
    const other = (await open()).store;
    await expect(other.importJob(text.replace('"volts": 17.3', '"volts": 17.4'))).rejects.toThrow('altered');
    expect(other.getSnapshot().jobs).toEqual([]);
    const { job, outcome } = await other.importJob(text);
    expect([outcome, job.signOffs.length]).toEqual(['added', 1]);
    await other.deleteJob(JOB.id);
    expect((await other.saveJob(JOB)).signOffs).toEqual([]);
  });
});
