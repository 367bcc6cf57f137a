/**
 * As much of a browser as the engine touches, under a test's control: inputs
 * that can be opened, refused, muted and unplugged; a context; Workers that
 * only note what they were told.
 */
import { vi } from 'vitest';
import type { AnalysisCommand, AnalysisReport } from '../../src/audio/blocks.ts';
import type { Doubt, LiveReading } from '../../src/dsp/reading.ts';

export class FakeTrack extends EventTarget {
  readonly kind = 'audio';
  label: string;
  readyState: 'live' | 'ended' = 'live';
  settings: Record<string, unknown>;

  constructor(deviceId: string, label: string) {
    super();
    this.label = label;
    this.settings = {
      deviceId,
      sampleRate: 48_000,
      channelCount: 2,
      echoCancellation: false,
      noiseSuppression: false,
      autoGainControl: false,
      voiceIsolation: false,
    };
  }

  getSettings() {
    return this.settings;
  }

  stop() {
    this.readyState = 'ended';
  }

  fire(type: string) {
    this.dispatchEvent(new Event(type));
  }
}

/** Stands for every Worker; the analysis one answers an attach as the real one does. */
export class FakeWorker {
  static all: FakeWorker[] = [];
  onmessage: ((event: { data: unknown }) => void) | null = null;
  onerror: ((event: { message: string }) => void) | null = null;
  readonly name: string;
  readonly told: AnalysisCommand[] = [];
  terminated = false;

  constructor(url: URL) {
    this.name = String(url)
      .replace(/^.*\//, '')
      .replace(/\.ts.*$/, '');
    FakeWorker.all.push(this);
  }

  postMessage(message: AnalysisCommand) {
    this.told.push(message);
    if (message.type === 'attach') queueMicrotask(() => this.say({ type: 'attached' }));
    if ((message.type as string) === 'open' && this.name === 'track-reader.worker')
      queueMicrotask(() => this.say({ type: 'format', sampleRateHz: 48_000, channelCount: 2 }));
  }

  say(message: AnalysisReport | Record<string, unknown>) {
    this.onmessage?.({ data: message });
  }

  terminate() {
    this.terminated = true;
  }
}

export class FakeContext extends EventTarget {
  static all: FakeContext[] = [];
  readonly sampleRate: number;
  state = 'running';
  currentTime = 0;
  readonly audioWorklet = { addModule: async () => {} };

  constructor(options?: { sampleRate?: number }) {
    super();
    this.sampleRate = options?.sampleRate ?? 44_100;
    FakeContext.all.push(this);
  }

  createMediaStreamSource() {
    return { connect() {}, disconnect() {} };
  }

  async resume() {}

  async close() {
    this.state = 'closed';
  }

  become(state: string) {
    this.state = state;
    this.dispatchEvent(new Event('statechange'));
  }
}

export class FakeWorkletNode {
  static all: FakeWorkletNode[] = [];
  onprocessorerror: (() => void) | null = null;
  readonly port = { postMessage() {} };

  constructor() {
    FakeWorkletNode.all.push(this);
  }
}

export interface FakeBrowser {
  tracks: FakeTrack[];
  asked: MediaStreamConstraints[];
  /** Answers the oldest request that is still open. */
  grant(track?: FakeTrack): Promise<FakeTrack>;
  refuse(name: string): Promise<void>;
  devices: { deviceId: string; kind: string; label: string; groupId: string }[];
  mediaDevices: EventTarget;
  hide(hidden: boolean): void;
  analysis(): FakeWorker;
}

/** Installs the fakes as globals; `vi.unstubAllGlobals()` takes them away. */
export function stubBrowser({ readsTracks = false, secure = true } = {}): FakeBrowser {
  FakeWorker.all = [];
  FakeContext.all = [];
  FakeWorkletNode.all = [];
  const open: { resolve(stream: unknown): void; reject(error: unknown): void }[] = [];
  const browser: FakeBrowser = {
    tracks: [],
    asked: [],
    devices: [
      { deviceId: 'line', kind: 'audioinput', label: 'Line', groupId: 'a' },
      { deviceId: 'speakers', kind: 'audiooutput', label: 'Speakers', groupId: 'b' },
    ],
    mediaDevices: new EventTarget(),
    async grant(track = new FakeTrack('line', 'Line')) {
      browser.tracks.push(track);
      open.shift()?.resolve({ getAudioTracks: () => [track], getTracks: () => [track] });
      await settle();
      return track;
    },
    async refuse(name) {
      open.shift()?.reject(new DOMException('refused', name));
      await settle();
    },
    hide(hidden) {
      page.visibilityState = hidden ? 'hidden' : 'visible';
      page.dispatchEvent(new Event('visibilitychange'));
    },
    analysis() {
      const worker = FakeWorker.all.find((each) => each.name === 'analysis.worker');
      if (worker === undefined) throw new Error('The engine made no analysis Worker.');
      return worker;
    },
  };
  const page = Object.assign(new EventTarget(), { visibilityState: 'visible' });
  Object.assign(browser.mediaDevices, {
    getUserMedia: (constraints: MediaStreamConstraints) => {
      browser.asked.push(constraints);
      return new Promise((resolve, reject) => open.push({ resolve, reject }));
    },
    enumerateDevices: async () => browser.devices,
  });
  vi.stubGlobal('isSecureContext', secure);
  vi.stubGlobal('document', page);
  vi.stubGlobal('navigator', {
    userAgent: 'Chrome',
    mediaDevices: secure ? browser.mediaDevices : undefined,
    permissions: { query: async () => ({ state: 'granted' }) },
  });
  vi.stubGlobal('AudioContext', FakeContext);
  vi.stubGlobal('AudioWorkletNode', FakeWorkletNode);
  vi.stubGlobal('MediaStream', class {});
  vi.stubGlobal('Worker', FakeWorker);
  if (readsTracks)
    vi.stubGlobal(
      'MediaStreamTrackProcessor',
      class {
        readable = {};
      },
    );
  return browser;
}

/** Lets every promise that is ready come to its end. */
export async function settle(): Promise<void> {
  for (let turn = 0; turn < 20; turn++) await Promise.resolve();
}

/** A reading with these doubts, and nothing else of interest. */
export function reading(doubts: Doubt[] = []): LiveReading {
  return {
    endFrame: 8192,
    windowFrames: 8192,
    sampleRateHz: 48_000,
    grade: doubts.length === 0 ? 'valid' : 'invalid',
    doubts,
    motion: 'steady',
    channelIdentity: 'mono',
    channels: [],
  };
}
