/**
 * What the analysis Worker does with each message, apart from being a Worker:
 * blocks in from a port, readings out, buffers back to whoever filled them.
 */
import { LiveAnalyser, type MakeWindowReader } from '../../dsp/live/live-analyser.ts';
import type { AnalysisCommand, AnalysisReport, BlockMessage, RecycleMessage } from '../blocks.ts';
import { SlabGatherer } from '../recording/slab-gatherer.ts';
import type { SlabMessage } from '../recording/slabs.ts';
import { TakeGatherer } from './take-gatherer.ts';

/** Share of the hop that analysis may take before readings are spaced out. */
const BUSY_SHARE = 0.6;
const NORMAL_HOP_SECONDS = 0.05;
const LONGEST_HOP_SECONDS = 0.5;

/** @param transfer buffers that go along instead of being copied */
type Report = (report: AnalysisReport, transfer?: ArrayBuffer[]) => void;

export class AnalysisHost {
  readonly #report: Report;
  readonly #makeReader: MakeWindowReader;
  readonly #nowMs: () => number;
  readonly #recycle: RecycleMessage = { type: 'recycle', channels: [] };
  readonly #transfer: ArrayBuffer[] = [];
  #analyser: LiveAnalyser | null = null;
  #source: { sampleRateHz: number; channelCount: number } | null = null;
  #port: MessagePort | null = null;
  #taking: TakeGatherer | null = null;
  #recording: SlabGatherer | null = null;
  #pending: Omit<Extract<AnalysisCommand, { type: 'configure' }>, 'type'> = {};

  constructor(report: Report, makeReader: MakeWindowReader, nowMs: () => number) {
    this.#report = report;
    this.#makeReader = makeReader;
    this.#nowMs = nowMs;
  }

  obey(command: AnalysisCommand): void {
    if (command.type === 'attach') this.#attach(command);
    else if (command.type === 'configure') this.#configure(command);
    else if (command.type === 'reset') this.#analyser?.reset();
    else if (command.type === 'take') this.#beginTake(command);
    else if (command.type === 'drop-take') this.#loseTake('It was stopped.');
    else if (command.type === 'record') this.#beginRecord(command.port);
    else if (command.type === 'end-record') this.#endRecord(null);
    else this.#detach();
  }

  #attach(command: Extract<AnalysisCommand, { type: 'attach' }>): void {
    this.#detach();
    const { sampleRateHz, channelCount, band, warmUpSeconds } = command;
    const expectedHz = this.#pending.expectedHz ?? null;
    const options = { sampleRateHz, channelCount, band, warmUpSeconds, expectedHz };
    this.#analyser = new LiveAnalyser(options, this.#makeReader);
    this.#analyser.configure(this.#pending);
    this.#source = { sampleRateHz, channelCount };
    this.#report({ type: 'attached' });
    this.#port = command.port;
    this.#port.onmessage = (event: MessageEvent<BlockMessage>) => this.#take(event.data);
  }

  /** What is asked for also holds for the next source. */
  #configure(command: Extract<AnalysisCommand, { type: 'configure' }>): void {
    const { type: _, ...change } = command;
    this.#pending = { ...this.#pending, ...change };
    this.#analyser?.configure(change);
  }

  #beginTake({ id, frames, fromFrame }: Extract<AnalysisCommand, { type: 'take' }>): void {
    this.#loseTake('Another recording was begun.');
    if (this.#source === null) {
      this.#report({ type: 'take-lost', id, sentence: 'Nothing is heard: open an input first.' });
      return;
    }
    this.#taking = new TakeGatherer({ id, frames, fromFrame, ...this.#source });
  }

  #beginRecord(port: MessagePort): void {
    this.#endRecord('Another recording was begun.');
    if (this.#source === null) {
      const end: SlabMessage = { type: 'end', sentence: 'Nothing is heard: open an input first.' };
      port.postMessage(end);
      return;
    }
    this.#recording = new SlabGatherer(port, this.#source.sampleRateHz, this.#source.channelCount);
  }

  #endRecord(sentence: string | null): void {
    this.#recording?.end(sentence);
    this.#recording = null;
  }

  #gather(block: BlockMessage): void {
    this.#recording?.push(block);
    const taking = this.#taking;
    if (taking === null || this.#source === null || !taking.push(block)) return;
    this.#taking = null;
    const take = {
      sampleRateHz: this.#source.sampleRateHz,
      ...taking.finish(this.#pending.standingDoubts ?? []),
    };
    this.#report(
      { type: 'take', id: taking.id, take },
      take.channels.map((channel) => channel.buffer),
    );
  }

  #loseTake(sentence: string): void {
    if (this.#taking !== null) this.#report({ type: 'take-lost', id: this.#taking.id, sentence });
    this.#taking = null;
  }

  #take(block: BlockMessage): void {
    const analyser = this.#analyser;
    if (analyser === null) return;
    const startedMs = this.#nowMs();
    try {
      this.#gather(block);
      const reading = analyser.push(block);
      if (reading !== null) this.#report({ type: 'reading', reading });
    } catch (error) {
      this.#detach();
      this.#report({ type: 'failed', sentence: error instanceof Error ? error.message : String(error) });
      return;
    }
    this.#giveBack(block.channels);
    this.#keepPace(analyser, (this.#nowMs() - startedMs) / 1000);
  }

  #giveBack(channels: Float32Array<ArrayBuffer>[]): void {
    this.#recycle.channels = channels;
    this.#transfer.length = 0;
    for (const channel of channels) this.#transfer.push(channel.buffer);
    this.#port?.postMessage(this.#recycle, this.#transfer);
  }

  /** On a slow machine readings come less often; blocks are never left out. */
  #keepPace(analyser: LiveAnalyser, tookSeconds: number): void {
    if (tookSeconds > BUSY_SHARE * analyser.hopSeconds)
      analyser.hopSeconds = Math.min(LONGEST_HOP_SECONDS, tookSeconds / BUSY_SHARE);
    else if (analyser.hopSeconds > NORMAL_HOP_SECONDS)
      analyser.hopSeconds = Math.max(NORMAL_HOP_SECONDS, 0.99 * analyser.hopSeconds);
  }

  #detach(): void {
    this.#loseTake('The input was closed.');
    this.#endRecord('The input was closed; what was recorded until then is kept.');
    this.#source = null;
    this.#port?.close();
    this.#port = null;
    this.#analyser = null;
  }
}
