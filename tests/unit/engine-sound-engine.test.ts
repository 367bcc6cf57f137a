import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { SoundEngine } from '../../src/audio/engine/sound-engine.ts';
import type { Doubt } from '../../src/dsp/reading.ts';
import {
  type FakeBrowser,
  FakeContext,
  FakeTrack,
  FakeWorker,
  FakeWorkletNode,
  reading,
  settle,
  stubBrowser,
} from './engine-fakes.ts';

const MICROPHONE = { kind: 'device', deviceId: null } as const;

beforeEach(() => void vi.useFakeTimers());
afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

async function listening(browser: FakeBrowser, track?: FakeTrack) {
  const engine = new SoundEngine();
  void engine.start(MICROPHONE);
  const granted = await browser.grant(track);
  return { engine, track: granted };
}

const standingDoubts = (browser: FakeBrowser): Doubt[] => {
  const told = browser
    .analysis()
    .told.filter((m) => m.type === 'configure' && m.standingDoubts !== undefined);
  return (told.at(-1) as { standingDoubts: Doubt[] }).standingDoubts;
};
const resets = (browser: FakeBrowser) => browser.analysis().told.filter((m) => m.type === 'reset').length;

describe('opening an input', () => {
  it('asks for all processing off, and for two channels', async () => {
    const browser = stubBrowser();
    const { engine } = await listening(browser);
    expect(browser.asked).toEqual([
      {
        audio: {
          echoCancellation: false,
          noiseSuppression: false,
          autoGainControl: false,
          voiceIsolation: false,
          channelCount: { ideal: 2 },
        },
      },
    ]);
    expect(engine.getState()).toMatchObject({ phase: 'warming-up', trouble: null });
    expect(engine.getState().devices.map((device) => device.label)).toEqual(['Line']);
    expect(engine.getState().outputs.map((device) => device.label)).toEqual(['Speakers']);
    browser.analysis().say({ type: 'reading', reading: reading(['warming-up']) });
    expect(engine.getState().phase).toBe('warming-up');
    browser.analysis().say({ type: 'reading', reading: reading() });
    expect(engine.getState().phase).toBe('running');
  });

  it('runs the context at the track’s rate where that differs, and says how long to warm up', async () => {
    const browser = stubBrowser();
    const { engine } = await listening(browser);
    expect(engine.audioContext().sampleRate).toBe(48_000);
    expect(FakeContext.all.map((context) => context.state)).toEqual(['closed', 'running']);
    const attach = browser.analysis().told.find((message) => message.type === 'attach');
    expect(attach).toMatchObject({ sampleRateHz: 48_000, channelCount: 2, warmUpSeconds: 1 });
    expect(standingDoubts(browser)).toEqual([]);
  });

  it('reads the track directly where a page may, and needs no context for it', async () => {
    const browser = stubBrowser({ readsTracks: true });
    const { engine } = await listening(browser);
    expect(engine.getState()).toMatchObject({ phase: 'warming-up', capturePath: 'track-processor' });
    expect(FakeContext.all).toHaveLength(0);
  });

  it('falls back to the worklet when the track delivers nothing', async () => {
    const browser = stubBrowser({ readsTracks: true });
    vi.stubGlobal(
      'Worker',
      class extends FakeWorker {
        override postMessage(message: never) {
          if (this.name !== 'track-reader.worker') super.postMessage(message);
        }
      },
    );
    const { engine, track } = await listening(browser);
    await vi.advanceTimersByTimeAsync(3000);
    const second = await browser.grant();
    expect(track.readyState).toBe('ended');
    expect(second.readyState).toBe('live');
    expect(engine.getState()).toMatchObject({ phase: 'warming-up', capturePath: 'worklet' });
  });

  it.each<[Partial<Record<string, unknown>>, Doubt[]]>([
    [{ autoGainControl: true }, ['processing-on']],
    [{ noiseSuppression: undefined }, ['processing-unknown']],
    [{ sampleRate: undefined }, ['rate-unknown']],
    [{ sampleRate: 16_000 }, ['narrow-band']],
  ])('is not taken in by what was asked: granted %o casts %o', async (settings, doubts) => {
    const browser = stubBrowser();
    const track = new FakeTrack('line', 'Line');
    Object.assign(track.settings, settings);
    await listening(browser, track);
    expect(standingDoubts(browser)).toEqual(doubts);
  });

  it('counts a hole once, however many windows see it, and another tone as a jump, not as audio lost', async () => {
    const browser = stubBrowser();
    const { engine } = await listening(browser);
    const hole: Doubt[][] = [['gap'], ['gap'], ['gap', 'phase-break'], ['phase-break'], ['phase-break'], []];
    const jump: Doubt[][] = [['phase-break'], ['phase-break'], []];
    for (const doubts of [...hole, ...jump, ['gap'] as Doubt[], [], ...jump])
      browser.analysis().say({ type: 'reading', reading: reading(doubts) });
    expect(engine.getState()).toMatchObject({ gaps: 2, jumps: 2 });
  });
});

