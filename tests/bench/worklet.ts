/**
 * How much of a render quantum the capture worklet uses: the very file the
 * browser loads, run in Node, its buffers going round as they do live.
 */
import { MessageChannel, receiveMessageOnPort } from 'node:worker_threads';
import { BLOCK_FRAMES, type BlockMessage } from '../../src/audio/blocks.ts';
import { openWorkletScope } from '../unit/capture-worklet-scope.ts';

const QUANTUM_FRAMES = 128;
const SAMPLE_RATE_HZ = 44_100;
const SECONDS = 60;

/** Long enough for the engine to have compiled what it will compile. */
const WARM_BLOCKS = 100;

export async function run(): Promise<{ name: string; figures: Record<string, number> }> {
  const share = await shareOfQuantum();
  return {
    name: 'capture worklet, stereo, quanta of 128 at 44.1 kHz',
    figures: { ...share, heapBytesPerQuantum: await heapPerQuantum() },
  };
}

async function shareOfQuantum(): Promise<Record<string, number>> {
  const rig = await openRig(QUANTUM_FRAMES);
  const quantaPerBlock = BLOCK_FRAMES / QUANTUM_FRAMES;
  const blocks = Math.floor((SECONDS * SAMPLE_RATE_HZ) / BLOCK_FRAMES);
  const spentMs: number[] = [];
  for (let block = 0; block < blocks; block++) {
    const started = performance.now();
    for (let quantum = 0; quantum < quantaPerBlock; quantum++) rig.quantum();
    spentMs.push((performance.now() - started) / quantaPerBlock);
    await rig.giveBack();
  }
  rig.close();
  const sorted = spentMs.slice(WARM_BLOCKS).sort((a, b) => a - b);
  const usualMs = sorted[sorted.length >> 1] as number;
  const quantumMs = (1000 * QUANTUM_FRAMES) / SAMPLE_RATE_HZ;
  return {
    // Both hold their part of posting a block.
    usualMicrosecondsPerQuantum: 1000 * usualMs,
    sharePercentOfQuantum: (100 * usualMs) / quantumMs,
    // The slowest of a hundred blocks: collections of garbage, and what else the machine did, are in it.
    slowestPercentileSharePercent: (100 * (sorted[Math.floor(0.99 * sorted.length)] as number)) / quantumMs,
    missedFrames: rig.missedFrames(),
  };
}

/** Quanta of one frame leave 1024 calls between two posts, enough to see what a call leaves on the heap. */
async function heapPerQuantum(): Promise<number> {
  const rig = await openRig(1);
  const perQuantum: number[] = [];
  for (let block = 0; block < 2 * WARM_BLOCKS; block++) {
    const calls = BLOCK_FRAMES - 2;
    const nothing = heapBytes();
    const before = heapBytes();
    for (let call = 0; call < calls; call++) rig.quantum();
    const after = heapBytes();
    // Asking for the figure allocates too; two askings in a row say how much.
    if (block >= WARM_BLOCKS) perQuantum.push((after - before - (before - nothing)) / calls);
    rig.quantum();
    rig.quantum();
    await rig.giveBack();
  }
  rig.close();
  return perQuantum.sort((a, b) => a - b)[perQuantum.length >> 1] as number;
}

const heapBytes = () => process.memoryUsage().heapUsed;

async function openRig(quantumFrames: number) {
  const scope = await openWorkletScope();
  const pipe = new MessageChannel();
  scope.port.postMessage({ type: 'sink', port: pipe.port1 }, [pipe.port1]);
  // A port's first message takes longer than one turn to arrive.
  await new Promise((resolve) => setTimeout(resolve, 50));
  const inputs = [[quantumOf(0.5, quantumFrames), quantumOf(-0.25, quantumFrames)]];
  let frame = 0;
  let missedFrames = 0;
  return {
    quantum() {
      scope.setCurrentFrame(frame);
      frame += quantumFrames;
      scope.processor.process(inputs);
    },
    async giveBack() {
      const received = receiveMessageOnPort(pipe.port2)?.message as BlockMessage | undefined;
      if (received === undefined) throw new Error('The worklet posted no block after 1024 frames.');
      missedFrames += received.facts.missedFrames;
      const { channels } = received;
      pipe.port2.postMessage(
        { type: 'recycle', channels },
        channels.map((channel) => channel.buffer),
      );
      await nextTurn();
    },
    missedFrames: () => missedFrames,
    close() {
      scope.port.close();
      pipe.port2.close();
    },
  };
}

function quantumOf(value: number, frames: number): Float32Array {
  return Float32Array.from({ length: frames }, (_, i) => value * Math.sin((i + 1) / 7));
}

const nextTurn = () => new Promise((resolve) => setImmediate(resolve));
