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

export async function run(): Promise<{ name: string; figures: Record<string, number> }> {
  const scope = await openWorkletScope();
  const pipe = new MessageChannel();
  scope.port.postMessage({ type: 'sink', port: pipe.port1 }, [pipe.port1]);
  await nextTurn();
  const inputs = [[quantumOf(0.5), quantumOf(-0.25)]];
  const quantaPerBlock = BLOCK_FRAMES / QUANTUM_FRAMES;
  const blocks = Math.floor((SECONDS * SAMPLE_RATE_HZ) / BLOCK_FRAMES);
  const spentMs = new Float64Array(blocks);
  let worstQuantumMs = 0;
  let missedFrames = 0;
  let frame = 0;
  for (let block = 0; block < blocks; block++) {
    for (let quantum = 0; quantum < quantaPerBlock; quantum++) {
      scope.setCurrentFrame(frame);
      frame += QUANTUM_FRAMES;
      const started = performance.now();
      scope.processor.process(inputs);
      const took = performance.now() - started;
      spentMs[block] = (spentMs[block] ?? 0) + took;
      if (block > WARM_BLOCKS) worstQuantumMs = Math.max(worstQuantumMs, took);
    }
    const received = receiveMessageOnPort(pipe.port2)?.message as BlockMessage | undefined;
    if (received) {
      missedFrames += received.facts.missedFrames;
      const { channels } = received;
      pipe.port2.postMessage(
        { type: 'recycle', channels },
        channels.map((channel) => channel.buffer),
      );
    }
    await nextTurn();
  }
  scope.port.close();
  pipe.port2.close();
  const usualMs = spentMs.slice(WARM_BLOCKS).sort()[(blocks - WARM_BLOCKS) >> 1]! / quantaPerBlock;
  const quantumMs = (1000 * QUANTUM_FRAMES) / SAMPLE_RATE_HZ;
  return {
    name: 'capture worklet, stereo, quanta of 128 at 44.1 kHz',
    figures: {
      usualMicrosecondsPerQuantum: 1000 * usualMs,
      sharePercentOfQuantum: (100 * usualMs) / quantumMs,
      // Includes posting the block, and whatever else the machine did at that moment.
      worstSharePercentOfQuantum: (100 * worstQuantumMs) / quantumMs,
      missedFrames,
    },
  };
}

/** Long enough for the engine to have compiled what it will compile. */
const WARM_BLOCKS = 100;

function quantumOf(value: number): Float32Array {
  return Float32Array.from({ length: QUANTUM_FRAMES }, (_, i) => value * Math.sin(i / 7));
}

const nextTurn = () => new Promise((resolve) => setImmediate(resolve));