describe('one microphone, whatever the page does', () => {
  it('asked twice, opens one', async () => {
    const browser = stubBrowser();
    const engine = new SoundEngine();
    void engine.start(MICROPHONE);
    void engine.start(MICROPHONE);
    await settle();
    expect(browser.asked).toHaveLength(1);
    await browser.grant();
    await engine.start(MICROPHONE);
    expect(browser.asked).toHaveLength(1);
  });

  it('a permission that comes after stop opens nothing', async () => {
    const browser = stubBrowser();
    const engine = new SoundEngine();
    void engine.start(MICROPHONE);
    await settle();
    engine.stop();
    const late = await browser.grant();
    expect(late.readyState).toBe('ended');
    expect(engine.getState().phase).toBe('stopped');
  });

  it('a stop while the first samples are awaited closes what was opened', async () => {
    const browser = stubBrowser({ readsTracks: true });
    let deliver = () => {};
    vi.stubGlobal(
      'Worker',
      class extends FakeWorker {
        override postMessage(message: never) {
          if (this.name !== 'track-reader.worker') super.postMessage(message);
          else deliver = () => this.say({ type: 'format', sampleRateHz: 48_000, channelCount: 2 });
        }
      },
    );
    const { engine, track } = await listening(browser);
    engine.stop();
    deliver();
    await settle();
    expect(track.readyState).toBe('ended');
    expect(engine.getState()).toMatchObject({ phase: 'stopped', capturePath: null });
  });

  it('start, stop, start leaves one track live: the second', async () => {
    const browser = stubBrowser();
    const engine = new SoundEngine();
    void engine.start(MICROPHONE);
    engine.stop();
    void engine.start(MICROPHONE);
    await browser.grant();
    await browser.grant();
    expect(browser.tracks.map((track) => track.readyState)).toEqual(['ended', 'live']);
    expect(engine.getState().phase).toBe('warming-up');
  });

  it('another device is opened by its exact id after the first has stopped', async () => {
    const browser = stubBrowser();
    const { engine, track } = await listening(browser);
    void engine.start({ kind: 'device', deviceId: 'interface' });
    await settle();
    expect(track.readyState).toBe('ended');
    expect(browser.asked[1]).toMatchObject({ audio: { deviceId: { exact: 'interface' } } });
  });

  it('snapshots are the same object until something changes', async () => {
    const browser = stubBrowser();
    const { engine } = await listening(browser);
    const before = engine.getState();
    const told = vi.fn();
    engine.subscribe(told);
    browser.analysis().say({ type: 'reading', reading: reading(['warming-up']) });
    engine.setOutput(null);
    expect(engine.getState()).toBe(before);
    expect(told).not.toHaveBeenCalled();
    engine.setOutput('speakers');
    expect(told).toHaveBeenCalledTimes(1);
  });
});

describe('each trouble says what happened and how to go on', () => {
  it.each([
    ['NotAllowedError', 'permission-refused'],
    ['NotFoundError', 'no-device'],
    ['OverconstrainedError', 'no-device'],
    ['NotReadableError', 'device-busy'],
  ])('%s is %s', async (name, kind) => {
    const browser = stubBrowser();
    const engine = new SoundEngine();
    void engine.start(MICROPHONE);
    await settle();
    await browser.refuse(name);
    const { phase, trouble } = engine.getState();
    expect(phase).toBe('stopped');
    expect(trouble).toMatchObject({ kind, canRetry: true });
    expect(trouble?.sentence).toMatch(/\.$/);
    expect(trouble?.goOn).toMatch(/\.$/);
  });

  it('a page that is not secure is told so before anything is asked', async () => {
    const browser = stubBrowser({ secure: false });
    const engine = new SoundEngine();
    await engine.start(MICROPHONE);
    expect(engine.getState().trouble?.kind).toBe('not-secure');
    expect(browser.asked).toHaveLength(0);
  });

  it('an unplugged input stops, and can be tried again', async () => {
    const browser = stubBrowser();
    const { engine, track } = await listening(browser);
    track.fire('ended');
    await settle();
    expect(engine.getState()).toMatchObject({ phase: 'stopped', trouble: { kind: 'unplugged' } });
    void engine.start(MICROPHONE);
    await browser.grant();
    expect(engine.getState()).toMatchObject({ phase: 'warming-up', trouble: null });
  });

  it('a device that leaves the list is unplugged, even if its track says nothing', async () => {
    const browser = stubBrowser();
    const { engine } = await listening(browser);
    browser.devices = [{ deviceId: 'other', kind: 'audioinput', label: 'Other', groupId: 'c' }];
    browser.mediaDevices.dispatchEvent(new Event('devicechange'));
    await settle();
    expect(engine.getState().trouble?.kind).toBe('unplugged');
  });

  it('a permission taken back is told apart from a pulled plug', async () => {
    const browser = stubBrowser();
    const { engine, track } = await listening(browser);
    Object.assign(navigator.permissions, { query: async () => ({ state: 'denied' }) });
    track.fire('ended');
    await settle();
    expect(engine.getState().trouble?.kind).toBe('permission-refused');
  });

  it('muted by the system: told, and gone again with the mute, measuring anew', async () => {
    const browser = stubBrowser();
    const { engine, track } = await listening(browser);
    track.fire('mute');
    expect(engine.getState().trouble?.kind).toBe('muted-by-system');
    track.fire('unmute');
    expect(engine.getState().trouble).toBeNull();
    expect(resets(browser)).toBe(1);
  });

  it.each([
    ['suspended', 'suspended'],
    ['interrupted', 'interrupted'],
  ])('a context that is %s', async (state, kind) => {
    const browser = stubBrowser();
    const { engine } = await listening(browser);
    const context = FakeContext.all.at(-1) as FakeContext;
    context.become(state);
    expect(engine.getState().trouble?.kind).toBe(kind);
    context.become('running');
    expect(engine.getState().trouble).toBeNull();
  });

  it('a context that says running while its clock stands still', async () => {
    const browser = stubBrowser();
    const { engine } = await listening(browser);
    await vi.advanceTimersByTimeAsync(1000);
    expect(engine.getState().trouble?.kind).toBe('interrupted');
    (FakeContext.all.at(-1) as FakeContext).currentTime = 5;
    await vi.advanceTimersByTimeAsync(1000);
    expect(engine.getState().trouble).toBeNull();
  });

  it('readings that cease for four seconds, though nothing reported an end', async () => {
    const browser = stubBrowser({ readsTracks: true });
    const { engine } = await listening(browser);
    for (let second = 0; second < 10; second++) {
      browser.analysis().say({ type: 'reading', reading: reading() });
      await vi.advanceTimersByTimeAsync(1000);
    }
    expect(engine.getState().trouble).toBeNull();
    await vi.advanceTimersByTimeAsync(3000);
    expect(engine.getState().trouble?.kind).toBe('interrupted');
  });

  it('a hidden page makes readings invalid, and measures anew once seen', async () => {
    const browser = stubBrowser();
    await listening(browser);
    browser.hide(true);
    expect(standingDoubts(browser)).toEqual(['page-hidden']);
    browser.hide(false);
    expect(standingDoubts(browser)).toEqual([]);
    expect(resets(browser)).toBe(1);
  });

  it('a browser that switches processing on under the open track is found out', async () => {
    const browser = stubBrowser();
    const { engine, track } = await listening(browser);
    track.settings.echoCancellation = true;
    track.fire('configurationchange');
    expect(standingDoubts(browser)).toEqual(['processing-on']);
    expect(engine.getState().granted?.echoCancellation).toBe(true);
  });

  it('a processor that throws is rebuilt once, then told', async () => {
    const browser = stubBrowser();
    const { engine, track } = await listening(browser);
    FakeWorkletNode.all[0]?.onprocessorerror?.();
    await settle();
    await browser.grant();
    expect(track.readyState).toBe('ended');
    expect(engine.getState()).toMatchObject({ phase: 'warming-up', trouble: null });
    FakeWorkletNode.all[1]?.onprocessorerror?.();
    await settle();
    expect(engine.getState()).toMatchObject({ phase: 'stopped', trouble: { kind: 'worklet-failed' } });
  });

  it('a rig that nobody provided is told, not thrown', async () => {
    stubBrowser();
    const engine = new SoundEngine();
    await engine.start({ kind: 'rig' });
    expect(engine.getState().trouble?.sentence).toContain('practice rig');
  });
});

describe('a WAV file as the source', () => {
  const file = { kind: 'file', file: new File([], 'take.wav'), loop: false } as const;
  const reader = () => FakeWorker.all.find((worker) => worker.name === 'file.worker') as FakeWorker;

  it('runs at the file’s own rate, with no warm-up and no doubt, and stops at its end', async () => {
    const browser = stubBrowser();
    const engine = new SoundEngine();
    void engine.start(file);
    await settle();
    reader().say({ type: 'opened', sampleRateHz: 96_000, channelCount: 1 });
    await settle();
    const attach = browser.analysis().told.find((message) => message.type === 'attach');
    expect(attach).toMatchObject({ sampleRateHz: 96_000, channelCount: 1, warmUpSeconds: 0 });
    expect(standingDoubts(browser)).toEqual([]);
    expect(engine.getState()).toMatchObject({ capturePath: 'direct', granted: null });
    reader().say({ type: 'ended' });
    expect(engine.getState()).toMatchObject({ phase: 'stopped', trouble: null });
    expect(reader().terminated).toBe(true);
  });

  it.each([false, true])('says what is wrong with it in its own words (already open: %s)', async (opened) => {
    stubBrowser();
    const engine = new SoundEngine();
    void engine.start(file);
    await settle();
    if (opened) reader().say({ type: 'opened', sampleRateHz: 48_000, channelCount: 1 });
    await settle();
    reader().say({ type: 'bad-file', sentence: 'Frame 3 is not a number.' });
    await settle();
    const { phase, trouble } = engine.getState();
    expect(phase).toBe('stopped');
    expect(trouble).toMatchObject({ kind: 'bad-file', sentence: 'Frame 3 is not a number.' });
  });
});

describe('pause and resume', () => {
  it('keeps the input, drops readings under way, and measures anew', async () => {
    const browser = stubBrowser({ readsTracks: true });
    const { engine, track } = await listening(browser);
    const heard = vi.fn();
    engine.onReading(heard);
    browser.analysis().say({ type: 'reading', reading: reading() });
    engine.pause();
    browser.analysis().say({ type: 'reading', reading: reading() });
    expect(heard).toHaveBeenCalledTimes(1);
    expect(engine.getState().phase).toBe('paused');
    await vi.advanceTimersByTimeAsync(10_000);
    expect(engine.getState().trouble).toBeNull();
    engine.resume();
    expect(resets(browser)).toBe(1);
    expect(track.readyState).toBe('live');
    browser.analysis().say({ type: 'reading', reading: reading() });
    expect(engine.getState().phase).toBe('running');
  });
});
